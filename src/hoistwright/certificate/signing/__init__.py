"""Keys, signatures and their verification: who signed a paper, and that nothing was changed."""
