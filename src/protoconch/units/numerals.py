"""The number at the start of what was typed: 1,200 or 1,5 or 1e6 or 3/4 or 2 million."""

import re
from dataclasses import dataclass

FORMS: tuple[tuple[str, dict[str, str]], ...] = (
    (r"\d*\.\d+|\d+\.?", {}),
    (r"[1-9]\d{0,2}(,\d{3})+(\.\d+)?", {",": ""}),
    (r"[1-9]\d{0,2}([ ']\d{3})+([.,]\d+)?", {" ": "", "'": "", ",": "."}),
    (r"[1-9]\d{0,2}(\.\d{3}){2,}(,\d+)?|[1-9]\d{0,2}(\.\d{3})+,\d+", {".": "", ",": "."}),
    (r"\d*,\d+", {",": "."}),
)
"""The forms of a number, first fit first, and how each becomes one that Python reads. A comma
before exactly three digits parts thousands, as it does in English; before any other number of
digits, or after a zero, it can only be a decimal comma."""

CHOSEN = re.compile(r"[1-9]\d{0,2},\d{3}")
"""A number that could be meant in two ways, so that the reader is told which was taken."""

FRACTION = re.compile(r"(?:(\d{1,6})[ -]+)?(\d{1,6})/(\d{1,6})(?![\d.,])")
POWER = re.compile(
    r"\s*(?:[eE]|[x×·*]\s*10(?=[\s^⁻⁰¹²³⁴⁵⁶⁷⁸⁹])\s*\^?\s*)([+-]?\d{1,4}|[⁻⁰¹²³⁴⁵⁶⁷⁸⁹]{1,5})(?![\d.,])"
)
RAISED = str.maketrans("⁻⁰¹²³⁴⁵⁶⁷⁸⁹", "-0123456789")
GREAT = {"thousand": 3, "million": 6}


@dataclass(frozen=True, slots=True)
class Numeral:
    """A number, what stands after it, and its digits where it can be meant in two ways."""

    value: float
    rest: str
    chosen: str = ""


def numeral(typed: str) -> Numeral | None:
    """The number that a text begins with; None where it begins with none."""
    text = re.sub(r"\s+", " ", typed.replace("\u2212", "-")).strip()
    sign, text = ("-", text[1:].lstrip()) if text[:1] == "-" else ("", text.removeprefix("+"))
    if fraction := FRACTION.match(text):
        whole, over, under = (int(part or 0) for part in fraction.groups())
        value = repr(whole + over / under) if under else ""
        digits, rest = fraction[0], text[fraction.end() :]
    else:
        digits = _digits(text)
        value, rest = _plain(digits), text[len(digits) :]
    if not value:
        return None
    if re.match(r"\^", rest) and digits == "10":
        value, rest = "1", " x 10" + rest
    power, rest = _power(rest)
    number = float(sign + (f"{value}e{power}" if "e" not in value else value))
    return Numeral(number, rest.strip(), digits if CHOSEN.fullmatch(digits) else "")


def _digits(text: str) -> str:
    """The longest run of digits and the marks between them."""
    run = re.match(r"\d[\d.,' ]*|[.,]\d+", text)
    return run[0].rstrip(" '") if run else ""


def _plain(digits: str) -> str:
    """The digits as Python reads them, empty where they make no number."""
    for form, changes in FORMS:
        if re.fullmatch(form, digits):
            return digits.translate({ord(old): new for old, new in changes.items()})
    return ""


def _power(rest: str) -> tuple[int, str]:
    """The power of ten that multiplies the number, and what stands after it."""
    power = 0
    if found := POWER.match(rest):
        power, rest = int(found[1].translate(RAISED)), rest[found.end() :]
    first, _, after = rest.strip().partition(" ")
    return (power + GREAT[first.lower()], after) if first.lower() in GREAT else (power, rest)
