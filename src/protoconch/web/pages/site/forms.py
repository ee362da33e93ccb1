"""Forms for the parts of a hatchery's description; the limits are those of its file."""

from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from protoconch.algae.species import known_algae
from protoconch.animals.profiles import species
from protoconch.pictures.words import MONTHS
from protoconch.web.shell.fields import Day, Measure, Whole, Words
from protoconch.web.shell.hatchery_fields import (
    MONTH_CHOICES,
    count,
    measure,
    species_choices,
    zone_choices,
)
from protoconch.words import begun, say

WEEKDAYS = (_("Monday"), _("Tuesday"), _("Wednesday"), _("Thursday"), _("Friday"), _("Saturday"),
            _("Sunday"))  # fmt: skip
DAY_CHOICES = [(str(number), name) for number, name in enumerate(WEEKDAYS)]


class Where(forms.Form):
    """Name, place, clock and animal."""

    name = Words(label=_("Name of the hatchery"))
    place = Words(120, label=_("Where it stands"))
    zone = forms.ChoiceField(label=_("Time zone"))
    species = forms.ChoiceField(label=_("Animal"))
    regime = forms.ChoiceField(label=_("How the larvae are fed"))

    def __init__(self, *parts: Any, **named: Any) -> None:
        """Fill in what is known."""
        super().__init__(*parts, **named)
        regimes = {regime for key, _name in species_choices() for regime in species(key).regimes}
        for name, choices in (
            ("zone", zone_choices()),
            ("species", species_choices()),
            ("regime", [(r, str(say(r.replace("_", " ")))) for r in sorted(regimes)]),
        ):
            self.fields[name].choices = choices  # type: ignore[attr-defined]


class Water(forms.Form):
    """Mean temperature of each month."""

    def __init__(self, *parts: Any, **named: Any) -> None:
        """A field for each month."""
        super().__init__(*parts, **named)
        for number, month in enumerate(MONTHS):
            self.fields[f"month_{number}"] = measure("water.temperature", _(month))


class Tank(forms.Form):
    """Larval tanks of one size."""

    name = Words(40, label=_("Called"))
    count = count("larval_tanks.count", _("How many"))
    litres = measure("larval_tanks.volume", _("Water in each"))


class Tray(forms.Form):
    """Trays of one size."""

    name = Words(40, label=_("Called"))
    count = count("trays.count", _("How many"))
    area_cm2 = measure("trays.area", _("Floor of each"))


class Nursery(forms.Form):
    """Nursery tanks of one size."""

    name = Words(40, label=_("Called"))
    count = count("nursery.count", _("How many"))
    area_m2 = measure("nursery.area", _("Floor of each"))


class Incubator(forms.Form):
    """Places for egg masses."""

    places = count("incubator.places", _("Places in the incubator"))


class Crew(forms.Form):
    """Hours of work of all hands together by weekday."""

    def __init__(self, *parts: Any, **named: Any) -> None:
        """A field for each weekday."""
        super().__init__(*parts, **named)
        for number, name in enumerate(WEEKDAYS):
            self.fields[f"day_{number}"] = Measure("h", 0, 2000, label=begun(str(name)))


class Permit(forms.Form):
    """What the permit allows, and what keeps the release varied."""

    egg_masses = count("permit.egg_masses", _("Egg masses in a season"))
    months = forms.TypedMultipleChoiceField(
        label=_("Months"), coerce=int, choices=MONTH_CHOICES, widget=forms.CheckboxSelectMultiple
    )
    area = Words(120, label=_("Where"))
    number = Words(label=_("Number of the permit"))
    min_masses = count("genetics.min_masses", _("Least number of egg masses for variety"))
    max_share = Measure("%", 0.1, 100, label=_("Most of the release from one egg mass"))


class Target(forms.Form):
    """Season and target."""

    first_day = Day(label=_("Egg masses are collected from"))
    last_day = Day(label=_("to"))
    animals = count("target.animals", _("Healthy juveniles"))
    size_mm = measure("target.size", _("Shell length"))
    by = Day(label=_("Handed over by"))
    confidence = Measure("%", 1, 99.9, label=_("How sure"))


class AlgaeRoom(forms.Form):
    """What holds for the whole algae room."""

    dry = measure("algae.dry_per_day", _("Most that larvae can be given in a day, as dry algae"))
    temperature = Measure("°C", 5, 40, label=_("Temperature of the room"))
    days_fed = Measure("%", 1, 100, label=_("Share of days fed, when cultures are lost"))
    no_start = forms.TypedMultipleChoiceField(
        label=_("Days on which nothing is inoculated"), coerce=int, choices=DAY_CHOICES,
        required=False, widget=forms.CheckboxSelectMultiple,
    )  # fmt: skip


class AlgaeVessel(forms.Form):
    """Vessels of one kind."""

    kind = Words(40, label=_("Called"))
    count = Whole(1, 200, label=_("How many"))
    litres = Measure("L", 0.001, 20_000, label=_("Culture in each"))
    spare = Whole(0, 20, label=_("Spare, each line"), required=False)


class AlgaeLine(forms.Form):
    """One species on its way from small vessels to large ones."""

    species = forms.ChoiceField(
        label=_("Species"), choices=[("", "–"), *((key, key) for key in known_algae())]
    )
    share = Measure("%", 0, 100, label=_("Share of its sort"))
    through = Words(200, label=_("Through, small to large"), help_text=_("flask, bottle, carboy"))


def _plain_number(label: Any, *, required: bool = True) -> forms.FloatField:
    typed = forms.TextInput(attrs={"inputmode": "decimal"})
    return forms.FloatField(label=label, required=required, widget=typed)


class OwnValue(forms.Form):
    """A number of the hatchery's own, in place of the profile's."""

    name = forms.ChoiceField(label=_("Which number"))
    value = forms.FloatField(
        label=_("Value"), widget=forms.TextInput(attrs={"inputmode": "decimal"})
    )
    low = forms.FloatField(label=_("Lowest"), required=False,
                           widget=forms.TextInput(attrs={"inputmode": "decimal"}))  # fmt: skip
    high = forms.FloatField(label=_("Highest"), required=False,
                            widget=forms.TextInput(attrs={"inputmode": "decimal"}))  # fmt: skip
    conditions = Words(200, label=_("When and how it was seen"), required=False)


class Written(forms.Form):
    """A description as text."""

    text = forms.CharField(
        label=_("The description as text"), required=False, strip=False, max_length=400_000,
        widget=forms.Textarea(attrs={"class": "code", "spellcheck": "false", "rows": 24,
                                     "autocapitalize": "none", "autocomplete": "off"}),
    )  # fmt: skip
    file = forms.FileField(label=_("Or a file of this computer"), required=False,
                           help_text=_("A .toml file, as it is downloaded here."))  # fmt: skip

    def clean_text(self) -> str:
        """The text with plain line ends."""
        typed: str = self.cleaned_data["text"]
        return typed.replace("\r\n", "\n").replace("\r", "\n")
