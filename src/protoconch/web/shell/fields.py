"""Form fields for what people type: measures with a unit, whole numbers, words, days.

Each answers a wrong value with the sentence of the units, and keeps what was typed.
"""

from datetime import date
from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _

from protoconch.errors import BadInput, OutOfRange
from protoconch.units import quantity, text

DIGITS_KEPT = 12


class Measure(forms.CharField):
    """A number in a unit: "400", "400 L" or "105 US gal".

    unit: of the value that comes out. low, high: what is accepted, ends included.
    """

    def __init__(
        self, unit: str = "1", low: float = float("-inf"), high: float = float("inf"),
        keyboard: str = "decimal", **parts: Any,
    ) -> None:  # fmt: skip
        """A field with its limits; the rest as Django's CharField."""
        self.measure, self.low, self.high = unit, low, high
        self.unit = "" if unit == "1" else unit.replace("cm2", "cm²").replace("m2", "m²")
        super().__init__(max_length=60, **parts)
        self.widget.attrs |= {"inputmode": keyboard, "autocomplete": "off"}

    def prepare_value(self, value: Any) -> Any:
        """A number as a person would type it."""
        return text(value).replace(",", "") if isinstance(value, int | float) else value

    def clean(self, value: Any) -> Any:
        """The number in the field's unit, None where nothing was typed and nothing is needed."""
        typed = super().clean(value)
        if not typed:
            return None
        try:
            number = quantity(typed, self.measure, str(self.label or _("the value")))
            # what a change of unit adds in the last digits was never typed
            return self.sound(float(f"{number:.{DIGITS_KEPT}g}"))
        except BadInput as fault:
            raise ValidationError(str(fault)) from None

    def sound(self, number: float) -> float:
        """The number, where it lies within the limits."""
        if not self.low <= number <= self.high:
            name = str(self.label or _("the value"))
            raise OutOfRange(name, number, self.low, self.high, self.unit)
        return number


class Whole(Measure):
    """A whole number."""

    def __init__(self, low: float = 0, high: float = 1e9, **parts: Any) -> None:
        """A field for a count."""
        super().__init__("1", low, high, keyboard="numeric", **parts)

    def sound(self, number: float) -> float:
        """The number, where it is whole and within the limits."""
        if number != int(number):
            raise BadInput(_("Give a whole number, not %(typed)s.") % {"typed": text(number)})
        return int(super().sound(number))


class Words(forms.CharField):
    """A short text."""

    def __init__(self, most: int = 80, **parts: Any) -> None:
        """A field for that many characters."""
        super().__init__(max_length=most, **parts)


class Day(forms.DateField):
    """A day, by the browser's own calendar or typed as 2027-04-01."""

    widget = forms.DateInput(format="%Y-%m-%d", attrs={"type": "date"})

    def __init__(self, **parts: Any) -> None:
        """A field for a day from 2000 to 2100."""
        said = {"invalid": _("Give a day as year-month-day, for example 2027-04-01.")}
        super().__init__(input_formats=["%Y-%m-%d"], error_messages=said, **parts)

    def clean(self, value: Any) -> date | None:
        """The day."""
        found: date | None = super().clean(value)
        if found and not 2000 <= found.year <= 2100:
            raise ValidationError(_("Give a day from 2000 to 2100."))
        return found
