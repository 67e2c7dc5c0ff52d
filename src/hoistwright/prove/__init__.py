"""Proving a rebuilt hoist: which tests, which weights, what was found, what may be wrong.

Pure engines on plain values. They advise; a named competent person decides and signs. The
maker's manual and the law of the place come first.
"""
