"""Labels for the hoist: serial, rated load, next due and the signed code."""
