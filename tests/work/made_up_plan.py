"""A made-up plan of a made-up hatchery, of any shape, with the hours that a season keeps free.

Not the season model: numbers fall by straight lines on a log scale, lengths follow the profile's
growth. The hours are put together the way the season does it, lot by lot and day by day.
"""

from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np

from protoconch.animals.profiles import species as profile
from protoconch.hatchery.description import (
    Genetics,
    Hatchery,
    LarvalTank,
    NurseryTank,
    Permit,
    Target,
    Tray,
)
from protoconch.season.answer import (
    Batch,
    BatchDates,
    DailyBatch,
    Forecast,
    Odds,
    SeasonPlan,
    Spread,
    TankUse,
)
from protoconch.work.hours import daily_hours, event_hours

FIRST_DAY = date(2027, 4, 1)


@dataclass(frozen=True)
class Shape:
    """One batch: day of collecting, days in each stage, its tanks (kind, number, litres)."""

    start: int = 0
    incubation: int = 4
    larval: int = 21
    on_trays: int = 38
    nursery: int = 300
    masses: int = 3
    trays: int = 4
    tanks: tuple[tuple[str, int, float], ...] = (("large", 1, 400.0), ("large", 2, 400.0))
    per_cm2: float = 0.5


def spread(value):
    return Spread(value * 0.6, value, value * 1.5, value * 1.05)


def floor_m2(animal, length_mm):
    """Floor for one animal of that shell length, by the profile's cover."""
    shares = [animal.number(f"cover.share_{mm}_mm") for mm in (5, 20, 75)]
    covered = np.interp(length_mm, (5, 20, 75), shares)
    return animal.number("cover.factor") * length_mm**2 / covered / 1e6


def grown_mm(animal, days):
    """Shell length so many days after settlement, by the profile's growth steps."""
    lengths, at = [animal.number("settlement.length_mm")], [0.0]
    for name in ("post_larva", "small_juvenile", "juvenile"):
        until = animal.number(f"{name}.until_mm")
        at.append(at[-1] + (until - lengths[-1]) / animal.number(f"{name}.growth_mm_d"))
        lengths.append(until)
    return np.interp(days, at, lengths)


def hatchery(species, regime):
    return Hatchery(
        name="Nowhere Cay practice hatchery",
        species=species.key,
        regime=regime,
        place="an island that does not exist",
        invented=True,
        temperature_c=(28.0,) * 12,
        larval_tanks=(LarvalTank("large", 6, 400.0), LarvalTank("small", 4, 200.0)),
        incubator_places=12,
        trays=(Tray("tray", 60, 3600.0),),
        nursery=(NurseryTank("raceway", 10, 3.5),),
        algae_dry_g_per_day=20.0,
        crew_hours=(9.0,) * 7,
        permit=Permit(60, tuple(range(1, 13)), "the north bank", "EX-0"),
        genetics=Genetics(1, 1.0),
        first_day=FIRST_DAY,
        last_day=FIRST_DAY + timedelta(days=150),
    )


def made_up_plan(*shapes, species="queen-conch", regime=None):
    """A plan with these batches, and the hours kept free on each day as its forecast's work_h."""
    shapes = shapes or (Shape(),)
    animal = profile(species)
    place = hatchery(animal, regime or animal.regimes[0])
    end = max(s.start + s.incubation + s.larval + s.on_trays + s.nursery for s in shapes)
    made = [_batch(chr(65 + i), shape, animal, end) for i, shape in enumerate(shapes)]
    batches = tuple(batch for batch, _ in made)
    lines = tuple(line for _, line in made)
    needs = [
        np.where(line.stage == 3, line.alive_p50 * floor_m2(animal, line.length_p50), 0.0)
        for line in lines
    ]
    kept = np.zeros(end + 1)
    for shape, batch, line in zip(shapes, batches, lines, strict=True):
        kept += _hours_kept(shape, batch, line)
    nothing = np.zeros(end + 1)
    total = np.sum(needs, axis=0)
    kept += [daily_hours("juvenile", 0.0, 0, m2) if m2 else 0.0 for m2 in total]
    ready = np.array([sum(batch.released.p50 for batch in batches)])
    forecast = Forecast(
        FIRST_DAY, lines, nothing, nothing, total * 0.6, total, total * 1.5, nothing, kept, ready
    )
    return SeasonPlan(
        hatchery=place,
        target=Target(500, 80.0, FIRST_DAY + timedelta(days=end), 0.8),
        feasible=True,
        odds=Odds(0.82, 0.004, 0.81, 10_000),
        expected=float(ready[0]),
        p10=0.0,
        p90=float(ready[0]) * 2,
        batches=batches,
        egg_masses=sum(shape.masses for shape in shapes),
        tanks=sum(len(shape.tanks) for shape in shapes),
        tray_area_cm2=0.0,
        nursery_m2=float(total.max()),
        work_hours=float(kept.sum()),
        limits=(),
        binding_limit="larval tanks",
        offers=(),
        notes=(),
        forecast=forecast,
        assumptions=(),
        seed=1,
    )


def _batch(code, shape, animal, end):
    hatch = shape.start + shape.incubation
    induce = hatch + shape.larval
    nursery = induce + shape.on_trays
    tanks = tuple(TankUse(*tank) for tank in shape.tanks)
    litres = sum(tank.litres for tank in tanks)
    steps = animal.steps("veliger.density")
    thin = [hatch + int(age) for age, _ in steps[1:] if hatch + age < induce]
    density = tuple(value.number for _, value in steps[: 1 + len(thin)])
    stocked = density[0] * litres
    competent = min(stocked * 0.3, density[-1] * litres)
    placed = min(competent, shape.trays * 3600.0 * shape.per_cm2)
    settled, entering, released = placed * 0.6, placed * 0.21, placed * 0.12
    day = np.arange(end + 1)
    knots = (shape.start, hatch, induce, induce + 1, nursery, max(end, nursery + 1))
    logs = np.log([stocked * 2, stocked, competent, settled, entering, released])
    alive = np.where(day >= shape.start, np.exp(np.interp(day, knots, logs)), 0.0)
    length = np.where(day >= induce, grown_mm(animal, np.maximum(day - induce, 0.0)), 0.3)
    length = np.where(day >= hatch, length, 0.0)
    stage = np.searchsorted([shape.start, hatch, induce, nursery], day, side="right") - 1
    line = DailyBatch(
        code, alive * 0.6, alive, alive * 1.5, length * 0.75, length, length * 1.3,
        stage.astype(np.int8),
    )  # fmt: skip
    on = [FIRST_DAY + timedelta(days=n) for n in (shape.start, hatch, induce, nursery, end)]
    dates = BatchDates(
        collect=on[0],
        hatch=on[1],
        thin=tuple(FIRST_DAY + timedelta(days=n) for n in thin),
        induce=on[2],
        tank_until=on[2] + timedelta(days=4),
        to_nursery=on[3],
        tray_until=on[3] + timedelta(days=10),
        ready=on[4],
        release=on[4],
    )
    batch = Batch(
        code=code,
        egg_masses=shape.masses,
        eggs=stocked * 2,
        share_of_mass=0.1,
        dates=dates,
        tanks=tanks,
        density_per_l=density,
        trays={"tray": shape.trays},
        stocked=spread(stocked),
        competent=spread(competent),
        settled=spread(settled),
        to_nursery=spread(entering),
        released=spread(released),
    )
    return batch, line


def _hours_kept(shape, batch, line):
    """Hours of a batch on each day, daily nursery work apart: its eggs and trip, and its lots."""
    hatch = shape.start + shape.incubation
    induce, end = hatch + shape.larval, len(line.stage) - 1
    nursery = induce + shape.on_trays
    kept = np.zeros(end + 1)
    kept[shape.start] += event_hours("collect", 0.0, 0, 0.0)
    kept[shape.start : hatch + 1] += daily_hours("egg", 0.0, 0, 0.0, masses=shape.masses)
    grown = np.flatnonzero((np.arange(end + 1) > induce) & (line.length_p50 >= 20.0))
    large = int(grown[0]) if grown.size else end + 1
    thin = [hatch + (day - batch.dates.hatch).days for day in batch.dates.thin]
    for tank in batch.tanks:
        part = tank.litres / batch.litres
        trays = shape.trays / len(batch.tanks)
        for day in range(hatch, min(induce, end + 1)):
            kept[day] += daily_hours("veliger", tank.litres, trays, 0.0)
        for day in range(induce, min(nursery, end + 1)):
            kept[day] += daily_hours("post-larva", tank.litres, trays, 0.0)
        events = [("stock", hatch), ("induce", induce), ("move", nursery), ("grade", large),
                  ("release", end), *(("thin", day) for day in thin)]  # fmt: skip
        for kind, day in events:
            if day <= end:
                animals = line.alive_p50[day] * part
                kept[day] += event_hours(kind, tank.litres, trays, animals)
    return kept
