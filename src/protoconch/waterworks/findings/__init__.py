"""What is wrong with a waterworks, ranked, each with its remedy."""
