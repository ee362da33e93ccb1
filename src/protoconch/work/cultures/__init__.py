"""The cultures that are there by the log: how each stands, and what the room's schedule makes."""
