"""Will we make it, what limits it, and what if something were changed."""
