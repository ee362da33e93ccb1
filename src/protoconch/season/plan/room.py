"""Whether a choice of lots fits the room, the people, the algae and the permit."""

from dataclasses import dataclass, field
from functools import cached_property
from math import ceil

import numpy as np
from numpy.typing import NDArray

from protoconch.season.plan.options import Option, Setting

Numbers = NDArray[np.float64]
Choice = NDArray[np.int64]
"""Lots of each option, in the order of the options."""


@dataclass(frozen=True, slots=True)
class Masses:
    """Egg masses by option start: (start, number), and whether the genetics rule is kept."""

    by_start: tuple[tuple[int, int], ...]
    wide_enough: bool

    @property
    def total(self) -> int:
        """All egg masses of the season."""
        return sum(number for _, number in self.by_start)


@dataclass(frozen=True)
class Room:
    """Limits that hold on each day, as one table: use @ choice <= available.

    use: (rows, options); available: (rows,); names: what each row limits.
    cost: hours of one lot of each option; crew: hours there are on each day, (days + 1,).
    trip_hours: hours of a collecting trip; egg_hours: of an egg mass in the incubator on one day;
    mass_hours: of an egg mass until it hatches, by start; hatch: planned day of it, by start.
    nursery_hours: of any nursery on one day, and of each square metre in it.
    table_hours, table_nursery_m2: of one lot of each option on each day, (options, days + 1).
    """

    setting: Setting
    options: tuple[Option, ...]
    use: Numbers
    available: Numbers
    names: tuple[str, ...]
    cost: Numbers
    crew: Numbers
    trip_hours: float
    egg_hours: float
    mass_hours: dict[int, float]
    hatch: dict[int, int]
    nursery_hours: tuple[float, float]
    table_hours: Numbers
    table_nursery_m2: Numbers
    _masses: dict[bytes, Masses] = field(default_factory=dict, repr=False)

    def fits(self, choice: Choice) -> bool:
        """No day asks for more tanks, trays, algae or hours than there are."""
        return bool(self.fit_daily(choice)) and self.errands_fit(choice)

    def fit_daily(self, choices: Choice) -> NDArray[np.bool_]:
        """Which choices, (..., options), keep every daily limit of tanks, trays, food and hours."""
        return np.asarray(np.all(choices @ self.use.T <= self.available + 1e-9, axis=-1))

    @cached_property
    def of_start(self) -> NDArray[np.int64]:
        """Which option begins on which collecting day, 0 or 1, (options, days)."""
        starts = sorted({option.calendar.start for option in self.options})
        return np.array([[int(o.calendar.start == s) for s in starts] for o in self.options])

    def starts(self, choice: Choice) -> list[int]:
        """Days on which the choice begins a batch."""
        used = {self.options[i].calendar.start for i in np.flatnonzero(choice)}
        return sorted(used)

    def hours(self, choice: Choice) -> Numbers:
        """Hours of work on each day, errands for the egg masses included, (days + 1,)."""
        hours = np.asarray(choice @ self.table_hours)
        area = self.setting.hatchery.nursery_area_m2
        tended = np.minimum(choice @ self.table_nursery_m2, area)
        base, per_m2 = self.nursery_hours
        hours += np.where(tended > 0.0, base, 0.0) + tended * per_m2
        for start, masses in self.masses(choice).by_start:
            hours[start] += self.trip_hours
            hours[start : self.hatch[start] + 1] += self.egg_hours * masses
        return hours

    def errands_fit(self, choice: Choice) -> bool:
        """Permit, incubator and the hours of all days, errands and nursery included."""
        starts = self.starts(choice)
        if not starts:
            return True
        masses = self.masses(choice)
        hatchery = self.setting.hatchery
        if masses.total > hatchery.permit.egg_masses:
            return False
        if any(number > hatchery.incubator_places for _, number in masses.by_start):
            return False
        return bool(np.all(self.hours(choice) <= self.crew + 1e-9))

    def bare_cost(self, choices: Choice) -> Numbers:
        """Hours of lots and collecting trips, not of egg masses, (..., options) -> (...) [h]."""
        trips = (choices @ self.of_start > 0).sum(axis=-1)
        return np.asarray(choices @ self.cost + trips * self.trip_hours)

    def cost_of(self, choice: Choice) -> float:
        """Hours of work of the whole season [h]: what the search keeps smallest."""
        masses = self.masses(choice)
        errands = sum(self.trip_hours + number * self.mass_hours[start]
                      for start, number in masses.by_start)  # fmt: skip
        return float(self.cost @ choice + errands)

    def masses(self, choice: Choice) -> Masses:
        """Fewest egg masses that give the eggs, and spread the release over enough families.

        A batch takes pieces of at least as many masses as its eggs ask for; then masses are added
        where one of them would give the largest share of the release, until the genetics rule is
        kept or the incubator or the permit is full.
        """
        key = choice.tobytes()
        if key not in self._masses:
            self._masses[key] = self._count_masses(choice)
        return self._masses[key]

    def _count_masses(self, choice: Choice) -> Masses:
        hatchery, rule = self.setting.hatchery, self.setting.hatchery.genetics
        starts = self.starts(choice)
        eggs = dict.fromkeys(starts, 0.0)
        share = dict.fromkeys(starts, 0.0)
        for i in np.flatnonzero(choice):
            option = self.options[i]
            eggs[option.calendar.start] += choice[i] * option.eggs
            share[option.calendar.start] += float(option.means[choice[i]])
        total = sum(share.values()) or 1.0
        share = {start: part / total for start, part in share.items()}
        per_mass = self.setting.beliefs.eggs_per_mass
        number = {start: max(1, ceil(eggs[start] / per_mass)) for start in starts}
        places = hatchery.incubator_places

        def kept() -> bool:
            widest = max((share[s] / number[s] for s in starts), default=0.0)
            return sum(number.values()) >= rule.min_masses and widest <= rule.max_share + 1e-9

        while starts and not kept() and sum(number.values()) < hatchery.permit.egg_masses:
            open_ = [s for s in starts if number[s] < places]
            if not open_:
                break
            number[max(open_, key=lambda s: (share[s] / number[s], -s))] += 1
        return Masses(tuple(sorted(number.items())), kept() if starts else True)


def room(setting: Setting, options: list[Option]) -> Room:
    """The limits of the hatchery, laid out over the days of the season."""
    hatchery, days = setting.hatchery, setting.days
    day = np.arange(days + 1)
    rows: list[Numbers] = []
    available: list[float] = []
    names: list[str] = []

    def limit(name: str, table: Numbers, at_most: Numbers) -> None:
        """Add the days on which `table` (options, days + 1) differs from the day before."""
        stacked = np.vstack([table, at_most[None, :]])
        _, first = np.unique(stacked, axis=1, return_index=True)
        for column in sorted(first):
            if table[:, column].any():
                rows.append(table[:, column])
                available.append(float(at_most[column]))
                names.append(name)

    def held(begin: int, until: int, amount: float) -> Numbers:
        return np.where((day >= begin) & (day <= until), amount, 0.0)

    for k, tank in enumerate(hatchery.larval_tanks):
        table = np.array([held(o.calendar.tank_from, o.calendar.tank_until,
                               float(o.tank_kind == k)) for o in options])  # fmt: skip
        limit(f"larval tanks: {tank.name}", table, np.full(days + 1, float(tank.count)))
    for t, tray in enumerate(hatchery.trays):
        table = np.array([held(o.calendar.tray_from, o.calendar.tray_until,
                               float(o.trays) if o.tray_kind == t else 0.0)
                          for o in options])  # fmt: skip
        limit(f"trays: {tray.name}", table, np.full(days + 1, float(tray.count)))
    if setting.beliefs.ration_g_l:
        limit("algae", np.array([o.algae_g for o in options]),
              np.full(days + 1, hatchery.algae_dry_g_per_day))  # fmt: skip
    labour = setting.labour
    table_hours = np.array([o.hours for o in options])
    week = hatchery.crew_hours
    crew = np.array([week[(setting.first_day.weekday() + d) % 7] for d in range(days + 1)])
    limit("crew hours", table_hours, crew)
    egg_hours = labour.daily_hours("egg", 0.0, 0, 0.0, masses=1)
    hatch = {o.calendar.start: o.calendar.hatch for o in options}
    nursery = labour.daily_hours("juvenile", 0.0, 0, 0.0)
    a_metre = labour.daily_hours("juvenile", 0.0, 0, 1.0) - nursery
    return Room(
        setting=setting, options=tuple(options),
        use=np.array(rows).reshape(len(rows), len(options)), available=np.array(available),
        names=tuple(names), cost=table_hours.sum(axis=1), crew=crew,
        egg_hours=egg_hours, hatch=hatch,
        mass_hours={start: (day - start + 1) * egg_hours for start, day in hatch.items()},
        nursery_hours=(nursery, a_metre),
        trip_hours=labour.event_hours("collect", 0.0, 0, 0.0), table_hours=table_hours,
        table_nursery_m2=np.array([o.nursery_m2 for o in options]),
    )  # fmt: skip
