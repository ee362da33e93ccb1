"""The ranges in which a formula of the water holds."""

from math import isfinite

from protoconch.errors import BadInput, OutOfRange


def within(
    name: str, value: float, low: float, high: float, unit: str = "", hint: str = ""
) -> float:
    """The value itself, where it is a number from low to high.

    name: how the value is called in a sentence.
    low, high: the range, ends included; high may be infinite [unit].
    hint: one more sentence that says what would be right.
    Raises: BadInput, where the value is not a number; OutOfRange, where it lies outside.
    """
    if not isfinite(value):
        shown = f"{name[:1].upper()}{name[1:]}"
        raise BadInput(f"{shown} is not a number; give it in {unit or 'plain figures'}.")
    if not low <= value <= high:
        raise OutOfRange(name, value, low, high, unit, hint)
    return value


def more_than_zero(name: str, value: float, unit: str = "") -> float:
    """The value itself, where it is a number above zero.

    Raises: BadInput, where it is not a number or is zero or less.
    """
    shown = f"{name[:1].upper()}{name[1:]}"
    if not isfinite(value):
        raise BadInput(f"{shown} is not a number; give it in {unit or 'plain figures'}.")
    if value <= 0:
        raise BadInput(f"{shown} is {value:g} {unit}".rstrip() + "; it must be more than 0.")
    return value
