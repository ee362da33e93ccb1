"""Sheets to write on without power: what each asks for, on paper and on the screen alike."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace

from django.utils.functional import Promise
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from protoconch.hatchery.vessels import Vessel
from protoconch.log.chambers import chambers
from protoconch.log.kinds import KINDS
from protoconch.log.payloads.water import QUANTITIES
from protoconch.log.state import State
from protoconch.work.entries.asked import Asked, blank

ANIMALS = ("larval tank", "tray", "nursery tank", "incubator")
WATER = ("reservoir", "loop", "larval tank", "nursery tank")
READ = ("temperature", "salinity", "oxygen", "pH", "level")
MOST_PLACES = 24


@dataclass(frozen=True, slots=True)
class Blank:
    """A blank sheet. letter: its rows' own. kinds: of vessel in which it is written.

    asked: the entries of a row. shares: widths of its columns beside each other.
    """

    slug: str
    letter: str
    name: Promise
    under: Promise
    kinds: tuple[str, ...]
    asked: Callable[[], tuple[Asked, ...]]
    shares: tuple[float, ...]

    def suits(self, vessel: Vessel) -> bool:
        """Whether it can be written of that vessel."""
        allowed = KINDS[self.asked()[0].kind].places or self.kinds
        return vessel.kind in self.kinds and vessel.kind in allowed


def in_use(sheet: Blank, vessels: Iterable[Vessel], present: State) -> tuple[str, ...]:
    """The places of a sheet that are in use, for its first rows."""
    used = set(present.holdings) | set(present.cultures)
    names = [
        v.name for v in vessels
        if sheet.suits(v) and (v.name in used or v.kind in ("reservoir", "loop"))
    ]  # fmt: skip
    return tuple(names) if len(names) <= MOST_PLACES else ()


def _counted() -> tuple[Asked, ...]:
    fields = (
        blank("counted", "aliquots", sort="whole", times=5, words=_("aliquots")),
        blank("counted", "aliquot_ml", words=_("one aliquot")),
        blank("counted", "litres", words=_("water in it")),
        blank("counted", "animals", sort="whole", words=_("or all of them")),
    )
    return (_all_may_be_empty(Asked("counted", "", {}, fields)),)


def _fed() -> tuple[Asked, ...]:
    fields = (
        blank("fed", "foods.0.food", sort="text", words=_("food")),
        blank("fed", "foods.0.litres", words=_("culture")),
        blank("fed", "foods.0.grams", words=_("or dry")),
        blank("fed", "left", words=_("share left of the last")),
    )
    return (_all_may_be_empty(Asked("fed", "", {"foods": [{}]}, fields)),)


def _read() -> tuple[Asked, ...]:
    named = {
        "temperature": _("temperature"), "salinity": _("salinity"), "oxygen": _("oxygen"),
        "pH": _("acidity, pH"), "level": _("level"),
    }  # fmt: skip
    return tuple(
        Asked("read", "", {"quantity": name}, (blank(
            "read", "value", words=named[name], needed=False,
            unit="" if QUANTITIES[name][0] == "1" else QUANTITIES[name][0],
        ),))
        for name in READ
    )  # fmt: skip


def _cultures() -> tuple[Asked, ...]:
    kind, known = "culture counted", tuple(chambers())
    fields = (
        blank(kind, "loadings", sort="whole", times=2, words=_("loadings")),
        blank(kind, "chamber", sort="choice", choices=known, value=known[0], words=_("chamber")),
        blank(kind, "dilution", words=_("dilution")),
        blank(kind, "cells_per_ml", unit="", times_si=1e6, words=_("or million cells in a mL")),
        blank(kind, "colour", sort="text", words=_("colour")),
    )
    return (_all_may_be_empty(Asked(kind, "", {}, fields)),)


def _lost() -> tuple[Asked, ...]:
    fields = (
        blank("lost", "animals", sort="whole", words=_("number lost")),
        blank("lost", "cause", sort="text", words=_("cause")),
    )
    return (_all_may_be_empty(Asked("lost", "", {}, fields)),)


def _all_may_be_empty(asked: Asked) -> Asked:
    """With no blank that must be filled: the log judges what was written."""
    return replace(asked, fields=tuple(replace(one, needed=False) for one in asked.fields))


SHEETS: Mapping[str, Blank] = {
    sheet.slug: sheet
    for sheet in (
        Blank("counts", "c", gettext_lazy("Counts"), gettext_lazy(
            "One row for each count: either each aliquot with its volume and the water in the"
            " tank, or the number of all animals."), ANIMALS, _counted, (3.2, 1.1, 1.1, 1.2)),
        Blank("feeding", "f", gettext_lazy("Feeding"), gettext_lazy(
            "One row for each food that was given: litres of a culture, or grams."),
            ANIMALS[:3], _fed, (2.4, 1, 1, 1.2)),
        Blank("water", "w", gettext_lazy("Water readings"), gettext_lazy(
            "One row for each place that was read; what was not read stays empty."),
            WATER, _read, (1, 1, 1, 1, 1)),
        Blank("cultures", "k", gettext_lazy("Culture counts"), gettext_lazy(
            "One row for each culture: the cells of each loading of the chamber, or the density"
            " where it was read."), ("algae vessel",), _cultures, (1.6, 1.6, 0.9, 1.2, 1.2)),
        Blank("losses", "d", gettext_lazy("Losses"), gettext_lazy(
            "One row for each find of dead or missing animals."), ANIMALS, _lost, (1, 3)),
    )
}  # fmt: skip
"""The blank sheets by their name in an address."""
