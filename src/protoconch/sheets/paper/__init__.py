"""Sheets on paper, as PDF: large type, few lines, black on white, a code that opens the place."""
