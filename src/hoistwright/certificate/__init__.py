"""Printed papers: the report of examination, blank job sheets, strip and rebuild sheets.

Data in, PDF bytes out. Nothing here decides: what is printed was computed before.
"""
