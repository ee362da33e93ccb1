"""The water as it is now: what was read of it, and what follows from that."""
