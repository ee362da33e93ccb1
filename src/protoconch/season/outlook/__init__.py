"""The outlook: what a log makes of the odds, and what would help most."""
