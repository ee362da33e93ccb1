"""The command line: each command reads what was typed, asks the core once and shows the answer."""
