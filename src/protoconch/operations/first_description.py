"""The hatchery that a newcomer's first answers describe."""

import tomllib
from collections.abc import Mapping
from datetime import date, timedelta
from functools import cache
from importlib.resources import files
from typing import Any, NamedTuple

from protoconch.animals.profiles import species
from protoconch.hatchery.description import (
    Genetics,
    Hatchery,
    LarvalTank,
    NurseryTank,
    Permit,
    Target,
    Tray,
)
from protoconch.hatchery.writing import hatchery_text

WEEKDAYS, WEEKEND = 5, 2
FLAGELLATE, DIATOM, FILM = "t-iso", "c-muelleri", "navicula"
"""The three lines that a first room starts from: food of two kinds, and film for the trays."""


class Season(NamedTuple):
    """Days between which egg masses are collected, and the day of the target."""

    first_day: date
    last_day: date
    by: date


@cache
def first_answers() -> Mapping[str, Any]:
    """What each question offers before anything is typed, by question and field."""
    return tomllib.loads(_file("first_answers.toml"))


def first_season(months: tuple[int, ...], today: date) -> Season:
    """The next season of a permit for those months (1 to 12), begun already or not.

    The season runs from the first month to the last month before the first gap.
    """
    start = next(m for m in months if (m - 2) % 12 + 1 not in months) if len(months) < 12 else 1
    length = next((n for n in range(1, 12) if (start + n - 1) % 12 + 1 not in months), 12)
    for year in (today.year - 1, today.year, today.year + 1):
        first, last = date(year, start, 1), _after(year, start, length) - timedelta(days=1)
        if last > today + timedelta(days=30):
            break
    later = first_answers()["target"]["months_after"]
    return Season(max(first, today), last, _after(last.year, last.month, later).replace(day=28))


def first_description(answers: Mapping[str, Mapping[str, Any]]) -> str:
    """The file of the hatchery that those answers describe.

    answers: by question and field, as the forms of the first questions give them.
    """
    water, tanks, crew = answers["water"], answers["tanks"], answers["crew"]
    where, permit, target = answers["where"], answers["permit"], answers["target"]
    profile = species(where["species"])
    described = Hatchery(
        name=where["name"], species=profile.key, regime=profile.regimes[0], place=where["place"],
        invented=False, temperature_c=water["temperatures"],
        larval_tanks=(LarvalTank("tank", tanks["count"], tanks["volume"]),),
        incubator_places=tanks["places"],
        trays=(Tray("tray", answers["trays"]["count"], answers["trays"]["area"]),),
        nursery=(NurseryTank("raceway", answers["nursery"]["count"], answers["nursery"]["area"]),),
        algae_dry_g_per_day=answers["algae"]["dry_per_day"],
        crew_hours=(crew["weekday"],) * WEEKDAYS + (crew["weekend"],) * WEEKEND,
        permit=Permit(permit["egg_masses"], permit["months"], permit["area"], permit["number"]),
        genetics=Genetics(
            min(int(profile.number("genetics.min_masses")), permit["egg_masses"]),
            profile.number("genetics.max_share"),
        ),
        first_day=target["first_day"], last_day=target["last_day"],
        target=Target(
            target["animals"], target["size"], target["by"], target["confidence"] / 100
        ),
        kept_lines=f"{_algae_room(answers['algae'])}\n{_waterworks(answers)}",
    )  # fmt: skip
    return hatchery_text(described)


def _algae_room(algae: Mapping[str, Any]) -> str:
    vessels = (
        ("flask", algae["flasks"], f"{algae['flask_ml']:g} mL"),
        ("bottle", algae["bottles"], f"{algae['bottle_l']:g} L"),
        ("carboy", algae["carboys"], f"{algae['carboy_l']:g} L"),
    )
    there = [(kind, count, size) for kind, count, size in vessels if count]
    through = ", ".join(f'"{kind}"' for kind, _, _ in there)
    lines = ["[algae_room]", 'temperature = "26.5 °C"', ""]
    for kind, count, size in there:
        lines += ["[[algae_room.vessels]]", f'kind = "{kind}"', f"count = {count}",
                  f'volume = "{size}"', ""]  # fmt: skip
    for alga in (FLAGELLATE, DIATOM, FILM):
        lines += ["[[algae_room.lines]]", f'species = "{alga}"', f"through = [{through}]", ""]
    return "\n".join([*lines, "[algae_room.spare]", f"{there[0][0]} = 1", ""]) if there else ""


def _waterworks(answers: Mapping[str, Mapping[str, Any]]) -> str:
    reservoir, year = answers["reservoir"], answers["water"]["temperatures"]
    if not reservoir["volume"]:
        return ""
    days = reservoir["daily_use"] * reservoir["fill_every"]
    return _file("first_waterworks.toml").format(
        temperature=f"{sum(year) / len(year):.1f}", volume=f"{reservoir['volume']:g}",
        level=f"{reservoir['level']:g}", daily_use=f"{reservoir['daily_use']:g}",
        fill_every=f"{reservoir['fill_every']:g}",
        reserve=f"{min(days, reservoir['volume'] / 2):g}",
    )  # fmt: skip


def _file(name: str) -> str:
    return files("protoconch.operations").joinpath(name).read_text("utf-8")


def _after(year: int, month: int, months: int) -> date:
    """The first day of the month that comes so many months later."""
    whole = year * 12 + month - 1 + months
    return date(whole // 12, whole % 12 + 1, 1)
