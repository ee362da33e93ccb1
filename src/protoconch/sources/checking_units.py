"""The units in which the data files may give a number; few, so that a typing slip shows."""

from protoconch.words import phrase

SHARES = ("1", "%", "%/d", "%/cm", phrase("per cm"))
TIMES = (
    "d",
    "h",
    "min",
    "s",
    phrase("years"),
    phrase("per d"),
    phrase("per h"),
    phrase("per year"),
    "h/d",
    "min/d",
)
MASSES = ("pg", "ug", "mg", "g", "kg", "g/d", "mg/d", "mg/h", "mg/g/h")
LENGTHS = (
    "um",
    "mm",
    "cm",
    "m",
    "in",
    "um/d",
    "mm/d",
    "m/h",
    "m/s",
    phrase("per mm"),
    phrase("per m"),
)
AREAS = ("mm2", "cm2", "m2", phrase("per cm2"), phrase("per m2"), phrase("per ha"), "g/m2")
VOLUMES = (
    "mL",
    "L",
    "m3",
    "mL/L",
    "L/d",
    "L/min",
    "L/h",
    "m3/h",
    phrase("per mL"),
    phrase("per L"),
    phrase("per 10 m3"),
)
CONTENTS = ("ug/L", "mg/L", "g/L", "mg/L/d", "kg/m3", "uM", "mM", "umol/kg", "umol/L", "meq/L")
HEATS = ("°C", "K", "W", "kW", "kWh", "W/m2", "umol/m2/s", "mW/cm2", "mJ/cm2")
PRESSURES = ("Pa", "kPa", "MPa", "bar", "psi", "Pa s")
WATERWORKS = ("g/m2/d", "L/kWh", "psu", "hp")
ALGAE = (
    "um3",
    "lux",
    phrase("lux per umol/m2/s"),
    "g/mol",
    phrase("per mm2"),
    "kJ/kg/K",
    "kg/L",
    "min/L",
    "mg/mg",
)
MONEY = ("USD", "USD/kg", "USD/L")

UNITS = frozenset(
    SHARES
    + TIMES
    + MASSES
    + LENGTHS
    + AREAS
    + VOLUMES
    + CONTENTS
    + HEATS
    + PRESSURES
    + WATERWORKS
    + ALGAE
    + MONEY
)
"""Every unit a data file may use; "1" is a share, a ratio or a plain number."""
