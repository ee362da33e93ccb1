"""What the crew writes into the log for a line of the work list, and how little it must type."""
