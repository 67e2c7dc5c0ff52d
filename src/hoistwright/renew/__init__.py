"""What to renew while a hoist is open: must, pays, can wait; kit, quote, repair or scrap.

Pure functions on plain values. Money is in whole minor units (pence, cents).
"""
