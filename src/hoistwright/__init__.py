"""Hoistwright: examine, decide, rebuild and prove hand chain hoists and lever hoists."""

__version__ = "0.1.0"
