"""What pages read."""
