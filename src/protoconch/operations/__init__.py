"""What people do, one function each; what they do goes into the log."""
