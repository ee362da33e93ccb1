"""The units of the trade: how people write them, and what each is in the units library."""

import re
from difflib import get_close_matches
from functools import cache

WORDS = """
meter: m metre metres meter meters
centimeter: cm centimetre centimetres centimeter centimeters
millimeter: mm millimetre millimetres millimeter millimeters
micrometer: µm um micron microns micrometre micrometres micrometer micrometers
kilometer: km kilometre kilometres kilometer kilometers
inch: in inch inches " ″
foot: ft foot feet ' ′
yard: yd yard yards
hectare: ha hectare hectares
liter: L l litre litres liter liters
milliliter: mL ml cc millilitre millilitres milliliter milliliters
microliter: µL µl uL ul microlitre microlitres microliter microliters
kiloliter: kL kl
gallon: US_gal US_gals US_gallon US_gallons gal gals gallon gallons
quart: US_qt US_quart US_quarts qt quart quarts
pint: US_pt US_pint US_pints pt pint pints
fluid_ounce: US_fl_oz US_fluid_ounce US_fluid_ounces fl_oz fluid_ounce fluid_ounces
imperial_gallon: imp_gal imp_gals imp_gallon imp_gallons
imperial_quart: imp_qt imp_quart imp_quarts
imperial_pint: imp_pt imp_pint imp_pints
imperial_fluid_ounce: imp_fl_oz imp_fluid_ounce imp_fluid_ounces
gram: g gram grams gramme grammes
kilogram: kg kilo kilos kilogram kilograms
milligram: mg mg_N milligram milligrams
microgram: µg ug microgram micrograms
nanogram: ng nanogram nanograms
picogram: pg picogram picograms
tonne: t tonne tonnes
pound: lb lbs pound pounds
ounce: oz ounce ounces
second: s sec secs second seconds
minute: min mins minute minutes
hour: h hr hrs hour hours
day: d day days
week: wk week weeks
month: month months
year: y yr yrs year years
mole: mol mole moles eq
millimole: mmol millimole millimoles meq
micromole: µmol umol micromole micromoles µeq ueq
nanomole: nmol
molar: M
millimolar: mM
micromolar: µM uM
nanomolar: nM
pascal: Pa
kilopascal: kPa
hectopascal: hPa
bar: bar bars
millibar: mbar
atmosphere: atm
psi: psi
mmHg: mmHg
watt: W watt watts
milliwatt: mW
microwatt: µW uW
kilowatt: kW
horsepower: hp
joule: J joule joules
millijoule: mJ
kilowatt_hour: kWh
degC: °C degC deg_C celsius
degF: °F degF deg_F fahrenheit
kelvin: K kelvin
percent: % percent
permille: ‰ ppt
ppm: ppm
count: 1 cell cells animal animals larva larvae egg eggs juvenile juveniles count counts
psu: psu practical practical_salinity
gram/deciliter: %_w/v
gallon/minute: gpm
gallon/hour: gph
liter/minute: lpm
liter/hour: lph
"""
"""On the left what the units library calls it, on the right every way of writing it, with an
underscore for a space inside a word. What is not here is refused, so that a slip such as ML for
mL, a million times as much, is never taken."""

ONLY_FOR = {
    "degC": {"c": "degC", "f": "degF", "deg": "degC", "°": "degC", "ºc": "degC", "ºf": "degF"},
    "psu": {"‰": "psu", "ppt": "psu", "g/kg": "psu", "%o": "psu", "pss": "psu"},
    "gram/deciliter": {"%": "gram/deciliter", "%w/v": "gram/deciliter"},
    "milligram/liter": {"ppm": "milligram/liter"},
    "microgram/liter": {"ppm": "milligram/liter"},
}
"""Words that mean a unit only where that kind of quantity is asked for; small letters."""

COUNTRIES = (
    (r"\b(u\.?s\.?( liquid)?|american) ?(?=(gal|qt|quart|pt|pint|fl))", "US "),
    (r"\b(imp\.?|imperial|u\.?k\.?|british) ?(?=(gal|qt|quart|pt|pint|fl))", "imp "),
    (r"^(\S.*) \((?:us|u\.s\.)\)$", r"US \1"),
    (r"^(\S.*) \((?:imp|imperial|uk)\.?\)$", r"imp \1"),
    (r"\bfl\. ?oz\.?", "fl oz"),
)
"""Ways of saying whose gallon it is, and how the table writes them."""


class UnknownUnit(ValueError):
    """A word that is no unit here; its text is the word, `near` the one that may be meant."""

    def __init__(self, word: str) -> None:
        """Look for the unit that may be meant."""
        super().__init__(word)
        same = [known for known in table() if known.lower() == word.lower()]
        near = same or get_close_matches(word, table(), n=1, cutoff=0.6)
        self.near = near[0] if near else ""


@cache
def table() -> dict[str, str]:
    """What the units library calls each word."""
    lines = (line.partition(": ") for line in WORDS.strip().splitlines())
    return {word.replace("_", " "): left for left, _, right in lines for word in right.split(" ")}


def library_unit(typed: str, asked: str = "") -> str:
    """The unit as an expression of the units library, the same for each way of writing it.

    typed: such as "US gal/min", "cells per mL", "mm²", "mg/g/h", "d-1"; asked: what the library
    calls the unit that is asked for, since "ppt" is a salinity only where one is asked for.
    Raises: UnknownUnit.
    """
    plain = re.sub(r"(^|\s+)per\s+", "/", typed.strip(), flags=re.IGNORECASE)
    plain = plain.replace("\u03bc", "µ")
    if meant := ONLY_FOR.get(asked, {}).get(plain.lower()):
        return meant
    if whole := _word(plain):
        return whole
    over, *under = plain.split("/")
    powers = [] if over.strip() in ("", "1") and under else _powers(over)
    powers += [(unit, -power) for group in under for unit, power in _powers(group)]
    if [power for _, power in powers] == [1, -1]:
        return f"{powers[0][0]}/{powers[1][0]}"
    return " * ".join(f"({unit})**{power}" for unit, power in powers)


def _powers(group: str) -> list[tuple[str, int]]:
    """The units of a product and the power of each: "mm2" or "µmol kg-1"."""
    if whole := _word(group.strip()):
        return [(whole, 1)]
    powers = []
    for piece in re.split(r"[*·]|\s+", group.strip()):
        match = re.fullmatch(r"(.*?[^\d^*-])(?:\^|\*\*)?(-?[1-4]|[²³])?", piece)
        unit = _word(match[1]) if match else None
        if match is None or unit is None:
            raise UnknownUnit(group.strip())
        power = {"²": 2, "³": 3}.get(match[2]) or int(match[2] or 1)
        powers.append((unit, power))
    return powers


def _word(typed: str) -> str | None:
    """What the units library calls this word, None where it is not in the table."""
    word = typed
    for form, meant in COUNTRIES:
        word = re.sub(form, meant, word, flags=re.IGNORECASE)
    if word in table() or len(word) < 3:
        return table().get(word)
    return {known.lower(): left for known, left in table().items() if len(known) > 2}.get(
        word.lower()
    )
