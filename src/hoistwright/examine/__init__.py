"""Readings and looks, held against the rulings in force: verdicts that explain themselves."""
