"""What happened: every entry, found again, put right, and the place to add one of any kind."""
