"""What cleans the water: cartridges and ultraviolet light."""
