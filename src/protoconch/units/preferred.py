"""The units a site prefers to read and to type in: metric, or the US customary ones.

Inside, in the log and in files for other programs everything stays metric.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from protoconch.words import phrase

US_GAL_L = 3.785411784
OZ_G = 28.349523125
"""Exact by definition: NIST Special Publication 811 (2008), appendix B.8."""


@dataclass(frozen=True, slots=True)
class Shown:
    """How a unit is shown: value * factor + offset, in `unit`; `least` and above only."""

    unit: str
    factor: float
    offset: float = 0.0
    least: float = 0.0

    def of(self, value: float) -> float:
        """The value as it is shown."""
        return value * self.factor + self.offset

    def back(self, value: float) -> float:
        """The value again from what is shown."""
        return (value - self.offset) / self.factor


VOLUME = {
    # what is less than a litre is measured in the glass of the bench, which is marked in mL
    "L": Shown("US gal", 1 / US_GAL_L, least=1.0),
    "L/day": Shown("US gal/day", 1 / US_GAL_L),
    "L/d": Shown("US gal/d", 1 / US_GAL_L),
    "m³": Shown("US gal", 1000 / US_GAL_L),
}
FLOW = {
    "L/min": Shown("US gal/min", 1 / US_GAL_L),
    "L/h": Shown("US gal/h", 1 / US_GAL_L),
    "m³/h": Shown("US gal/min", 1000 / 60 / US_GAL_L),
}
TEMPERATURE = {"°C": Shown("°F", 1.8, 32.0)}
MASS = {
    "g": Shown("oz", 1 / OZ_G),
    "g/day": Shown("oz/day", 1 / OZ_G),
    "kg": Shown("lb", 1000 / OZ_G / 16),
}
QUANTITIES: Mapping[str, tuple[str, str, Mapping[str, Shown]]] = MappingProxyType(
    {
        "volume": (phrase("litres"), phrase("US gallons"), VOLUME),
        "flow": (phrase("L/min"), phrase("US gal/min"), FLOW),
        "temperature": ("°C", "°F", TEMPERATURE),
        "mass": (phrase("grams"), phrase("ounces"), MASS),
    }
)
"""What a site chooses: the metric way, the US way, and what the second shows for which unit."""

UNITS = tuple(
    phrase(unit) for unit in ("US gal", "US gal/day", "US gal/d", "US gal/min", "US gal/h")
)


def shown(unit: str, us: frozenset[str]) -> Shown | None:
    """How a metric unit is shown where a site reads those quantities (`us`) in US units."""
    for name in us:
        if name in QUANTITIES and unit in QUANTITIES[name][2]:
            return QUANTITIES[name][2][unit]
    return None


def measured(value: float, unit: str, us: frozenset[str]) -> tuple[float, str]:
    """A value and its unit as the site reads them."""
    found = shown(unit, us)
    if found is None or abs(value) < found.least:
        return value, unit
    return found.of(value), found.unit
