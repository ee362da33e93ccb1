"""A plan made ready to be changed: its layout and its futures, drawn once and kept."""

from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import product

import numpy as np

from protoconch.animals.species import Species
from protoconch.errors import BadInput
from protoconch.season.answer import Batch, SeasonPlan
from protoconch.season.model.beliefs import Beliefs, beliefs
from protoconch.season.model.draws import streams
from protoconch.season.model.layout import Layout, Lot, Numbers
from protoconch.season.plan.calendar import batch_calendars
from protoconch.season.plan.options import Option, Setting, options, reserved
from protoconch.season.what_if.ribbons import numbers_read
from protoconch.season.what_if.running import Block, Run, blocks_of, ran
from protoconch.sources.values import SourcedValue
from protoconch.words import say

LATER_DAYS = 366
"""How much later than planned a date can be looked at."""
QUICK, CLOSE = 240, 2000
"""Futures for an answer while a slider moves, and for one that is kept."""


class _NoWork:
    """Hours of work where nobody asks for them."""

    def daily_hours(
        self, stage: str, litres: float, trays: int, nursery_m2: float, *, masses: float = 1,  # noqa: ARG002
    ) -> float:  # fmt: skip
        """No hours."""
        return 0.0

    def event_hours(self, kind: str, litres: float, trays: int, animals: float) -> float:  # noqa: ARG002
        """No hours."""
        return 0.0


@dataclass(frozen=True, slots=True)
class PlannedLot:
    """One larval tank of a batch, with the option that it is taken from."""

    lot: Lot
    option: Option


@dataclass(frozen=True)
class Prepared:
    """A plan with all that is needed to run its season again, otherwise.

    lots: in the order of the batches. options: what every batch could have more of. blocks: the
    futures, to the latest date that can be looked at. base: what the plan comes to in
    them; read: its numbers alive along time.
    """

    plan: SeasonPlan
    beliefs: Beliefs
    layout: Layout
    lots: tuple[PlannedLot, ...]
    options: tuple[Option, ...]
    blocks: tuple[Block, ...]
    base: Run
    read: Numbers

    def read_to(self, days: int) -> Numbers:
        """The plan's own numbers along time, as `ribbons.numbers_read` gives them."""
        return self.read if days == self.layout.days else numbers_read(self.base, days)

    @property
    def draws(self) -> int:
        """How many futures."""
        return sum(block.n for block in self.blocks)


def prepared(
    plan: SeasonPlan, species: Species, assumed: Mapping[str, SourcedValue], draws: int = QUICK
) -> Prepared:
    """Make a plan ready to be changed, in the first so many of the futures that judged it.

    assumed: sources/tables/season.toml, with which the plan was made.
    Raises: BadInput for a plan without batches.
    """
    if not plan.batches:
        raise BadInput(say("Nothing is planned, so there is nothing to change."))
    rng = np.random.Generator(np.random.SFC64(plan.seed))
    common, fresh = streams(rng), streams(rng)
    believed = beliefs(species, plan.hatchery, assumed)
    first, days = plan.forecast.first_day, (plan.target.by - plan.forecast.first_day).days
    size_days = believed.path.days_to(plan.target.size_mm)
    setting = Setting(plan.hatchery, believed, common, first, days, size_days,
                      plan.target.size_mm, _NoWork())  # fmt: skip
    starts = tuple((batch.dates.collect - first).days for batch in plan.batches)
    calendars = batch_calendars(
        believed, common, starts, days, setting.first_day_of_year, size_days
    )
    made = tuple(options(setting, calendars, 1))
    lots: list[PlannedLot] = []
    for b, batch in enumerate(plan.batches):
        own = [option for option in made if option.calendar.start == starts[b]]
        lots += _lots(b, batch, own, plan)
    batches = [
        reserved(calendar, batch.eggs)
        for calendar, batch in zip(calendars, plan.batches, strict=True)
    ]
    layout = Layout(
        tuple(batches), tuple(each.lot for each in lots), days,
        plan.hatchery.algae_dry_g_per_day, plan.hatchery.nursery_area_m2, size_days,
    )  # fmt: skip
    blocks = tuple(
        blocks_of(believed, fresh, draws, plan.odds.draws, days + LATER_DAYS,
                  setting.first_day_of_year)
    )  # fmt: skip
    base = ran(layout, believed, blocks)
    return Prepared(
        plan, believed, layout, tuple(lots), made, blocks, base, numbers_read(base, days)
    )


def _lots(b: int, batch: Batch, own: list[Option], plan: SeasonPlan) -> Iterator[PlannedLot]:
    """The tanks of a batch with their trays, as the planner had them."""
    for option, count in zip(own, _counts(batch, own, plan), strict=True):
        litres = plan.hatchery.larval_tanks[option.tank_kind].litres
        for number in range(count):
            lot = Lot(b, *option.stream(number), litres, option.places)
            yield PlannedLot(lot, option)


def _counts(batch: Batch, own: list[Option], plan: SeasonPlan) -> tuple[int, ...]:
    """How many lots of each option give the tanks and the trays that the plan tells.

    Raises: BadInput, where none do: the plan is of another hatchery.
    """
    tanks = Counter(tank.kind for tank in batch.tanks)
    for counts in product(*(range(tanks[_tank(plan, option)] + 1) for option in own)):
        found: Counter[str] = Counter()
        trays: Counter[str] = Counter()
        for option, count in zip(own, counts, strict=True):
            found[_tank(plan, option)] += count
            trays[plan.hatchery.trays[option.tray_kind].name] += count * option.trays
        if +found == tanks and +trays == Counter(batch.trays):
            return counts
    raise BadInput(
        say("The tanks and trays of batch {code} fit no plan of this hatchery.", code=batch.code)
    )


def _tank(plan: SeasonPlan, option: Option) -> str:
    return plan.hatchery.larval_tanks[option.tank_kind].name
