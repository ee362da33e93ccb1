"""What to do now, how much, and the place to say what was seen."""
