"""A scene for each step of each kind of work."""

from protoconch.pictures.how_to.scenes.algae import ALGAE
from protoconch.pictures.how_to.scenes.juveniles import JUVENILES
from protoconch.pictures.how_to.scenes.larvae import LARVAE
from protoconch.pictures.how_to.scenes.settling import SETTLING
from protoconch.pictures.how_to.scenes.water import WATER

SCENES: dict[str, tuple[str, ...]] = {**LARVAE, **SETTLING, **JUVENILES, **ALGAE, **WATER}
"""Scenes by kind of work, in the order of its steps."""
