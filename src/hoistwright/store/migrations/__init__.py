"""Numbered SQL, applied in order and never changed afterwards."""
