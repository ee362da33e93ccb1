"""The day's work with algae, with litres by what the cultures were counted at."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from functools import partial

from protoconch.algae.chain.answer import AlgaeAnswer
from protoconch.animals.species import Species
from protoconch.log.state import Culture, State
from protoconch.season.answer import SeasonPlan
from protoconch.words import Said, say
from protoconch.work.algae_lines import algae_work
from protoconch.work.logged import last_seen
from protoconch.work.lots import FRESH
from protoconch.work.names import code_in_log
from protoconch.work.task import Given, Task, about, worked


def algae_now(
    algae: AlgaeAnswer, state: State, plan: SeasonPlan, species: Species, day: date
) -> Iterator[Task]:
    """The schedule's lines of a day; a harvest by the culture's own count where it has one.

    Where the log has cultures, a line that needs one which it does not have says so.
    """
    for task in map(partial(coded, plan), algae_work(algae, plan, species, day)):
        if task.kind != "harvest" or not state.cultures:
            yield task
            continue
        there = state.cultures.get(task.where)
        if there is None:
            why = say(
                "The log has no culture in {vessel}: take another, or log its start. {why}",
                vessel=task.where, why=task.why,
            )  # fmt: skip
            yield replace(task, why=why)
        else:
            yield _by_count(task, there, day)


def coded(plan: SeasonPlan, task: Task) -> Task:
    """The line with the batches by the names that the log has for them."""
    letters = task.batch.split(", ")
    if not set(letters) <= {batch.code for batch in plan.batches}:
        return task
    codes, amount = ", ".join(code_in_log(plan, letter) for letter in letters), task.amount
    if isinstance(amount, Said) and "codes" in amount.values:
        amount = Said.of(amount.template, {**amount.values, "codes": codes})
    return replace(task, batch=codes, amount=amount)


def _by_count(task: Task, there: Culture, day: date) -> Task:
    """The same cells in litres of a culture as it was counted, as far as it has them."""
    cells = next((part for part in task.working.inputs if part.name == "cells"), None) \
        if task.working else None  # fmt: skip
    last = there.counts[-1] if there.counts else None
    if cells is None or last is None or last.cells_per_ml <= 0:
        return task
    on = last.when.date()
    if day - on > FRESH:
        return task
    inputs = (
        cells,
        Given("counted", last.cells_per_ml, "cells/mL", last_seen(say("counted"), on)),
        Given("left", there.litres, "L", last_seen("", day)),
    )
    litres = worked("min(cells / counted / 1000, left)", inputs, "L")
    volume, million = about(litres.result, 3, "L"), about(last.cells_per_ml / 1e6)
    if litres.result < cells.value / last.cells_per_ml / 1000:
        amount = say(
            "{litres} at {million} million/mL, all that is left; {cells} billion cells were wanted",
            litres=volume, million=million, cells=about(cells.value / 1e9),
        )  # fmt: skip
    else:
        amount = say("{litres} at {million} million/mL", litres=volume, million=million)
    return replace(task, amount=amount, working=litres)
