"""An invented season for the pictures and the report: a room, batches, numbers day by day.

Not the season model: a small stand-in with the same shape of answer, so that what is drawn can
be tested apart from what is computed. The hatchery and its numbers are made up.
"""

from datetime import date, timedelta
from functools import cache

import numpy as np

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
    Limit,
    Odds,
    Offer,
    SeasonPlan,
    Spread,
    TankUse,
)
from protoconch.sources.values import SourcedValue

FIRST_DAY = date(2027, 4, 1)
BY = date(2028, 10, 31)
DAYS = (BY - FIRST_DAY).days + 1
DRAWS = 1000
# day after hatch and share alive at the end of each stage, in the middle future
INDUCE, TO_NURSERY, RELEASE = 21, 60, 470
LARVAE, TRAY, NURSERY = 0.315, 0.21, 0.62


def target(animals=1200, confidence=0.8):
    return Target(animals=animals, size_mm=80.0, by=BY, confidence=confidence)


def hatchery(name="Nowhere Cay practice hatchery", asked=None):
    return Hatchery(
        name=name,
        species="queen-conch",
        regime="well_fed",
        place="Nowhere Cay, an island that does not exist",
        invented=True,
        temperature_c=(26.5, 26.5, 26.8, 27.4, 28.2, 28.9, 29.3, 29.5, 29.2, 28.6, 27.8, 27.0),
        larval_tanks=(LarvalTank("large", 6, 400.0), LarvalTank("small", 2, 200.0)),
        incubator_places=12,
        trays=(Tray("tray", 30, 3600.0),),
        nursery=(NurseryTank("round", 10, 3.5),),
        algae_dry_g_per_day=20.0,
        crew_hours=(9.0, 9.0, 9.0, 9.0, 9.0, 4.0, 4.0),
        permit=Permit(24, (4, 5, 6, 7, 8, 9), "the north bank", "EX-0"),
        genetics=Genetics(min_masses=15, max_share=0.15),
        first_day=FIRST_DAY,
        last_day=date(2027, 8, 31),
        target=asked,
    )


def spread(draws):
    p10, p50, p90 = np.quantile(draws, (0.1, 0.5, 0.9))
    return Spread(float(p10), float(p50), float(p90), float(draws.mean()))


def _batch(index, code, rng, stocked):
    hatch = FIRST_DAY + timedelta(days=8 + 11 * index)
    quality = rng.normal(0.0, 0.25, DRAWS)
    lost = rng.random(DRAWS) < (0.13 if index % 3 == 1 else 0.05)
    competent = stocked * LARVAE ** np.exp(quality)
    settled = competent * rng.beta(6, 4, DRAWS) * ~lost
    nursery = settled * TRAY ** np.exp(rng.normal(0, 0.3, DRAWS))
    ready = nursery * NURSERY ** np.exp(rng.normal(0, 0.3, DRAWS))
    day = np.arange(DAYS) - (hatch - FIRST_DAY).days
    knots = (-5, 0, INDUCE, INDUCE + 1, TO_NURSERY, RELEASE)
    ones = np.full(DRAWS, stocked)
    logs = np.log(np.stack([ones * 1.2, ones, competent, settled, nursery, ready]) + 1e-9)
    alive = np.empty((DRAWS, DAYS))
    for i in range(DRAWS):
        alive[i] = np.exp(np.interp(day, knots, logs[:, i]))
    alive[:, (day < -4) | (day > RELEASE)] = 0.0
    alive[alive < 0.5] = 0.0
    edges = np.searchsorted((-4, 0, INDUCE, TO_NURSERY, RELEASE + 1), day, side="right") - 1
    stage = np.where((edges < 0) | (edges > 3), -1, edges).astype(np.int8)
    middle = np.interp(day, (0, 21, 60, 160, 470), (0.3, 0.95, 5.0, 20.0, 84.0))
    length = np.where(stage >= 1, middle, 0.0)
    band = np.quantile(alive, (0.1, 0.5, 0.9), axis=0)
    daily = DailyBatch(code, band[0], band[1], band[2], length * 0.75, length, length * 1.3, stage)
    dates = BatchDates(
        collect=hatch - timedelta(days=4),
        hatch=hatch,
        thin=(hatch + timedelta(days=4), hatch + timedelta(days=11)),
        induce=hatch + timedelta(days=INDUCE),
        tank_until=hatch + timedelta(days=INDUCE + 6),
        to_nursery=hatch + timedelta(days=TO_NURSERY),
        tray_until=hatch + timedelta(days=TO_NURSERY + 14),
        ready=hatch + timedelta(days=440),
        release=min(hatch + timedelta(days=RELEASE), BY),
    )
    batch = Batch(
        code=code,
        egg_masses=2 if index % 2 else 3,
        eggs=stocked * 1.2,
        share_of_mass=0.1,
        dates=dates,
        tanks=(
            TankUse("large", 1 + (2 * index) % 6, 400.0),
            TankUse("small", 1 + index % 2, 200.0),
        ),
        density_per_l=(100.0, 50.0, 25.0),
        trays={"tray": 5},
        stocked=spread(ones),
        competent=spread(competent),
        settled=spread(settled),
        to_nursery=spread(nursery),
        released=spread(ready),
    )
    return batch, daily, ready


def _forecast(batches, dailies, ready):
    day = np.arange(DAYS)

    def between(first, last):
        return (day >= (first - FIRST_DAY).days) & (day <= (last - FIRST_DAY).days)

    tanks, trays, algae = np.zeros(DAYS), np.zeros(DAYS), np.zeros(DAYS)
    floor, work = np.zeros((3, DAYS)), np.full(DAYS, 0.0)
    for batch, daily in zip(batches, dailies, strict=True):
        dates = batch.dates
        in_tank = between(dates.hatch, dates.tank_until)
        tanks += len(batch.tanks) * in_tank
        trays += 3600.0 * 5 * between(dates.induce, dates.tray_until)
        algae += in_tank * np.clip(0.1 * (day - (dates.hatch - FIRST_DAY).days), 0, 3)
        work += 1.2 * in_tank + 0.6 * between(dates.induce, dates.release)
        grown = daily.stage == 3
        for row, alive in enumerate((daily.alive_p10, daily.alive_p50, daily.alive_p90)):
            floor[row] += grown * alive * 0.4 * daily.length_p50**2 * 1e-6 / 0.2
    return Forecast(FIRST_DAY, tuple(dailies), tanks, trays, *floor, algae, work, np.sort(ready))


def assumptions():
    return (
        SourcedValue(
            "veliger.survival", 0.315, "1", "brito-manzano-2004", "read", 0.16, 0.49,
            "29 °C, 200 per L, 4-L bowls", "Table 2", "beta", (9.6, 20.8),
        ),
        SourcedValue(
            "post_larva.survival", 0.35, "1", "practice", "practice", 0.1, 0.6, "trays with film"
        ),
        SourcedValue("loss.batch_share", 0.05, "1", "practice", "assumption", 0.02, 0.1),
        SourcedValue(
            "weight.b", 3.2, "1", "practice", "assumption", missing="No line for this snail.",
            borrowed_from="queen-conch",
        ),
        SourcedValue("shelter.area", None, "m2", "practice", "assumption", missing="None seen."),
        SourcedValue("own.water_change_every_days", 2.0, "d", "own", "own", 2.0, 2.0),
    )  # fmt: skip


@cache
def season(batches=6, *, asked=None, name="Nowhere Cay practice hatchery", seed=11):
    """An answer with so many batches; asked: the target, else one that eight in ten would meet."""
    rng = np.random.default_rng(seed)
    made = [_batch(i, "ABCDEFGHIJKL"[i], rng, 9000.0 + 1500.0 * (i % 3)) for i in range(batches)]
    ready = sum((each[2] for each in made), np.zeros(DRAWS))
    if asked is None:
        asked = target(max(1, int(np.quantile(ready, 0.19))))
    value = float(np.mean(ready >= asked.animals)) if batches else 0.0
    odds = Odds(value, (value * (1 - value) / DRAWS) ** 0.5, max(0.0, value - 0.015), DRAWS)
    feasible = bool(batches) and value >= asked.confidence
    forecast = _forecast([each[0] for each in made], [each[1] for each in made], ready)
    total = spread(ready)
    room = hatchery(name, asked)
    return SeasonPlan(
        hatchery=room,
        target=asked,
        feasible=feasible,
        odds=odds,
        expected=total.mean,
        p10=total.p10,
        p90=total.p90,
        batches=tuple(each[0] for each in made),
        egg_masses=sum(each[0].egg_masses for each in made),
        tanks=int(forecast.tanks_used.max()),
        tray_area_cm2=float(forecast.trays_cm2.max()),
        nursery_m2=float(forecast.nursery_m2_p50.max()),
        work_hours=float(forecast.work_h.sum()),
        limits=_limits(forecast, sum(each[0].egg_masses for each in made)),
        binding_limit="nursery",
        offers=() if feasible else _offers(asked),
        notes=("Of 8 larval tanks the best plan leaves 2 empty.",),
        forecast=forecast,
        assumptions=assumptions(),
        seed=seed,
    )


def _limits(forecast, masses):
    peak = float(forecast.nursery_m2_p50.max())
    return (
        Limit("nursery", "m²", peak, 35.0, 0.031, "The nursery floor holds the season back most."),
        Limit("larval tanks", "tanks", float(forecast.tanks_used.max()), 8.0, 0.004, "Two spare."),
        Limit("permit", "egg masses", float(masses), 24.0, None, "The permit leaves room."),
    )


def _offers(asked):
    fewer = Target(max(1, asked.animals // 2), asked.size_mm, asked.by, asked.confidence)
    later = Target(asked.animals, asked.size_mm, asked.by + timedelta(days=120), asked.confidence)
    unsure = Target(asked.animals, asked.size_mm, asked.by, 0.31)
    odds = Odds(0.82, 0.004, 0.81, DRAWS)
    return (
        Offer("fewer", fewer, odds, 900.0, 14, 6, "Half as many, as sure as asked."),
        Offer("later", later, odds, 1400.0, 20, 8, "As many, four months later."),
        Offer("less sure", unsure, Odds(0.31, 0.005, 0.3, DRAWS), 1000.0, 20, 8, "A bold ask."),
    )
