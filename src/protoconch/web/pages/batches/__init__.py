"""How each batch is doing: its story from egg mass to release."""
