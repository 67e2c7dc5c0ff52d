"""Papers: report of examination, job sheets, strip and rebuild sheets, quote, signed certificate.

Data in, PDF bytes out. Nothing here decides: what is printed was computed before.
"""
