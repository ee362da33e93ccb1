"""The counting bench: chambers, aliquots, and how sure a count is."""
