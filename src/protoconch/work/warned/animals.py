"""Warnings of the animals: eggs near hatching, tanks that nobody counted, batches not begun."""

from collections.abc import Iterator
from datetime import date

from protoconch.animals.species import Species
from protoconch.log.state import State
from protoconch.season.answer import SeasonPlan
from protoconch.words import say
from protoconch.work.lots import lots
from protoconch.work.parameters import table_values
from protoconch.work.tanks_now import WAITED
from protoconch.work.task import THE_PLAN
from protoconch.work.warned.warning import Warned


def animal_warnings(
    state: State, plan: SeasonPlan, species: Species, day: date
) -> Iterator[Warned]:
    """All warnings of the animals."""
    if not (state.batches or state.masses):
        return
    table, there = table_values("warnings"), lots(state, plan, species, day)
    for batch in there.eggs:
        code, hatch = batch.batch.code, batch.batch.dates.hatch
        eggs = any(h.batch == code and h.stage == "egg" for h in state.holdings.values())
        days = (hatch - day).days
        if eggs and 0 <= days <= table["hatch_before"].number:
            sentence = (
                say("Batch {code} should hatch today.", code=code)
                if days == 0
                else say("Batch {code} should hatch tomorrow.", code=code)
            )
            yield Warned("animals", "soon", say("incubator"), sentence,
                          say("Have its tanks clean and filled, and the first food ready."),
                          source=THE_PLAN)  # fmt: skip
        elif eggs and -days >= table["hatch_late"].number and not _hatched(state, code):
            sentence = say(
                "Batch {code} should have hatched on {hatch:%-d %B}.", code=code, hatch=hatch
            )
            yield Warned("animals", "now", say("incubator"), sentence,
                          say("Open a capsule under the microscope; log the hatch, or the loss."),
                          source=THE_PLAN)  # fmt: skip
    most = table["count_after"].number
    for batch in there.larvae:
        for vessel, seen in batch.vessels.items():
            if (day - seen.alive_on).days > most:
                sentence = say(
                    "Nobody counted {vessel} since {alive_on:%-d %B}; its amounts rest on that "
                    "number.",
                    vessel=vessel,
                    alive_on=seen.alive_on,
                )
                yield Warned("animals", "soon", vessel, sentence, say("Count it today."),
                              source=table["count_after"].source)  # fmt: skip
    for batch in there.waiting:
        planned = batch.batch.dates.collect
        if day - planned > WAITED and planned >= plan.hatchery.first_day:
            sentence = say(
                "Batch {code} was to be collected on {planned:%-d %B}, and the log has nothing "
                "of it.",
                code=batch.batch.code,
                planned=planned,
            )
            yield Warned("animals", "soon", "", sentence, say("Log what was done, or plan anew."),
                          source=THE_PLAN)  # fmt: skip


def _hatched(state: State, code: str) -> bool:
    """Whether a batch has hatched: it was said so, or larvae were put into a tank."""
    batch = state.batches[code]
    return batch.hatched is not None or batch.account.stocked > 0
