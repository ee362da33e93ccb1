"""Seasons constructed so that one thing helps most; benchmarks/next_actions.py tries everything."""

from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from uuid import UUID

from protoconch.hatchery.reading import demo_hatchery
from protoconch.log.entry import Entry
from protoconch.log.kinds import kind
from protoconch.season.outlook.outlook import Known, outlook
from protoconch.season.outlook.update import PARTICLES
from tests.season.outlook.seasons import ASSUMED, CONCH, COUNTING, FIRST, on, plan

HOME = demo_hatchery()
Made = Callable[[int, int], Known]
"""From a seed and a number of particles to the outlook."""


def few(seed: int = 1, particles: int = PARTICLES) -> Known:
    """One batch of two tanks for more animals than it gives, and one day of collecting left."""
    here = replace(HOME, last_day=FIRST + timedelta(days=20))
    made = plan((18,), 2, 500, (2200, 40.0), here)
    return outlook(made, CONCH, (), on(8), seed, ASSUMED, COUNTING, particles=particles)


def hungry(seed: int = 1, particles: int = PARTICLES) -> Known:
    """Enough of everything but algae: in their last days the larvae get three quarters."""
    here = replace(HOME, algae_dry_g_per_day=0.45, last_day=FIRST + timedelta(days=20))
    made = plan((18, 46), 2, 450, (900, 40.0), here)
    return outlook(made, CONCH, (), on(2), seed, ASSUMED, COUNTING, particles=particles)


def fed_later(seed: int = 1, particles: int = PARTICLES) -> Known:
    """The same where one day in July is open too, when the larvae of the plan have settled."""
    here = replace(HOME, algae_dry_g_per_day=0.45, last_day=FIRST + timedelta(days=97),
                   permit=replace(HOME.permit, months=(4, 7)))  # fmt: skip
    made = plan((18, 46), 2, 450, (900, 40.0), here)
    return outlook(made, CONCH, (), on(2), seed, ASSUMED, COUNTING, particles=particles)


def late(seed: int = 1, particles: int = PARTICLES) -> Known:
    """Enough animals, but planned for so late that many are too small; collecting from June on."""
    here = replace(HOME, permit=replace(HOME.permit, months=(6, 7, 8), egg_masses=2))
    made = plan((74,), 2, 270, (400, 40.0), here)
    return outlook(made, CONCH, (), on(10), seed, ASSUMED, COUNTING, particles=particles)


def crowded(seed: int = 1, particles: int = PARTICLES) -> Known:
    """A tank counted dense two days before thinning, others free, the permit used up."""
    here = replace(HOME, permit=replace(HOME.permit, egg_masses=2))
    made = plan((4,), 1, 300, (700, 40.0), here)
    return outlook(made, CONCH, counted_dense(), on(12), seed, ASSUMED, COUNTING,
                   particles=particles)  # fmt: skip


SEASONS: dict[str, Made] = {
    "few": few,
    "hungry": hungry,
    "fed later": fed_later,
    "late": late,
    "crowded": crowded,
}


def counted_dense() -> list[Entry]:
    """Two masses collected, hatched and stocked in one tank; its larvae counted at 97 per litre."""
    made: list[Entry] = []

    def write(day: int, name: str, where: str, **told: object) -> None:
        at = datetime.combine(FIRST, datetime.min.time(), UTC)
        at += timedelta(days=day, hours=8, minutes=len(made))
        made.append(Entry(UUID(int=len(made) + 1), name, at, at, "crew A", where,
                          kind(name).payload.model_validate(told)))  # fmt: skip

    for mass in ("27A-1", "27A-2"):
        write(4, "egg mass collected", "", mass=mass)
    write(4, "incubator loaded", "incubator 1", batch="27A", masses=("27A-1", "27A-2"), eggs=80000)
    write(9, "hatched", "incubator 1", batch="27A")
    write(9, "stocked", "large tank 1", batch="27A", animals=40000, litres=400)
    write(12, "counted", "large tank 1", aliquots=(19, 21, 18, 20, 19), aliquot_ml=200, litres=400)
    return made
