"""The first questions, one form each; what makes sense is what the hatchery's file accepts."""

from typing import Any

from django import forms
from django.contrib.auth.password_validation import validate_password
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from protoconch.operations.first_description import first_answers
from protoconch.web.shell.fields import Day, Measure, Whole, Words
from protoconch.web.shell.hatchery_fields import (
    MONTH_CHOICES,
    count,
    measure,
    species_choices,
    zone_choices,
)

KINDS = (("warm", _("Warm")), ("mid", _("In between")), ("cool", _("Cool in winter")))


class Where(forms.Form):
    """The hatchery and its animal."""

    name = Words(label=_("What is the hatchery called?"))
    place = Words(
        label=_("Where does it stand?"), help_text=_("An island, a bay, a town: as people say it.")
    )
    zone = forms.ChoiceField(label=_("Time zone"), help_text=_("By this clock the days begin."))
    species = forms.ChoiceField(label=_("Which animal?"), initial="queen-conch")

    def __init__(self, *parts: Any, **named: Any) -> None:
        """Fill in the zones and the animals that are known."""
        super().__init__(*parts, **named)
        self.fields["zone"].choices = zone_choices()  # type: ignore[attr-defined]
        self.fields["species"].choices = species_choices()  # type: ignore[attr-defined]


class Water(forms.Form):
    """Mean temperature of each month: one of three usual years, or typed."""

    kind = forms.ChoiceField(
        label=_("How warm is the water?"), widget=forms.RadioSelect, initial="warm"
    )

    def __init__(self, *parts: Any, **named: Any) -> None:
        """Show the numbers of each usual year, and a field for each month."""
        super().__init__(*parts, **named)
        self.fields["kind"].choices = [  # type: ignore[attr-defined]
            *(
                (key, f"{word}: {_numbers(first_answers()['water'][key])} °C")
                for key, word in KINDS
            ),
            ("own", _("I know the months and type them below")),
        ]
        for number, month in MONTH_CHOICES:
            self.fields[f"month_{number}"] = measure(
                "water.temperature",
                month,
                required=False,
                initial=first_answers()["water"]["warm"][int(number) - 1],
            )

    def clean(self) -> dict[str, Any]:
        """The twelve temperatures [°C], as `temperatures`."""
        typed = super().clean() or {}
        kind = typed.get("kind")
        if kind and kind != "own":
            for name in [name for name in self.errors if name.startswith("month_")]:
                del self.errors[name]
            typed["temperatures"] = tuple(first_answers()["water"][kind])
        elif kind:
            year = [typed.get(f"month_{number}") for number, _month in MONTH_CHOICES]
            for number, value in enumerate(year, start=1):
                if value is None and f"month_{number}" not in self.errors:
                    self.add_error(f"month_{number}", _now("Give the mean of this month."))
            typed["temperatures"] = tuple(year)
        return typed


def _numbers(year: list[float]) -> str:
    return f"{min(year):g} – {max(year):g}"


class Tanks(forms.Form):
    """Incubator and larval tanks."""

    places = count(
        "incubator.places",
        _("Places in the incubator"),
        help_text=_("One egg mass lies in each until it hatches."),
    )
    count = count("larval_tanks.count", _("Larval tanks"))
    volume = measure(
        "larval_tanks.volume", _("Water in each"), help_text=_("Other sizes can be added later.")
    )


class Trays(forms.Form):
    """Settlement trays."""

    count = count("trays.count", _("Trays"))
    area = measure(
        "trays.area",
        _("Floor of each"),
        help_text=_("60 × 60 cm are 3600 cm²; “0.36 m2” may be typed as well."),
    )


class Nursery(forms.Form):
    """Nursery tanks."""

    count = count("nursery.count", _("Nursery tanks"))
    area = measure("nursery.area", _("Floor of each"))


class Algae(forms.Form):
    """Vessels of the algae room, small to large."""

    flasks = Whole(0, 200, label=_("Flasks"))
    flask_ml = Measure("mL", 1, 20_000, label=_("Culture in each"))
    bottles = Whole(0, 200, label=_("Bottles"))
    bottle_l = Measure("L", 0.01, 200, label=_("Culture in each"))
    carboys = Whole(0, 200, label=_("Carboys or columns"))
    carboy_l = Measure("L", 0.1, 5000, label=_("Culture in each"))
    dry_per_day = measure(
        "algae.dry_per_day",
        _("Most that larvae can be given in a day, as dry algae"),
        help_text=_("If you do not know it, leave it; the first counts will tell."),
    )

    def clean(self) -> dict[str, Any]:
        """The vessels; without any there is nothing to grow food in."""
        typed = super().clean() or {}
        if not self.errors and not any(typed[kind] for kind in ("flasks", "bottles", "carboys")):
            self.add_error("flasks", _now("Give at least one kind of vessel."))
        return typed


class Reservoir(forms.Form):
    """Stored seawater."""

    volume = Measure(
        "L",
        0,
        5_000_000,
        label=_("Seawater that the reservoir holds"),
        help_text=_("0 if water runs straight from the sea; “18 m3” may be typed."),
    )
    level = Measure("L", 0, 5_000_000, label=_("What is in it now"))
    daily_use = Measure("L/d", 0, 500_000, label=_("Used on a usual day"))
    fill_every = Whole(
        1,
        90,
        label=_("Days from one chance to fill to the next"),
        help_text=_("Tides, boats or crew decide this."),
    )

    def clean(self) -> dict[str, Any]:
        """The store; it cannot hold more than it holds."""
        typed = super().clean() or {}
        if not self.errors and typed["level"] > typed["volume"]:
            self.add_error("level", _now("More is in it than it holds; look at both numbers."))
        return typed


class Crew(forms.Form):
    """Hours of work."""

    weekday = Measure(
        "h",
        0,
        200,
        label=_("Hours of work on a weekday"),
        help_text=_("All hands together: three people for five hours are 15 h."),
    )
    weekend = Measure("h", 0, 200, label=_("Hours on Saturday and on Sunday, each"))

    def clean(self) -> dict[str, Any]:
        """The hours; somebody must work at some time."""
        typed = super().clean() or {}
        if not self.errors and not any(typed.values()):
            self.add_error("weekday", _now("On some day somebody must work."))
        return typed


class Permit(forms.Form):
    """What may be collected."""

    egg_masses = count("permit.egg_masses", _("Egg masses in a season"))
    months = forms.TypedMultipleChoiceField(
        label=_("In which months?"),
        coerce=int,
        choices=MONTH_CHOICES,
        widget=forms.CheckboxSelectMultiple,
        error_messages={"required": _("Touch at least one month.")},
    )
    area = Words(120, label=_("Where may they be collected?"))
    number = Words(
        label=_("Number of the permit"),
        help_text=_("“none yet” will do; collect nothing before you have it."),
    )

    def clean_months(self) -> tuple[int, ...]:
        """The months in order."""
        return tuple(sorted(self.cleaned_data["months"]))


class Target(forms.Form):
    """How many, how large, by when, how surely."""

    animals = count("target.animals", _("Healthy juveniles"))
    size = measure("target.size", _("Shell length"))
    by = Day(label=_("Handed over by"))
    confidence = Measure(
        "%", 1, 99.9, label=_("How sure must it be?"), help_text=_("80 % is eight seasons of ten.")
    )
    first_day = Day(label=_("Egg masses are collected from"))
    last_day = Day(label=_("to"))

    def clean(self) -> dict[str, Any]:
        """The target; the days must follow one another."""
        typed = super().clean() or {}
        if not self.errors:
            if typed["last_day"] < typed["first_day"]:
                self.add_error("last_day", _now("This day lies before the first one."))
            elif (typed["last_day"] - typed["first_day"]).days >= 366:
                self.add_error("last_day", _now("Plan one season: less than a year."))
            if typed["by"] <= typed["first_day"]:
                self.add_error("by", _now("The hand-over lies before the season has begun."))
        return typed


class Yourself(forms.Form):
    """The first manager."""

    name = Words(
        label=_("Your name"),
        help_text=_("As the log shall show it, and to sign in by."),
        widget=forms.TextInput(attrs={"autocomplete": "username"}),
    )
    password = forms.CharField(
        label=_("Password"),
        strip=False,
        max_length=200,
        help_text=_("At least 10 characters; three or four words of your own are good."),
        widget=forms.PasswordInput(attrs={"autocomplete": "new-password"}),
    )

    def clean_password(self) -> str:
        """The password, where it is hard enough to guess."""
        typed: str = self.cleaned_data["password"]
        validate_password(typed)
        return typed


class FirstCode(forms.Form):
    """The code that the server printed."""

    code = Words(
        200,
        label=_("Code that the program printed when it was started"),
        widget=forms.TextInput(attrs={"autocomplete": "off", "autocapitalize": "none"}),
    )
