"""The invented season of the invented hatchery, told as if it had been lived."""
