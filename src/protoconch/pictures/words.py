"""Numbers, days and odds as a person says them."""

from datetime import date

from protoconch.units import text
from protoconch.words import Said, begun, day_text, phrase, say

MONTHS: tuple[Said, ...] = tuple(day_text(date(2000, month, 1), "%B") for month in range(1, 13))
_TENS = (
    phrase("none in ten"), phrase("one in ten"), phrase("two in ten"), phrase("three in ten"),
    phrase("four in ten"), phrase("five in ten"), phrase("six in ten"), phrase("seven in ten"),
    phrase("eight in ten"), phrase("nine in ten"), phrase("ten in ten"),
)  # fmt: skip


def counted(number: float) -> Said:
    """A whole number with thousands separators: 1,200."""
    return _number(number, ",.0f")


def about(number: float, digits: int = 2) -> Said:
    """A forecast number to as many digits as it deserves: 62,000, 1,310 (digits 3), 48.

    digits: digits that count; numbers below 100 are shown whole, below 1 as 0.
    """
    if abs(number) < 100:
        return _number(number, ".0f")
    step = 10 ** max(0, len(f"{abs(number):.0f}") - digits)
    return _number(round(number / step) * step, ",.0f")


def amount(number: float) -> Said:
    """A measured amount: whole from 100, one decimal below, two below 1, none needless."""
    shown = f"{number:.{_decimals(number)}f}"
    kept = shown.rstrip("0").partition(".")[2] if "." in shown else ""
    return _number(number, f",.{len(kept)}f")


def measured(number: float, unit: str) -> str:
    """An amount, as precise as `amount` shows it, with a unit that the reader may read in another.

    unit: one of `protoconch.units`.
    """
    return text(rounded(number), unit)


def _decimals(number: float) -> int:
    return 0 if abs(number) >= 100 else 1 if abs(number) >= 1 else 2


def rounded(number: float) -> float:
    """A number as precise as it is shown."""
    return round(number, _decimals(number))


def _number(number: float, form: str) -> Said:
    return Said.of("{number:" + form + "}", {"number": number})


def day_written(day: date) -> Said:
    """31 October 2028."""
    return day_text(day, "%-d %B %Y")


def day_short(day: date) -> Said:
    """31 Oct 2028."""
    return day_text(day, "%-d %b %Y")


def month_written(day: date) -> Said:
    """October 2028."""
    return day_text(day, "%B %Y")


def month_short(day: date) -> Said:
    """Oct."""
    return day_text(day, "%b")


def odds_said(odds: float, asked: float | None = None) -> Said:
    """Odds inside a sentence: "eight in ten", or "76 in 100" where tenths would mislead.

    odds: probability, 0 to 1. asked: confidence asked; words never round across it.
    """
    if odds > 0.995:
        return say("more than 99 in 100")
    if odds < 0.005:
        return say("less than 1 in 100")
    tenths = round(odds * 10)
    near = abs(odds - tenths / 10) <= 0.025 and 0 < tenths < 10
    crosses = asked is not None and (odds >= asked) != (tenths / 10 >= asked)
    if near and not crosses:
        return say(_TENS[tenths])
    return say("{hundredths} in 100", hundredths=_hundredths(odds, asked))


def odds_written(odds: float, asked: float | None = None) -> str:
    """The same at the beginning of a sentence: "Eight in ten"."""
    return begun(odds_said(odds, asked))


def percent(odds: float, asked: float | None = None) -> Said:
    """Odds as a whole percentage, never rounded across the confidence asked or to certainty."""
    if odds < 0.005:
        return say("under 1\N{NO-BREAK SPACE}%")
    if 0.995 < odds < 1:
        return say("over 99\N{NO-BREAK SPACE}%")
    return Said.of("{percent}\N{NO-BREAK SPACE}%", {"percent": _hundredths(odds, asked)})


def _hundredths(odds: float, asked: float | None) -> int:
    whole = round(odds * 100)
    if asked is not None and (odds >= asked) != (whole / 100 >= asked):
        return whole - 1 if odds < asked else whole + 1
    return whole


_UNITS = {"1": "", "m2": "m²", "cm2": "cm²", "um": "µm", "per cm2": phrase("per cm²")}


def unit_written(unit: str) -> Said:
    """A unit as people write it: m² for m2; nothing for a plain number."""
    return say(_UNITS.get(unit, unit))


def one_in(part: float, whole: float) -> Said:
    """A share as "1 in 160"; "none" where the part is nothing."""
    if part <= 0 or whole <= 0:
        return say("none")
    if whole / part >= 1.95:
        return say("1 in {number}", number=about(whole / part))
    return Said.of("{percent:.0f} %", {"percent": 100 * part / whole})
