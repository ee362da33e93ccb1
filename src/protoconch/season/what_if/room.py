"""What becomes of a plan's tanks, trays and egg masses in a room that is other than planned."""

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass, replace

from protoconch.season.model.layout import Layout, Lot, ReservedBatch
from protoconch.season.plan.options import Option
from protoconch.season.what_if.change import Change
from protoconch.season.what_if.prepared import PlannedLot, Prepared
from protoconch.words import counted, listed, say


@dataclass(frozen=True, slots=True)
class Refitted:
    """A layout that fits the changed room; gave: what had to give or could be added, sentences."""

    layout: Layout
    gave: tuple[str, ...]


class Places:
    """Things of one sort, each free again on the morning after it is left."""

    def __init__(self, counts: Mapping[str, int]) -> None:
        """All of them free."""
        self.counts = counts
        self.held: dict[str, list[tuple[int, int, int]]] = {name: [] for name in counts}

    def free(self, name: str, begin: int, until: int) -> int:
        """How many are free on all mornings from `begin` to `until`."""
        held = [h for h in self.held[name] if h[0] <= until and begin <= h[1]]
        mornings = {begin, *(h[0] for h in held if h[0] >= begin)}
        busiest = max(
            (sum(h[2] for h in held if h[0] <= day <= h[1]) for day in mornings), default=0
        )
        return max(0, self.counts[name] - busiest)

    def take(self, name: str, begin: int, until: int, count: int) -> None:
        """Keep so many of them on these mornings."""
        self.held[name].append((begin, until, count))


def refitted(ready: Prepared, change: Change) -> Refitted:
    """The plan's batches put into the changed room: what is planned first, then tanks more."""
    fit = _Fit(ready, change)
    count = range(len(ready.layout.batches))
    kept = [fit.planned(b) for b in count]
    added = [fit.added(b) if len(kept[b]) == len(fit.own(b)) else [] for b in count]
    batches = [fit.batch(b, kept[b], added[b]) for b in count]
    hatchery, layout = ready.plan.hatchery, ready.layout
    days = layout.days
    if change.by is not None:
        days = (change.by - ready.plan.forecast.first_day).days
    size_days = layout.size_days
    if change.size_mm is not None:
        size_days = ready.beliefs.path.days_to(change.size_mm)
    algae, nursery = change.algae_g, change.nursery_m2
    new = Layout(
        tuple(batches), tuple(each.lot for b in count for each in kept[b] + added[b]), days,
        hatchery.algae_dry_g_per_day if algae is None else algae,
        hatchery.nursery_area_m2 if nursery is None else nursery, size_days,
    )  # fmt: skip
    return Refitted(new, fit.gave)


class _Fit:
    """Batches put into a room one after another.

    given: what had to give or could be added, with the codes of the batches.
    """

    def __init__(self, ready: Prepared, change: Change) -> None:
        hatchery = ready.plan.hatchery
        self.ready, self.change = ready, change
        self.tanks = Places({t.name: change.tanks.get(t.name, t.count)
                             for t in hatchery.larval_tanks})  # fmt: skip
        self.trays = Places({t.name: change.trays.get(t.name, t.count) for t in hatchery.trays})
        self.masses = hatchery.permit.egg_masses
        if change.egg_masses is not None:
            self.masses = change.egg_masses
        self.given: dict[str, list[str]] = {}

    def own(self, b: int) -> list[PlannedLot]:
        """The tanks of a batch as planned."""
        return [each for each in self.ready.lots if each.lot.batch == b]

    def left_out(self, b: int) -> bool:
        """Whether the change does without this batch."""
        return self.ready.plan.batches[b].code in self.change.without

    def planned(self, b: int) -> list[PlannedLot]:
        """Those of a batch's planned tanks that find a place."""
        own = self.own(b)
        if self.left_out(b):
            return []
        wanted = own[: max(0, len(own) + min(0, self.change.more_tanks))]
        return [placed for lot in wanted if (placed := self._placed(lot)) is not None]

    def added(self, b: int) -> list[PlannedLot]:
        """Tanks more for a batch, as far as tanks and trays are free."""
        own, hatchery = self.own(b), self.ready.plan.hatchery
        used = Counter(each.option.index for each in own)
        start = self.ready.layout.batches[b].start
        mine = [o for o in self.ready.options if o.calendar.start == start]
        found: list[PlannedLot] = []
        for option in sorted(mine, key=lambda o: o.index not in used):
            litres = hatchery.larval_tanks[option.tank_kind].litres
            while len(found) < self.change.more_tanks and self._trays_free(option, b):
                stream = option.stream(used[option.index])
                placed = self._placed(PlannedLot(Lot(b, *stream, litres, option.places), option))
                if placed is None:
                    break
                used[option.index] += 1
                found.append(placed)
        return found

    def batch(self, b: int, kept: list[PlannedLot], added: list[PlannedLot]) -> ReservedBatch:
        """The batch with the eggs that its tanks ask for and the permit allows."""
        planned, told = self.ready.layout.batches[b], self.ready.plan.batches[b]
        if self.left_out(b):
            return replace(planned, eggs=0.0)
        fewer = len(self.own(b)) - len(kept)
        masses = min(told.egg_masses, self.masses)
        self.masses -= masses
        if fewer:
            self._give(
                b,
                counted(
                    fewer, "{number} tank fewer than planned", "{number} tanks fewer than planned"
                ),
            )
        if added:
            self._give(b, counted(len(added), "{number} tank more", "{number} tanks more"))
        if masses < told.egg_masses:
            self._give(b, say("{masses} of {all} egg masses", masses=masses, all=told.egg_masses))
        eggs = planned.eggs
        if fewer or added:
            eggs = sum(each.option.eggs for each in [*kept, *added])
        eggs *= masses / told.egg_masses
        return replace(planned, eggs=min(eggs, masses * self.ready.beliefs.eggs_per_mass))

    def _trays_free(self, option: Option, b: int) -> bool:
        tray, planned = self.ready.plan.hatchery.trays[option.tray_kind], self._days(b)
        return self.trays.free(tray.name, planned.tray_from, planned.tray_until) >= option.trays

    def _days(self, b: int) -> ReservedBatch:
        return self.ready.layout.batches[b]

    def _give(self, b: int, what: str) -> None:
        self.given.setdefault(what, []).append(self.ready.plan.batches[b].code)

    @property
    def gave(self) -> tuple[str, ...]:
        """What had to give or could be added, batches of the same lot together."""
        return tuple(
            counted(
                len(set(codes)),
                "Batch {codes}: {what}.",
                "Batches {codes}: {what}.",
                codes=listed(list(dict.fromkeys(codes))),
                what=what,
            )
            for what, codes in self.given.items()
        )

    def _placed(self, each: PlannedLot) -> PlannedLot | None:
        """The lot in a free tank with what trays are free; None where no tank is."""
        hatchery, option, days = self.ready.plan.hatchery, each.option, self._days(each.lot.batch)
        tank = hatchery.larval_tanks[option.tank_kind].name
        if not self.tanks.free(tank, days.tank_from, days.tank_until):
            return None
        tray = hatchery.trays[option.tray_kind].name
        got = min(option.trays, self.trays.free(tray, days.tray_from, days.tray_until))
        self.tanks.take(tank, days.tank_from, days.tank_until, 1)
        self.trays.take(tray, days.tray_from, days.tray_until, got)
        if got == option.trays:
            return each
        self._give(
            each.lot.batch, say("{got} of {all} trays for a tank", got=got, all=option.trays)
        )
        return replace(each, lot=replace(each.lot, places=option.places * got / option.trays))
