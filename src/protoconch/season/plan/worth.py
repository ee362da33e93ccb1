"""What limits the season, and what one more of it would be worth.

The worth of a thing is how much better the best odds of the room would be with one more of it, on
the same futures; so a limit that does not hold the season back is worth nothing, however full.
"""

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import timedelta

import numpy as np

from protoconch.hatchery.description import Hatchery
from protoconch.season.answer import Limit
from protoconch.season.plan.judge import judge
from protoconch.season.plan.room import Choice, Numbers, Room
from protoconch.season.plan.search import Search
from protoconch.season.plan.study import Study, study
from protoconch.units import text
from protoconch.words import phrase, say

MORE_ALGAE, MORE_NURSERY, MORE_DAYS, MORE_HOURS = 0.1, 0.1, 30, 1.0
NOTICEABLE = 0.004
"""Gains below this are within the noise of the comparison and are called none."""


@dataclass(frozen=True, slots=True)
class Peak:
    """Most of each thing that a plan uses on any day, at median development."""

    tanks: dict[str, float]
    trays: dict[str, float]
    algae_g: float
    crew_share: float
    incubator: float


def peak(room: Room, choice: Choice) -> Peak:
    """Peak use of the room by a choice."""
    used = room.use @ choice
    highest: dict[str, float] = {}
    for name, value in zip(room.names, used, strict=True):
        highest[name] = max(highest.get(name, 0.0), float(value))
    hours = room.hours(choice)
    share = np.divide(hours, room.crew, out=np.zeros_like(hours), where=room.crew > 0)
    return Peak(
        tanks={n: v for n, v in highest.items() if n.startswith("larval tanks")},
        trays={n: v for n, v in highest.items() if n.startswith("trays")},
        algae_g=highest.get("algae", 0.0),
        crew_share=float(share.max()),
        incubator=float(max((n for _, n in room.masses(choice).by_start), default=0)),
    )


@dataclass(frozen=True, slots=True)
class Bench:
    """What all comparisons share: the fullest choice of the room as it is, and its odds."""

    study: Study
    full: Choice
    base: float

    def with_room(self, room: Room) -> float:
        """Odds gained where the room is this one instead."""
        search = Search(room, self.study.target.animals)
        return search.fullest(start=self.full).odds - self.base

    def with_more(self, prefix: str, more: Callable[[float], float]) -> float:
        """Odds gained where the limits so named are widened."""
        room = self.study.room
        chosen = np.array([name.startswith(prefix) for name in room.names])
        wider = np.where(chosen, [more(a) for a in room.available], room.available)
        crew = room.crew + MORE_HOURS if prefix == "crew hours" else room.crew
        return self.with_room(replace(room, available=wider, crew=crew))

    def with_hatchery(self, hatchery: Hatchery) -> float:
        """Odds gained where the hatchery is this one, the daily limits the same."""
        room = self.study.room
        setting = replace(room.setting, hatchery=hatchery)
        return self.with_room(replace(room, setting=setting, _masses={}))

    def with_nursery(self) -> float:
        """Odds gained by a tenth more nursery floor, every shared limit in force."""
        study = self.study
        animals, draws = study.target.animals, study.inputs.effort.look
        now = study.judged(self.full, animals, draws)
        hatchery = study.inputs.hatchery
        more = 1 + MORE_NURSERY
        floors = tuple(replace(t, area_m2=t.area_m2 * more) for t in hatchery.nursery)
        wider = replace(hatchery, nursery=floors)
        setting = replace(study.room.setting, hatchery=wider)
        room = replace(study.room, setting=setting, _masses={})
        then = judge(room, self.full, animals, study.inputs.fresh, draws)
        return then.odds.value - now.odds.value

    def with_time(self) -> float:
        """Odds gained by a date a month later."""
        study_now = self.study
        later = replace(study_now.target, by=study_now.target.by + timedelta(days=MORE_DAYS))
        longer = study(study_now.inputs, later, common=study_now.inputs.effort.look)
        search = longer.search(later.animals)
        now = float(np.mean(self._look_total() >= later.animals))
        same = search.odds(_carried(self.full, longer.room))
        return same - now

    def _look_total(self) -> Numbers:
        search = self.study.search(self.study.target.animals)
        return search.total(self.full)[: self.study.inputs.effort.look]


def _carried(choice: Choice, room: Room) -> Choice:
    """The same lots in a room with possibly more options; options keep their order by start."""
    carried = np.zeros(len(room.options), dtype=np.int64)
    carried[: choice.size] = choice[: carried.size]
    return carried


def limits(study_: Study, choice: Choice, nursery_m2: float) -> tuple[Limit, ...]:
    """Every limit with its use, and the odds that one more of it would add, most worth first.

    nursery_m2: median of the peak floor in use [m²].
    """
    search = study_.search(study_.target.animals)
    full = search.fullest(start=choice)
    bench = Bench(study_, full.choice, full.odds)
    hatchery, used = study_.inputs.hatchery, peak(study_.room, choice)
    permit = replace(hatchery.permit, egg_masses=hatchery.permit.egg_masses + 1)
    one_mass_more = replace(hatchery, permit=permit)
    one_place_more = replace(hatchery, incubator_places=hatchery.incubator_places + 1)
    found = [
        Limit(say("time"), phrase("days"), study_.room.setting.days, study_.room.setting.days,
              bench.with_time(), say("A date {days} days later", days=MORE_DAYS)),
        Limit(say("nursery floor"), "m2", nursery_m2, hatchery.nursery_area_m2,
        bench.with_nursery(),
              say("A tenth more nursery floor ({floor:.1f} m²)",
                  floor=MORE_NURSERY * hatchery.nursery_area_m2)),
        Limit(say("crew hours"), phrase("share of the fullest day"), used.crew_share, 1.0,
              bench.with_more("crew hours", lambda a: a + MORE_HOURS),
              say("One more hour of crew on every day")),
        Limit(say("egg masses"), phrase("masses"), study_.room.masses(choice).total,
              hatchery.permit.egg_masses,
              bench.with_hatchery(one_mass_more),
              say("One more egg mass on the permit")),
        Limit(say("incubator places"), phrase("places"), used.incubator, hatchery.incubator_places,
              bench.with_hatchery(one_place_more),
              say("One more incubator place")),
    ]  # fmt: skip
    if study_.room.setting.beliefs.ration_g_l:
        found.append(Limit(say("algae"), phrase("g dry a day"), used.algae_g,
            hatchery.algae_dry_g_per_day,
                           bench.with_more("algae", lambda a: a * (1 + MORE_ALGAE)),
                           say("A tenth more algae")))  # fmt: skip
    for tank in hatchery.larval_tanks:
        name = say("larval tanks: {name}", name=tank.name)
        found.append(Limit(name, phrase("tanks"), used.tanks.get(name, 0.0), tank.count,
                           bench.with_more(name, lambda a: a + 1),
                           say("One more larval tank of {litres}", litres=text(tank.litres, "L",
                               6))))  # fmt: skip
    for tray in hatchery.trays:
        name = say("trays: {name}", name=tray.name)
        found.append(Limit(name, phrase("trays"), used.trays.get(name, 0.0), tray.count,
                           bench.with_more(name, lambda a: a + 1),
                           say("One more tray of {area_cm2:g} cm²",
                               area_cm2=tray.area_cm2)))  # fmt: skip
    ranked = sorted(found, key=lambda limit: -(limit.one_more or 0.0))
    return tuple(replace(limit, sentence=_sentence(limit, full.odds)) for limit in ranked)


def _sentence(limit: Limit, base: float) -> str:
    gain = limit.one_more or 0.0
    if abs(gain) < NOTICEABLE:
        return say("{change} would not change the odds noticeably.", change=limit.sentence)
    would = phrase(
        "{change} would raise the best odds of this room by {gain:.1f} points in a hundred, from"
        " {base:.0f}."
    )
    if gain < 0:
        would = phrase(
            "{change} would lower the best odds of this room by {gain:.1f} points in a hundred,"
            " from {base:.0f}."
        )
    return say(would, change=limit.sentence, gain=abs(gain) * 100, base=base * 100)


def binding(found: tuple[Limit, ...]) -> str:
    """Name of the limit that holds the season back most; "none" where nothing does."""
    worth = [limit for limit in found if (limit.one_more or 0.0) >= NOTICEABLE]
    return worth[0].name if worth else "none"
