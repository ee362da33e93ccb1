"""The animals: species, stages, growth, settlement, genetics."""
