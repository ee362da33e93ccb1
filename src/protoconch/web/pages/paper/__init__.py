"""Paper: sheets to print, and the screens on which they are typed in."""
