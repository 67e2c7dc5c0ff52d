"""Price and stock lists as files: read, checked, and kept as text."""
