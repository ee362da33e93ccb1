"""The ranges in which a formula of the water holds."""

from math import isfinite

from protoconch.errors import BadInput, OutOfRange
from protoconch.words import begun, phrase, say

NOT_ABOVE = phrase("{name} is {value:g} {unit}; it must be more than 0.")
NOT_ABOVE_BARE = phrase("{name} is {value:g}; it must be more than 0.")


def within(
    name: str, value: float, low: float, high: float, unit: str = "", hint: str = ""
) -> float:
    """The value itself, where it is a number from low to high.

    name: how the value is called in a sentence; name, unit and hint are phrases of the program
        or said texts.
    low, high: the range, ends included; high may be infinite [unit].
    hint: one more sentence that says what would be right.
    Raises: BadInput, where the value is not a number; OutOfRange, where it lies outside.
    """
    _finite(name, value, unit)
    if not low <= value <= high:
        raise OutOfRange(name, value, low, high, unit, hint)
    return value


def more_than_zero(name: str, value: float, unit: str = "") -> float:
    """The value itself, where it is a number above zero.

    Raises: BadInput, where it is not a number or is zero or less.
    """
    _finite(name, value, unit)
    if value <= 0:
        raise BadInput(
            say(
                NOT_ABOVE if unit else NOT_ABOVE_BARE,
                name=begun(say(name)),
                value=value,
                unit=say(unit),
            )
        )
    return value


def _finite(name: str, value: float, unit: str) -> None:
    if not isfinite(value):
        raise BadInput(
            say(
                "{name} is not a number; give it in {unit}.",
                name=begun(say(name)),
                unit=say(unit or phrase("plain figures")),
            )
        )
