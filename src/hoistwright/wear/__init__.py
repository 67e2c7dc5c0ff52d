"""Wear of a fleet over time: fit, forecast, next visit, simulated hoists, wrong releases.

Pure functions on plain values and arrays. `docs/wear.md` explains the mathematics.
"""
