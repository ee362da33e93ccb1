"""How a phone learns to trust the hatchery's own certificate."""
