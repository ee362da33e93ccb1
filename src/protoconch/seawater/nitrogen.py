"""Nitrogen and the compounds that kits show instead of it."""

from protoconch.errors import UnknownName
from protoconch.seawater.ranges import within
from protoconch.words import phrase, say

GRAMS_PER_MOLE_N = 14.0067
COMPOUNDS = {"NH3": 17.0305, "NH4": 18.0385, "NO2": 46.0055, "NO3": 62.0049}
"""Molar masses (IUPAC atomic weights) [g/mol]."""


def compound_mg_l(nitrogen_mg_l: float, compound: str) -> float:
    """A compound's content from that of its nitrogen [mg/L].

    nitrogen_mg_l: as nitrogen [mg N/L]. compound: NH3, NH4, NO2 or NO3.
    Raises: UnknownName; BadInput or OutOfRange.
    Source: molar masses.
    """
    return within(phrase("the nitrogen"), nitrogen_mg_l, 0.0, 1e6, "mg/L") * _ratio(compound)


def nitrogen_mg_l(content_mg_l: float, compound: str) -> float:
    """The nitrogen in a compound that a kit shows [mg N/L]; the way back from compound_mg_l."""
    return within(phrase("the content"), content_mg_l, 0.0, 1e6, "mg/L") / _ratio(compound)


def _ratio(compound: str) -> float:
    if compound not in COMPOUNDS:
        raise UnknownName(
            say(
                "There is no {compound!r} here; there are {join}.",
                compound=compound,
                join=", ".join(COMPOUNDS),
            )
        )
    return COMPOUNDS[compound] / GRAMS_PER_MOLE_N
