"""The bench: the pages at which a job is done."""
