"""What each kind of entry must tell."""
