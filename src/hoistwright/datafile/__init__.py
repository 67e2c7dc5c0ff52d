"""Checked reading of the project's TOML files: designs, bases, shop files, job sheets.

All faults of a file are found at once; each names file, line, key, what was read and
what is allowed.
"""

from hoistwright.datafile.load import load_file, load_text, read_table, structure_table

__all__ = ["load_file", "load_text", "read_table", "structure_table"]
