"""One visit of one hoist: who, what, which basis, and the shop it is done in."""
