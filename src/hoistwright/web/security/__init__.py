"""Passwords, cookies, tokens and headers."""
