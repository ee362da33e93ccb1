"""What is still free in the hatchery on each day to come, beside what plan and log have taken."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from protoconch.season.model.layout import ReservedBatch
from protoconch.season.outlook.ahead import Standing
from protoconch.season.outlook.basis import Basis
from protoconch.season.plan.options import TRAY_STREAM, Option

Numbers = NDArray[np.float64]
RELEASING = 7
"""Last days over which the work of the release can be spread."""


@dataclass(frozen=True, slots=True)
class RoomLeft:
    """Free on each day, (days + 1,) or by kind: larval tanks, trays, dry algae [g], crew [h].

    masses: egg masses that the permit still allows; incubator: free places of it on each day.
    """

    tanks: tuple[Numbers, ...]
    trays: tuple[Numbers, ...]
    algae_g: Numbers
    crew_h: Numbers
    masses: int
    incubator: Numbers

    def has_room(self, needs: Sequence[tuple[Option, int]], reserve: ReservedBatch) -> bool:
        """Whether so many lots of each of these options, one batch, fit on every day."""
        c = reserve
        algae = sum(count * option.algae_g for option, count in needs)
        hours = sum(count * option.hours for option, count in needs)
        tanks, trays = Counter[int](), Counter[int]()
        for option, count in needs:
            tanks[option.tank_kind] += count
            trays[option.tray_kind] += count * option.trays
        return (
            all(self.has_tanks(k, c.tank_from, c.tank_until, n) for k, n in tanks.items())
            and all(self.has_trays(t, c.tray_from, c.tray_until, n) for t, n in trays.items())
            and self.has_food(np.asarray(algae)) and self.has_hands(np.asarray(hours))
        )  # fmt: skip

    def has_tanks(self, kind: int, first: int, last: int, count: int = 1) -> bool:
        """Whether so many larval tanks of a kind are free on all these days."""
        return bool(np.all(self.tanks[kind][first : last + 1] >= count))

    def has_trays(self, kind: int, first: int, last: int, count: int) -> bool:
        """Whether so many trays of a kind are free on all these days."""
        return bool(np.all(self.trays[kind][first : last + 1] >= count))

    def has_places(self, first: int, last: int, masses: int) -> bool:
        """Whether so many egg masses find a place in the incubator on all these days."""
        return bool(np.all(self.incubator[first : last + 1] >= masses))

    def has_food(self, algae_g: Numbers) -> bool:
        """Whether so much dry algae is left on each day, (days + 1,)."""
        eats = algae_g > 0.0
        return bool(np.all(self.algae_g[eats] + 1e-9 >= algae_g[eats]))

    def has_hands(self, hours: Numbers) -> bool:
        """Whether so many hours are left on each day, (days + 1,); the last may be spread."""
        each = hours[:-RELEASING]
        works = each > 0.0
        return bool(
            np.all(self.crew_h[:-RELEASING][works] + 1e-9 >= each[works])
            and self.crew_h[-RELEASING:].sum() >= hours[-RELEASING:].sum()
        )


def room_left(now: Standing, rests_on: Basis, masses_collected: int) -> RoomLeft:
    """What is free from the day after the log's last.

    masses_collected: egg masses that the log has; those the plan still means to collect are kept
    for it.
    """
    plan, hatchery = rests_on.plan, rests_on.plan.hatchery
    days = np.arange(rests_on.days + 1)
    tanks = [np.full(days.size, float(tank.count)) for tank in hatchery.larval_tanks]
    trays = [np.full(days.size, float(tray.count)) for tray in hatchery.trays]
    algae = np.full(days.size, hatchery.algae_dry_g_per_day)
    kinds = {tray.name: t for t, tray in enumerate(hatchery.trays)}
    by_code = {rests_on.code(batch.code): batch for batch in plan.batches}
    incubator = np.full(days.size, float(hatchery.incubator_places))
    for b, batch in enumerate(now.layout.batches):
        lots = now.layout.lots[now.layout.lots_of(b)]
        first, last = (now.hatch[b] if now.stage[b] >= 1 else batch.tank_from), batch.tank_until
        if now.stage[b] >= 2:
            last = min(int(now.induce[b]), last)
        held = (days >= first) & (days <= last)
        for lot in lots:
            tanks[lot.kind // TRAY_STREAM][held] -= 1
            hatch = int(first)
            for age, grams in rests_on.beliefs.ration_g_l:
                until = last if age == rests_on.beliefs.ration_g_l[-1][0] else days[-1]
                step = (days >= hatch + age) & (days <= until) & held
                later = [a for a, _ in rests_on.beliefs.ration_g_l if a > age]
                if later:
                    step &= days < hatch + later[0]
                algae[step] -= grams * lot.litres
        told = by_code.get(now.codes[b])
        if told is not None and now.stage[b] < 1:
            incubator[(days >= batch.start) & (days <= batch.tank_from)] -= told.egg_masses
        if told is not None and now.stage[b] < 3:
            on = (days >= (now.induce[b] if now.stage[b] >= 2 else batch.tray_from)) & (
                days <= batch.tray_until
            )
            for name, count in told.trays.items():
                trays[kinds[name]][on] -= count
    week = hatchery.crew_hours
    crew = np.array([week[(rests_on.first_day.weekday() + d) % 7] for d in range(days.size)])
    work = plan.forecast.work_h
    crew = crew - (work if work.size == crew.size else 0.0)
    waiting = sum(by_code[code].egg_masses for b, code in enumerate(now.codes)
                  if now.stage[b] < 0 and code in by_code)  # fmt: skip
    return RoomLeft(tuple(tanks), tuple(trays), algae, crew,
                    hatchery.permit.egg_masses - masses_collected - waiting,
                    incubator)  # fmt: skip
