"""What is kept: the log, the people, the description, and answers that may be made anew."""
