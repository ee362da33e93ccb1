"""Is the design sound: the hatchery as described, its water, and the forms that change it."""
