"""Strip and rebuild from one take-apart graph: pure engines on plain values."""
