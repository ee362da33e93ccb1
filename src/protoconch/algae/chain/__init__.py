"""The chain of cultures: what to start, pour on, feed and end, day by day, in which vessel."""
