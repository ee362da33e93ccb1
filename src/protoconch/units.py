"""What people type and what models use: "18 US gal/min" in, 68.1 L/min out, and back to words."""

import math
import re
from dataclasses import dataclass
from difflib import get_close_matches
from functools import cache
from typing import TYPE_CHECKING, Any

from protoconch.errors import BadInput, WrongUnit

if TYPE_CHECKING:
    import pint

WORDS = """
meter: m metre metres meter meters
centimeter: cm centimetre centimetres centimeter centimeters
millimeter: mm millimetre millimetres millimeter millimeters
micrometer: µm um micron microns micrometre micrometres micrometer micrometers
kilometer: km
inch: in inch inches ″
foot: ft foot feet ′
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
milligram: mg milligram milligrams
microgram: µg ug microgram micrograms
nanogram: ng
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
mole: mol mole moles
millimole: mmol eq/1000 meq
micromole: µmol umol µeq ueq
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
joule: J
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
"""The units of the trade: on the left how the units library calls them, on the right every way
in which they may be typed, a space inside a word written as an underscore."""

BARE_US = {"gallon": "gallon", "quart": "quart", "pint": "pint", "fluid_ounce": "fluid ounce"}
ONLY_FOR = {
    "degC": {"c": "degC", "f": "degF", "deg": "degC", "°": "degC", "ºc": "degC", "ºf": "degF"},
    "psu": {"‰": "psu", "ppt": "psu", "g/kg": "psu", "%o": "psu", "pss": "psu"},
    "gram/deciliter": {"%": "gram/deciliter", "%w/v": "gram/deciliter"},
    "milligram/liter": {"ppm": "milligram/liter"},
    "microgram/liter": {"ppm": "milligram/liter"},
}
"""Words that mean a unit only where that kind of quantity is asked for."""
LARGEST = 1e30


@dataclass(frozen=True, slots=True)
class Reading:
    """A value in the unit asked for, and how it was understood where there was a choice."""

    value: float
    notes: tuple[str, ...] = ()


def quantity(value: str | float, unit: str, name: str) -> float:
    """The number that was typed, in `unit`.

    value: a number, or a text such as "75 mm", "18 US gal/min", "1,5 L" or "3/4"; without a unit
        of its own it is in `unit`.
    unit: "L/min", "mm", "°C", "1" for a share or a number, "psu" for practical salinity,
        "% w/v" for the strength of a stock, "cells/mL" and so on.
    name: what the number is, in words, for the sentence that refuses it.
    Raises: BadInput where it is no finite number; WrongUnit where the unit is unknown or measures
        something else.
    """
    return read(value, unit, name).value


def read(value: str | float, unit: str, name: str) -> Reading:
    """As `quantity`, with a note where something typed can be read in two ways."""
    called = name[:1].upper() + name[1:]
    if isinstance(value, bool) or not isinstance(value, str | int | float):
        raise BadInput(f"{called} is {value!r}; give a number, {_example(unit)}.")
    if not isinstance(value, str):
        return Reading(_sound(float(value), str(value), called, unit))
    number, typed_unit, notes = _parts(value, called, unit)
    asked = _canonical(unit, "")
    typed = _canonical(typed_unit, asked, called, unit) if typed_unit else asked
    if typed != asked:
        number = _converted(number, typed, asked, called, typed_unit, unit)
    _sound(number, value, called, unit)
    return Reading(number, notes + _unit_notes(typed_unit, typed, asked))


def text(value: float, unit: str = "1", digits: int = 4) -> str:
    """A number for people: at least `digits` significant digits, thousands apart, and its unit.

    Whole thousands are never cut: 29,891 stays 29,891. Beyond 1e15 or under 1e-6 a power of ten.
    """
    shown = "" if unit in ("1", "") else f" {unit}"
    size = abs(value)
    if size and not 1e-6 <= size < 1e15:
        return f"{value:.{digits - 1}e}{shown}"
    after_point = 0 if size == 0 else max(0, digits - 1 - math.floor(math.log10(size)))
    number = f"{value:,.{after_point}f}"
    return (number.rstrip("0").rstrip(".") if "." in number else number) + shown


def _example(unit: str) -> str:
    return "for example 12" if unit == "1" else f"for example 12 {unit}"


def _sound(number: float, typed: str, called: str, unit: str) -> float:
    if not math.isfinite(number):
        raise BadInput(f"{called} is {typed}; give a finite number, {_example(unit)}.")
    if abs(number) > LARGEST:
        raise BadInput(f"{called} is {typed}, more than any hatchery holds; {_example(unit)}.")
    return number


# The forms of a number, and how each becomes one that Python reads. A comma before exactly three
# digits parts thousands, as it does in English; before any other number of digits, or after a
# zero, it can only be a decimal comma.
FORMS: tuple[tuple[str, dict[str, str]], ...] = (
    (r"\d*\.\d+|\d+\.?", {}),
    (r"[1-9]\d{0,2}(,\d{3})+(\.\d+)?", {",": ""}),
    (r"[1-9]\d{0,2}([ ']\d{3})+([.,]\d+)?", {" ": "", "'": "", ",": "."}),
    (r"[1-9]\d{0,2}(\.\d{3}){2,}(,\d+)?|[1-9]\d{0,2}(\.\d{3})+,\d+", {".": "", ",": "."}),
    (r"\d*,\d+", {",": "."}),
)
FRACTION = re.compile(r"(?:(\d+)[ -]+)?(\d+)/(\d+)(?![\d.,])")
POWER = re.compile(r"\s*(?:[eE]|[x×·*]\s*10\s*\^?\s*)([+-]?\d+|[⁻⁰¹²³⁴⁵⁶⁷⁸⁹]+)(?![\d.,])")
RAISED = str.maketrans("⁻⁰¹²³⁴⁵⁶⁷⁸⁹", "-0123456789")
GREAT = {"thousand": 1e3, "million": 1e6}


def _parts(typed: str, called: str, unit: str) -> tuple[float, str, tuple[str, ...]]:
    """The number, the unit typed after it, and a note where the number can be read in two ways."""
    rest = re.sub(r"[\s\u00a0\u2009\u202f]+", " ", typed.replace("\u2212", "-")).strip()
    if not rest:
        raise BadInput(f"{called} is empty; give a number, {_example(unit)}.")
    if len(rest) > 60:
        raise BadInput(f"{called} is too long to be a number; write it short, {_example(unit)}.")
    wrong = BadInput(f"{called} is {typed.strip()!r}, which is not a number; {_example(unit)}.")
    sign = -1.0 if rest[0] == "-" else 1.0
    rest = re.sub(r"^([+-]\s*)?(10\s*(?=\^))?", lambda m: "1x10" if m[2] else "", rest, count=1)
    notes: tuple[str, ...] = ()
    if fraction := FRACTION.match(rest):
        whole, over, under = (int(part or 0) for part in fraction.groups())
        if under == 0:
            raise wrong
        number, rest = whole + over / under, rest[fraction.end() :]
    else:
        run = re.match(r"\d[\d.,' ]*|[.,]\d+", rest)
        if run is None:
            raise wrong
        digits = run[0].rstrip(" '")
        found = _number(digits)
        if found is None:
            raise wrong
        number, rest = found, rest[len(digits) :]
        if re.fullmatch(r"\d{1,3},\d{3}", digits) and digits[0] != "0":
            notes = (f"{called}: {digits} was read as {number:g}, the comma parting thousands.",)
    if power := POWER.match(rest):
        number, rest = _raised(number, int(power[1].translate(RAISED))), rest[power.end() :]
    first, _, after = rest.strip().partition(" ")
    if first.lower() in GREAT:
        number, rest = number * GREAT[first.lower()], after
    return sign * number, rest.strip(), notes


def _number(digits: str) -> float | None:
    for form, changes in FORMS:
        if re.fullmatch(form, digits):
            return float(digits.translate({ord(old): new for old, new in changes.items()}))
    return None


def _raised(number: float, power: int) -> float:
    return float(f"{number!r}e{power}") if "e" not in repr(number) else number * 10.0**power


@cache
def _table() -> dict[str, str]:
    lines = (line.partition(": ") for line in WORDS.strip().splitlines())
    return {word.replace("_", " "): left for left, _, right in lines for word in right.split(" ")}


def _word(typed: str) -> str | None:
    """What the units library calls this word, None where nobody here does."""
    word = re.sub(r"\b(u\.?s\.?( liquid)?)(?=[ g])", "US", typed, flags=re.IGNORECASE)
    word = re.sub(r"\b(imp\.|imperial|uk|british|imp)(?=[ g])", "imp", word, flags=re.IGNORECASE)
    word = word.replace("\u03bc", "µ").replace("fl.", "fl").strip()
    word = re.sub(
        r"^(.*\S) \((US|imp|UK)\)$", lambda m: f"{m[2].replace('UK', 'imp')} {m[1]}", word
    )
    word = re.sub(r"^(US|imp)(?=gal)", r"\1 ", word)
    table = _table()
    if word in table:
        return table[word]
    lowered = {key.lower(): left for key, left in table.items() if len(key) > 2}
    return lowered.get(word.lower()) if len(word) > 2 else None


def _canonical(typed: str, asked: str, called: str = "", unit: str = "") -> str:
    """The unit as an expression of the units library; one text for each unit.

    Raises: WrongUnit for a word that is not a unit of the trade.
    """
    plain = re.sub(r"\s+per\s+|^per\s+", "/", typed.strip(), flags=re.IGNORECASE)
    for words, readings in ONLY_FOR.items():
        if asked == words and plain.lower() in readings:
            return readings[plain.lower()]
    if (whole := _word(plain)) is not None:
        return whole
    parts = []
    for place, group in enumerate(plain.split("/")):
        for piece in [group] if _word(group.strip()) else re.split(r"[*·]| (?=\S+$)", group):
            match = re.fullmatch(r"(.*?[^\d^*-])(?:\^|\*\*)?(-?[1-4]|[²³])?", piece.strip())
            if place == 0 and piece.strip() in ("", "1") and "/" in plain:
                continue
            left = _word(match[1].strip()) if match else None
            if match is None or left is None:
                raise WrongUnit(_unknown(piece.strip(), typed, called, unit))
            power = {"²": 2, "³": 3}.get(match[2]) or int(match[2] or 1)
            parts.append(f"({left})**{-power if place else power}")
    # One factor to the power of one is the plain unit, so that "mm" and "millimetres" are equal.
    joined = " * ".join(parts)
    single = re.fullmatch(r"\(([^()]*)\)\*\*1", joined)
    return single[1] if single else _as_ratio(parts)


def _as_ratio(parts: list[str]) -> str:
    simple = [re.fullmatch(r"\((\w+)\)\*\*(-?1)", part) for part in parts]
    if len(parts) == 2 and all(simple):
        (first, second) = (part for part in simple if part)
        if (first[2], second[2]) == ("1", "-1"):
            return f"{first[1]}/{second[1]}"
    return " * ".join(parts)


def _unknown(piece: str, typed: str, called: str, unit: str) -> str:
    near = get_close_matches(piece, _table(), n=1, cutoff=0.6)
    near = near or [key for key in _table() if key.lower() == piece.lower()][:1]
    hint = f" Did you mean {near[0]}?" if near else ""
    return f"{called}: {typed!r} is not a unit known here;{hint or ''} give it in {unit}."


@cache
def _registry() -> "pint.UnitRegistry[Any]":
    import pint  # half a second: only where a unit was typed that is not the unit asked for

    registry: pint.UnitRegistry[Any] = pint.UnitRegistry()
    registry.define("psu = [salinity]")
    return registry


def _converted(
    number: float, typed: str, asked: str, called: str, typed_unit: str, unit: str
) -> float:
    registry = _registry()
    import pint

    try:
        return float(registry.Quantity(number, typed).to(asked).magnitude)
    except pint.DimensionalityError:
        raise WrongUnit(
            f"{called} is typed in {typed_unit}, which measures something else;"
            f" give it in {'no unit' if unit == '1' else unit}{_alike(asked)}."
        ) from None
    except OverflowError:
        raise BadInput(f"{called} is more than any hatchery holds; {_example(unit)}.") from None


def _alike(asked: str) -> str:
    """Other words of the table that measure the same, for a sentence."""
    registry = _registry()
    kind = registry.Quantity(1, asked).dimensionality
    names = list(dict.fromkeys(left for left in _table().values() if left != asked))
    same = [left for left in names if registry.Quantity(1, left).dimensionality == kind]
    words = [next(word for word, left in _table().items() if left == name) for name in same[:3]]
    return f", or in a unit of its kind such as {', '.join(words)}" if words else ""


def _unit_notes(typed_unit: str, typed: str, asked: str) -> tuple[str, ...]:
    notes = []
    for name, word in BARE_US.items():
        told = re.search(r"\b(u\.?s\.?|imp\.?|imperial|uk|british)", typed_unit, re.IGNORECASE)
        if not told and re.search(rf"\b{name}\b", typed) and asked != typed:
            notes.append(
                f"A bare {word} is read as the US {word}; write 'imp' before an imperial one."
            )
    if "ppm" in typed_unit.lower() and typed == "milligram/liter":
        notes.append("ppm is read as mg/L.")
    return tuple(notes)
