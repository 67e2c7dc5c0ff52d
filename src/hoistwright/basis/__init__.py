"""Discard criteria as data: one folder per published source, one file per criterion."""
