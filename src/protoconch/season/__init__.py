"""The season: the stage model, the plan found with it, and the odds it has."""
