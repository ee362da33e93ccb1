"""Numbers, days and odds as a person says them."""

from datetime import date

MONTHS = (
    "January", "February", "March", "April", "May", "June",
    "July", "August", "September", "October", "November", "December",
)  # fmt: skip
_TENS = ("No", "One", "Two", "Three", "Four", "Five", "Six", "Seven", "Eight", "Nine", "Ten")


def counted(number: float) -> str:
    """A whole number with thousands separators: 1,200."""
    return f"{number:,.0f}"


def about(number: float, digits: int = 2) -> str:
    """A forecast number to as many digits as it deserves: 62,000, 1,310 (digits 3), 48.

    digits: digits that count; numbers below 100 are shown whole, below 1 as 0.
    """
    if abs(number) < 100:
        return f"{number:.0f}"
    step = 10 ** max(0, len(f"{abs(number):.0f}") - digits)
    return f"{round(number / step) * step:,.0f}"


def amount(number: float) -> str:
    """A measured amount: whole from 100, one decimal below, two below 1, none needless."""
    decimals = 0 if abs(number) >= 100 else 1 if abs(number) >= 1 else 2
    shown = f"{number:,.{decimals}f}"
    return shown.rstrip("0").rstrip(".") if "." in shown else shown


def day_written(day: date) -> str:
    """31 October 2028."""
    return f"{day.day} {MONTHS[day.month - 1]} {day.year}"


def day_short(day: date) -> str:
    """31 Oct 2028."""
    return f"{day.day} {MONTHS[day.month - 1][:3]} {day.year}"


def month_written(day: date) -> str:
    """October 2028."""
    return f"{MONTHS[day.month - 1]} {day.year}"


def odds_written(odds: float, asked: float | None = None) -> str:
    """Odds in words: "Eight in ten", or "76 in 100" where tenths would mislead.

    odds: probability, 0 to 1. asked: confidence asked; words never round across it.
    """
    if odds > 0.995:
        return "More than 99 in 100"
    if odds < 0.005:
        return "Less than 1 in 100"
    tenths = round(odds * 10)
    near = abs(odds - tenths / 10) <= 0.025 and 0 < tenths < 10
    crosses = asked is not None and (odds >= asked) != (tenths / 10 >= asked)
    if near and not crosses:
        return f"{_TENS[tenths]} in ten"
    return f"{_hundredths(odds, asked)} in 100"


def percent(odds: float, asked: float | None = None) -> str:
    """Odds as a whole percentage, never rounded across the confidence asked or to certainty."""
    if odds < 0.005:
        return "under 1\N{NO-BREAK SPACE}%"
    if 0.995 < odds < 1:
        return "over 99\N{NO-BREAK SPACE}%"
    return f"{_hundredths(odds, asked)}\N{NO-BREAK SPACE}%"


def _hundredths(odds: float, asked: float | None) -> int:
    whole = round(odds * 100)
    if asked is not None and (odds >= asked) != (whole / 100 >= asked):
        return whole - 1 if odds < asked else whole + 1
    return whole


_UNITS = {"1": "", "m2": "m²", "cm2": "cm²", "um": "µm", "per cm2": "per cm²"}


def unit_written(unit: str) -> str:
    """A unit as people write it: m² for m2; nothing for a plain number."""
    return _UNITS.get(unit, unit)


def one_in(part: float, whole: float) -> str:
    """A share as "1 in 160"; "none" where the part is nothing."""
    if part <= 0 or whole <= 0:
        return "none"
    return f"1 in {about(whole / part)}" if whole / part >= 1.95 else f"{100 * part / whole:.0f} %"


def listed(words: list[str]) -> str:
    """a, b and c."""
    return words[0] if len(words) == 1 else ", ".join(words[:-1]) + " and " + words[-1]
