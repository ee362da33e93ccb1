"""The first start: a few questions, and a plan for the hatchery they describe."""
