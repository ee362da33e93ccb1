"""What was seen and done: typed entries, never changed, and the state that follows from them."""
