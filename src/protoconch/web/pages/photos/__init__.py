"""Photos: one is added to an entry, and looked at."""
