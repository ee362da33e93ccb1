"""Results as sheets that people read, print and hand on."""
