"""The waterworks as a net of places and parts, and the flows in it."""
