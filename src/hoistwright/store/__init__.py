"""The record: a journal that only grows, and tables made from it, on SQLite or PostgreSQL."""
