"""Water in pipes: size, friction, fittings, pumps, and where pump and line agree."""
