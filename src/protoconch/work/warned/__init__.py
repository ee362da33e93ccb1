"""What the log warns of, topic by topic."""
