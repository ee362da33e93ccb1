"""From the sea to the tank: pipes, pumps, cartridges, UV, reservoir, loops, and outages."""
