"""What can be changed in the season, as a form."""

from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from protoconch.pictures.season_words import as_in_log
from protoconch.season.answer import SeasonPlan
from protoconch.season.what_if import Change
from protoconch.web.shell.fields import Day, Measure, Whole, Words

FASTER = (
    (0.5, _("half as fast")),
    (0.75, _("a quarter slower")),
    (1.0, _("as believed")),
    (1.5, _("half as fast again")),
    (2.0, _("twice as fast")),
    (3.0, _("three times as fast")),
)
DYING = (
    ("egg", _("Eggs die")),
    ("veliger", _("Larvae die")),
    ("settling", _("Larvae fail at settling")),
    ("post-larva", _("Post-larvae die")),
    ("juvenile", _("Juveniles die")),
)
GROWING = tuple((times, words) for times, words in FASTER if 0.5 <= times <= 2.0)
WARMER = tuple((degrees, label) for degrees, label in (
    (-2.0, _("2 °C colder")), (-1.0, _("1 °C colder")), (0.0, _("as believed")),
    (1.0, _("1 °C warmer")), (2.0, _("2 °C warmer")),
))  # fmt: skip
MORE = tuple((n, label) for n, label in (
    (-2, _("2 fewer each")), (-1, _("1 fewer each")), (0, _("as planned")), (1, _("1 more each")),
    (2, _("2 more each")),
))  # fmt: skip
TARGET, ROOM = ("animals", "size_mm", "by"), ("algae_g", "nursery_m2", "egg_masses", "more_tanks")


class WhatIfForm(forms.Form):
    """The target, the room and the beliefs of a plan, each as planned until it is changed."""

    animals = Whole(1, 10_000_000, label=_("Juveniles asked"), required=False)
    size_mm = Measure("mm", 1, 300, label=_("Of this shell length"), required=False)
    by = Day(label=_("Ready by"), required=False)
    algae_g = Measure("g", 0, 1e6, label=_("Algae a day, dry"), required=False)
    nursery_m2 = Measure("m2", 0, 1e6, label=_("Nursery floor"), required=False)
    egg_masses = Whole(0, 1000, label=_("Egg masses permitted"), required=False)
    more_tanks = forms.TypedChoiceField(
        choices=MORE, coerce=int, empty_value="0", label=_("Larval tanks of the batches"),
        required=False,
    )  # fmt: skip

    def __init__(self, plan: SeasonPlan, data: Any = None) -> None:
        """The form for a plan; data: what was typed, None for the plan's own values."""
        room, target = plan.hatchery, plan.target
        first: dict[str, Any] = {
            "animals": target.animals, "size_mm": target.size_mm, "by": target.by,
            "algae_g": room.algae_dry_g_per_day, "nursery_m2": room.nursery_area_m2,
            "egg_masses": room.permit.egg_masses, "more_tanks": 0,
        }  # fmt: skip
        super().__init__(data=data, initial=first, auto_id="what-%s")
        self.tanks = {f"tanks-{i}": tank.name for i, tank in enumerate(room.larval_tanks)}
        self.trays = {f"trays-{i}": tray.name for i, tray in enumerate(room.trays)}
        counts = [tank.count for tank in room.larval_tanks]
        counts += [tray.count for tray in room.trays]
        for (name, kind), count in zip((self.tanks | self.trays).items(), counts, strict=True):
            noun = "" if name.startswith("trays") or "tank" in kind else " tanks"
            label = f"{kind}{noun or 's'}".capitalize()
            self.fields[name] = Whole(0, 1000, label=label, required=False, initial=count)
        for stage, words in DYING:
            self.fields[f"dying-{stage}"] = forms.TypedChoiceField(
                choices=FASTER, coerce=float, empty_value="1", label=words, initial=1.0,
                required=False,
            )  # fmt: skip

        for name, choices, words in (("growing", GROWING, _("Animals grow")),
                                     ("warmer", WARMER, _("The water is"))):  # fmt: skip
            planned = 1.0 if name == "growing" else 0.0
            self.fields[name] = forms.TypedChoiceField(
                choices=choices, coerce=float, empty_value=str(planned), label=words,
                initial=planned, required=False,
            )  # fmt: skip
        codes = [(batch.code, batch.code) for batch in as_in_log(plan).batches]
        self.fields["without"] = forms.ChoiceField(
            choices=[("", _("none")), *codes], label=_("Leave out batch"), required=False
        )

        slid = {"animals": 2.0 * target.animals, "algae_g": 3.0 * room.algae_dry_g_per_day,
                "nursery_m2": 3.0 * room.nursery_area_m2}  # fmt: skip
        for name, most in slid.items():
            self.fields[name].widget.attrs["data-slide-to"] = f"{most:g}"

    def as_typed(self) -> dict[str, Any]:
        """Every field as it stands when nobody has typed yet."""
        return {bound.name: bound.value() for bound in self}

    def part(self, *starts: str) -> list[forms.BoundField]:
        """The fields whose names begin so."""
        return [bound for bound in self if bound.name.startswith(starts)]

    @property
    def target_fields(self) -> list[forms.BoundField]:
        """What is asked."""
        return [self[name] for name in TARGET]

    @property
    def room_fields(self) -> list[forms.BoundField]:
        """What there is."""
        return [self[name] for name in (*ROOM, "without")] + self.part("tanks-", "trays-")

    @property
    def belief_fields(self) -> list[forms.BoundField]:
        """How they fare."""
        return [*self.part("dying-"), self["growing"], self["warmer"]]

    def change(self) -> Change:
        """What was changed; call after is_valid."""
        typed = self.cleaned_data

        def counts(of: dict[str, str]) -> dict[str, int]:
            return {kind: typed[name] for name, kind in of.items() if typed[name] is not None}

        return Change(
            **{name: typed[name] for name in (*TARGET, *ROOM[:3])},
            more_tanks=int(typed["more_tanks"]), tanks=counts(self.tanks), trays=counts(self.trays),
            dying={stage: float(typed[f"dying-{stage}"]) for stage, _label in DYING},
            growing=float(typed["growing"]), warmer_c=float(typed["warmer"]),
            without=(typed["without"],) if typed["without"] else (),
        )  # fmt: skip


class NameForm(forms.Form):
    """The name under which a changed season is kept."""

    name = Words(80, label=_("Keep it as"))
