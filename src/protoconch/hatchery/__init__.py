"""The hatchery as its manager describes it."""
