"""Out and in: tables of everything, and tables taken into the log."""
