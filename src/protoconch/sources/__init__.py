"""Where the numbers come from: sourced values, references, published cases."""
