"""Results drawn as SVG text: the season's ribbons, the room, the futures, the lengths."""
