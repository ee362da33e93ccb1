"""What is told to others: the season, its work, its account."""
