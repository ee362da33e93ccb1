"""Seawater itself: density, viscosity, oxygen, ammonia, carbonate, salt, evaporation and heat."""
