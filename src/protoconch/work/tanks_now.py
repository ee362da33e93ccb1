"""Eggs and larvae as they are: what each incubator and each tank in use needs today."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import date, timedelta

from protoconch.hatchery.vessels import vessels
from protoconch.log.state import State
from protoconch.season.answer import SeasonPlan, TankUse
from protoconch.words import say
from protoconch.work.expected import ExpectedBatch
from protoconch.work.larvae import (
    change_water,
    changes_water,
    count,
    egg_tasks,
    feed,
    sample,
    sample_on,
    stock,
    thin,
)  # fmt: skip
from protoconch.work.lots import DAY
from protoconch.work.names import name_of
from protoconch.work.overdue import overdue
from protoconch.work.settling import doses, induce, settle
from protoconch.work.task import Task
from protoconch.work.turns import Turns, change_every_days, turn_key

WAITED = timedelta(days=14)
"""A trip that is so much late is taken as not made; assumption."""
LATE = timedelta(days=2)
"""Eggs that did not hatch so long after the others of their batch are given up; assumption."""
ROOM = 1.1
"""A tank is thinned when it is over its density by more than a count can be wrong: one in ten."""


def waiting_now(
    waiting: tuple[ExpectedBatch, ...], plan: SeasonPlan, day: date, *, collected: bool
) -> Iterator[Task]:
    """Collecting for the batches of the plan that have not begun.

    collected: pieces are here that belong to no batch yet; the first batch that waits gets them.
    """
    due = [batch for batch in waiting if batch.batch.dates.collect <= day]
    for batch in due:
        planned = batch.batch.dates.collect
        late = day - planned
        ours = collected and batch is due[0]
        allowed = day.month in plan.hatchery.permit.months and day <= plan.hatchery.last_day
        if (late > WAITED or not allowed) and not ours and late:
            continue
        moved = replace(batch.batch.dates, collect=day, hatch=batch.batch.dates.hatch + late)
        today = replace(batch, batch=replace(batch.batch, dates=moved))
        for task in egg_tasks(today, day):
            if task.kind == "collect" and not (ours and late):
                yield overdue(task, planned)
            elif task.kind == "incubate":
                yield task


def eggs_now(batch: ExpectedBatch, state: State, day: date, *, stocked: bool) -> Iterator[Task]:
    """Care for eggs, and stocking from the day they should hatch until the tanks have them.

    stocked: some of the batch is in a tank already.
    """
    hatch, code = batch.batch.dates.hatch, batch.batch.code
    places = {v.name for v in vessels(batch.plan.hatchery) if v.kind == "incubator"}
    inside = {h.stage for h in state.holdings.values() if h.batch == code and h.vessel in places}
    waited = batch_is_stocked(state, code) and day - hatch > LATE
    if "egg" in inside and day != hatch and not waited:
        begun = replace(batch.batch.dates, collect=day - DAY, hatch=day + DAY)
        yield from egg_tasks(replace(batch, batch=replace(batch.batch, dates=begun)), day)
    if day < hatch or not inside or (batch_is_stocked(state, code) and day - hatch > LATE):
        return
    for tank in batch.batch.tanks:
        there = state.holdings.get(name_of(tank))
        if there is not None and there.batch == code:
            continue
        if stocked and inside == {"egg"}:
            continue
        line = overdue(stock(batch, tank, day), hatch)
        if there is not None:
            line = replace(line, why=say("Another tank is needed: {tank} still holds batch"
            " {batch}. {why}", tank=name_of(tank), batch=there.batch, why=line.why))  # fmt: skip
        yield line


def batch_is_stocked(state: State, code: str) -> bool:
    """Whether larvae of a batch were ever put into a tank."""
    batch = state.batches.get(code)
    return batch is not None and batch.account.stocked > 0


def tanks_now(batch: ExpectedBatch, day: date, turns: Turns) -> Iterator[Task]:
    """All work in the tanks that hold larvae of a batch today."""
    dates = batch.batch.dates
    turns = {turn_key(batch, tank): tank.number % change_every_days(batch)
             for tank in batch.batch.tanks} | turns  # fmt: skip
    if day >= dates.induce:
        for tank in batch.batch.tanks:
            yield overdue(settle(batch, tank, day), dates.induce)
        if doses(batch):
            yield overdue(induce(batch, day), dates.induce)
    for tank in batch.batch.tanks:
        if batch.vessels[name_of(tank)].since == day == dates.hatch:
            yield stock(batch, tank, day)
        elif day != dates.induce:
            yield from _kept(batch, tank, day, turns)
        if batch.species.larvae_feed and day != dates.induce:
            yield feed(batch, tank, day)


def _kept(batch: ExpectedBatch, tank: TankUse, day: date, turns: Turns) -> Iterator[Task]:
    """What one tank needs, food apart; as the plan has it, but by what was logged."""
    step = thinning_step(batch, tank, day)
    if step:
        yield overdue(thin(batch, tank, day, step), batch.batch.dates.thin[step - 1])
    sampled = sample_on(batch, day, turns)
    turn = changes_water(batch, tank, day, turns)
    if turn or _water_is_old(batch, tank, day):
        yield change_water(batch, tank, day)
    if turn:
        return
    if sampled and tank == sampled[1]:
        yield sample(batch, tank, day, sampled[0])
    elif not step:
        yield count(batch, tank, day)


def thinning_step(batch: ExpectedBatch, tank: TankUse, day: date) -> int:
    """Place in density_per_l to which a tank is to be thinned today; 0 where it need not be."""
    step = sum(thinned <= day for thinned in batch.batch.dates.thin)
    most = batch.batch.density_per_l[step] * tank.litres
    there = batch.alive_in(name_of(tank), day)
    over = there > most * (1.0 if day in batch.batch.dates.thin else ROOM)
    return step if step and over else 0


def _water_is_old(batch: ExpectedBatch, tank: TankUse, day: date) -> bool:
    """Whether a tank has gone without a change for longer than the species lets it."""
    there = batch.vessels[name_of(tank)]
    return (day - (there.last_change or there.since)).days > change_every_days(batch)
