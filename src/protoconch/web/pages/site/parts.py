"""The parts of a hatchery's description: what each says, its form, and what the form changes."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from typing import Any, NamedTuple

from django import forms as django_forms
from django.utils.functional import Promise
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from protoconch.hatchery.description import Hatchery, LarvalTank, NurseryTank, Permit, Target, Tray
from protoconch.pictures.words import MONTHS, day_written
from protoconch.records.models import Site
from protoconch.units import text
from protoconch.web.pages.site import forms
from protoconch.web.pages.site.algae_part import (
    algae_begin,
    algae_changed,
    algae_lines,
    kind_rows,
    line_rows,
)
from protoconch.words import joined, say

Typed = Mapping[str, Any]
Listed = Mapping[str, Sequence[Typed]]
Lines = list[tuple[Any, str]]


class Rows(NamedTuple):
    """Things of one kind in a part, a form for each. begin: those that are described now."""

    key: str
    title: Promise
    form: type[django_forms.Form]
    begin: Callable[[Hatchery], list[dict[str, Any]]]


class Part(NamedTuple):
    """One part. begin: what its form shows at first. changed: the hatchery as typed.

    lines: what the page says of it, pairs of words.
    """

    key: str
    title: Promise
    form: type[django_forms.Form] | None
    begin: Callable[[Hatchery, Site], dict[str, Any]]
    changed: Callable[[Hatchery, Typed, Listed], Hatchery]
    lines: Callable[[Hatchery], Lines]
    rows: tuple[Rows, ...] = ()


def _nothing(_hatchery: Hatchery, _site: Site) -> dict[str, Any]:
    return {}


def _where(hatchery: Hatchery, site: Site) -> dict[str, Any]:
    keys = ("name", "place", "species", "regime")
    return {key: getattr(hatchery, key) for key in keys} | {"zone": site.zone}


def _where_changed(hatchery: Hatchery, typed: Typed, _rows: Listed) -> Hatchery:
    return replace(hatchery, **{key: typed[key] for key in ("name", "place", "species", "regime")})


def _where_lines(hatchery: Hatchery) -> Lines:
    return [
        (_("Place"), hatchery.place),
        (_("Feeding"), str(say(hatchery.regime.replace("_", " ")))),
    ]


def _water(hatchery: Hatchery, _site: Site) -> dict[str, Any]:
    return {f"month_{number}": value for number, value in enumerate(hatchery.temperature_c)}


def _water_changed(hatchery: Hatchery, typed: Typed, _rows: Listed) -> Hatchery:
    return replace(hatchery, temperature_c=tuple(typed[f"month_{n}"] for n in range(12)))


def _water_lines(hatchery: Hatchery) -> Lines:
    year = hatchery.temperature_c
    ends = ((_("Coolest month"), min(year)), (_("Warmest month"), max(year)))
    return [(word, f"{_now(MONTHS[year.index(value)])}, {text(value, '°C')}")
            for word, value in ends]  # fmt: skip


def _tanks_changed(hatchery: Hatchery, typed: Typed, rows: Listed) -> Hatchery:
    return replace(
        hatchery,
        incubator_places=typed["places"],
        larval_tanks=tuple(LarvalTank(**row) for row in rows["larval_tanks"]),
        trays=tuple(Tray(**row) for row in rows["trays"]),
        nursery=tuple(NurseryTank(**row) for row in rows["nursery"]),
    )


def _tank_lines(hatchery: Hatchery) -> Lines:
    kinds: list[tuple[Any, Any, str, str]] = [
        (_("Larval tanks"), hatchery.larval_tanks, "litres", "L"),
        (_("Trays"), hatchery.trays, "area_cm2", "cm²"),
        (_("Nursery"), hatchery.nursery, "area_m2", "m²"),
    ]
    return [(_("Incubator"), f"{hatchery.incubator_places}"), *(
        (word, ", ".join(f"{each.count} × {text(getattr(each, size), unit)}" for each in listed))
        for word, listed, size, unit in kinds
    )]  # fmt: skip


def _crew(hatchery: Hatchery, _site: Site) -> dict[str, Any]:
    return {f"day_{number}": hours for number, hours in enumerate(hatchery.crew_hours)}


def _crew_changed(hatchery: Hatchery, typed: Typed, _rows: Listed) -> Hatchery:
    return replace(hatchery, crew_hours=tuple(typed[f"day_{n}"] for n in range(7)))


def _crew_lines(hatchery: Hatchery) -> Lines:
    return [(_("Hours of a week"), text(sum(hatchery.crew_hours), "h"))]


def _permit(hatchery: Hatchery, _site: Site) -> dict[str, Any]:
    allowed = hatchery.permit
    return {
        "egg_masses": allowed.egg_masses, "months": [str(month) for month in allowed.months],
        "area": allowed.area, "number": allowed.number,
        "min_masses": hatchery.genetics.min_masses,
        "max_share": 100 * hatchery.genetics.max_share,
    }  # fmt: skip


def _permit_changed(hatchery: Hatchery, typed: Typed, _rows: Listed) -> Hatchery:
    allowed = Permit(typed["egg_masses"], tuple(sorted(typed["months"])), typed["area"],
                     typed["number"])  # fmt: skip
    varied = replace(
        hatchery.genetics, min_masses=typed["min_masses"], max_share=typed["max_share"] / 100
    )
    return replace(hatchery, permit=allowed, genetics=varied)


def _permit_lines(hatchery: Hatchery) -> Lines:
    months = joined((_now(MONTHS[month - 1]) for month in hatchery.permit.months), ", ")
    return [(_("Egg masses"), f"{hatchery.permit.egg_masses}"), (_("Months"), months),
            (_("Where"), hatchery.permit.area), (_("Number"), hatchery.permit.number)]  # fmt: skip


def _target(hatchery: Hatchery, _site: Site) -> dict[str, Any]:
    season = {"first_day": hatchery.first_day, "last_day": hatchery.last_day}
    asked = hatchery.target
    if asked is None:
        return season
    return season | {"animals": asked.animals, "size_mm": asked.size_mm, "by": asked.by,
                     "confidence": 100 * asked.confidence}  # fmt: skip


def _target_changed(hatchery: Hatchery, typed: Typed, _rows: Listed) -> Hatchery:
    asked = Target(typed["animals"], typed["size_mm"], typed["by"], typed["confidence"] / 100)
    season = {"first_day": typed["first_day"], "last_day": typed["last_day"]}
    return replace(hatchery, target=asked, **season)


def _target_lines(hatchery: Hatchery) -> Lines:
    asked, season = (
        hatchery.target,
        f"{day_written(hatchery.first_day)} – {day_written(hatchery.last_day)}",
    )
    if asked is None:
        return [(_("Season"), season), (_("Target"), _now("none yet"))]
    what = f"{asked.animals:,} × {text(asked.size_mm, 'mm')}, {day_written(asked.by)}"
    return [(_("Season"), season), (_("Target"), what),
            (_("How sure"), text(100 * asked.confidence, "%"))]  # fmt: skip


def _listed(name: str, *keys: str) -> Callable[[Hatchery], list[dict[str, Any]]]:
    return lambda hatchery: [
        {key: getattr(each, key) for key in keys} for each in getattr(hatchery, name)
    ]


PARTS = (
    Part("target", _("Season and target"), forms.Target, _target, _target_changed, _target_lines),
    Part("permit", _("Permit"), forms.Permit, _permit, _permit_changed, _permit_lines),
    Part("tanks", _("Tanks, trays, nursery"), forms.Incubator,
         lambda hatchery, _site: {"places": hatchery.incubator_places}, _tanks_changed,
         _tank_lines, (
             Rows("larval_tanks", _("Larval tanks"), forms.Tank,
                  _listed("larval_tanks", "name", "count", "litres")),
             Rows("trays", _("Trays"), forms.Tray, _listed("trays", "name", "count", "area_cm2")),
             Rows("nursery", _("Nursery tanks"), forms.Nursery,
                  _listed("nursery", "name", "count", "area_m2")),
         )),
    Part("algae", _("Algae room"), forms.AlgaeRoom, lambda hatchery, _site: algae_begin(hatchery),
         algae_changed, algae_lines, (
             Rows("vessels", _("Vessels"), forms.AlgaeVessel, kind_rows),
             Rows("lines", _("Lines"), forms.AlgaeLine, line_rows),
         )),
    Part("crew", _("Crew"), forms.Crew, _crew, _crew_changed, _crew_lines),
    Part("water", _("Water temperature"), forms.Water, _water, _water_changed, _water_lines),
    Part("where", _("Name and place"), forms.Where, _where, _where_changed, _where_lines),
)  # fmt: skip


def part_of(key: str) -> Part | None:
    """The part of that key."""
    return next((part for part in PARTS if part.key == key), None)
