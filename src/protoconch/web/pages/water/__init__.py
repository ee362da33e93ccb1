"""Is the water safe, and will it last: the reservoir, the cartridges, the lamps, the loops."""
