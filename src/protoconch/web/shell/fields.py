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
from protoconch.web.shell.reading import as_shown, unit_typed, with_unit

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
        super().__init__(max_length=60, **parts)
        self.widget.attrs |= {"inputmode": keyboard, "autocomplete": "off"}

    @property
    def unit(self) -> str:
        """The unit beside the field, the one that the site prefers."""
        unit = "" if self.measure == "1" else unit_typed(self.measure)
        return unit.replace("cm2", "cm²").replace("m2", "m²")

    def prepare_value(self, value: Any) -> Any:
        """A number as a person would type it."""
        if not isinstance(value, int | float):
            return value
        return text(as_shown(value, self.measure)).replace(",", "")

    def clean(self, value: Any) -> Any:
        """The number in the field's unit, None where nothing was typed and nothing is needed."""
        typed = super().clean(value)
        if not typed:
            return None
        try:
            number = quantity(
                with_unit(typed, self.measure), self.measure, str(self.label or _("the value"))
            )
            # what a change of unit adds in the last digits was never typed
            return self.sound(float(f"{number:.{DIGITS_KEPT}g}"))
        except BadInput as fault:
            raise ValidationError(str(fault)) from None

    def sound(self, number: float) -> float:
        """The number, where it lies within the limits."""
        if not self.low <= number <= self.high:
            name = str(self.label or _("the value"))
            value, low, high = (
                as_shown(each, self.measure) for each in (number, self.low, self.high)
            )
            raise OutOfRange(name, value, low, high, self.unit)
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
