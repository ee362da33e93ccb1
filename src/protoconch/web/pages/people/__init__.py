"""People: coming in, going out, who may do what, on which devices."""
