"""The JSON API: the log, the state, the work and the plan for other programs."""
