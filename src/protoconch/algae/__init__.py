"""The algae room: species, growth, media, counts, rations, and the chain of cultures."""
