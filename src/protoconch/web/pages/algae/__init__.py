"""What to inoculate and harvest: the cultures, the next moves, the medium bench."""
