"""One day of the invented season: eggs, the work list, cultures."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from protoconch.algae.chain.answer import AlgaeAnswer
from protoconch.log.state import State
from protoconch.operations.demo.crew import Crew
from protoconch.operations.demo.truth import cells_per_ml
from protoconch.operations.demo.writing import CREW
from protoconch.work.entries.asked import Way
from protoconch.work.entries.of_task import ways
from protoconch.work.lots import lots
from protoconch.work.present import present_tasks
from protoconch.work.task import ROUNDS, Task

FORGOTTEN = 0.02
"""Share of the lesser lines that nobody logs; invented."""
SETTLED_AFTER, TRAYS_EVERY = 2, 9
"""Days after the inducer to the count of the settled, and from one count of trays to the next."""
LESSER = {"feed", "count", "measure", "tray care", "siphon", "feed pellets", "renew the tubes",
          "look at cultures", "sow films"}  # fmt: skip


@dataclass(slots=True)
class Hatching:
    """When each batch really hatches: by batch, days after the plan's day. Drawn once."""

    late: dict[str, int]


def one_day(crew: Crew, algae: AlgaeAnswer | None, hatching: Hatching, day: date) -> None:
    """All that the crew logs of its work on a day."""
    writing, truth = crew.writing, crew.truth
    crew.day = day
    truth.pass_night(writing.state, day)
    writing.turn_to(day, "morning", CREW[day.toordinal() % len(CREW)])
    _hatches(crew, hatching, day)
    tasks = present_tasks(writing.state, truth.plan, truth.species, day, algae)
    for place, round_ in enumerate(ROUNDS):
        writing.turn_to(day, round_, CREW[(day.toordinal() + place) % len(CREW)])
        if round_ == "morning" and algae is not None:
            _count_cultures(crew, tasks, day)
        if round_ == "midday":
            _count_trays(crew, day)
        for task in tasks:
            if task.round == round_ and _logged(crew, task):
                _settled(crew, task, algae)


def _logged(crew: Crew, task: Task) -> bool:
    return task.kind not in LESSER or crew.truth.rng.random() >= FORGOTTEN


def _settled(crew: Crew, task: Task, algae: AlgaeAnswer | None) -> None:
    """Log a line in the way that fits, or leave it for another day."""
    state = crew.writing.state
    if task.kind == "stock" and state.batches[task.batch].hatched is None:
        return
    kind = crew.writing.known[task.where].kind if task.where in crew.writing.known else ""
    if kind == "larval tank" and task.kind != "stock" and task.where not in state.holdings:
        return
    offered = ways(task, state, crew.hatchery, algae)
    way = _chosen(crew, task, state, offered)
    if way is None or not crew.does(task, way):
        return
    if task.kind == "stock":
        _empty_the_incubator(crew, task.batch)
    elif task.kind in ("settle", "move to nursery"):
        _clean_what_is_empty(crew, {asked.where for asked in way.asked})


def _clean_what_is_empty(crew: Crew, vessels: set[str]) -> None:
    for vessel in sorted(vessels & crew.writing.state.dirty):
        crew.writing.write("cleaned", vessel, {"with_what": "chlorine"}, minutes=3.0)


def _empty_the_incubator(crew: Crew, code: str) -> None:
    """What did not fit into the tanks is let go, and the incubator cleaned."""
    held = list(crew.writing.state.holdings.values())
    planned = [b for b in crew.truth.plan.batches if code.endswith(b.code)]
    tanks = sum(h.batch == code and h.stage == "veliger" and _is(crew, h.vessel, "larval tank")
                for h in held)  # fmt: skip
    if planned and tanks < len(planned[0].tanks):
        return
    for place in held:
        if place.batch == code and _is(crew, place.vessel, "incubator"):
            crew.writing.write("cleaned", place.vessel, {"with_what": "chlorine"})


def _is(crew: Crew, vessel: str, kind: str) -> bool:
    return crew.writing.known[vessel].kind == kind


def _chosen(crew: Crew, task: Task, state: State, offered: tuple[Way, ...]) -> Way | None:
    if task.kind in ("harvest", "inoculate"):
        there = state.cultures.get(task.where)
        if (there is None) == (task.kind == "harvest"):
            return None
    if (
        task.kind == "incubate"
        and not any(h.batch == task.batch for h in state.holdings.values())
        and offered[0].words != "pieces put into an incubator"
    ):
        return None
    if task.kind == "settle" and _more_than_logged(crew, state, task.where):
        return next(way for way in offered if way.words == "all of them moved")
    return offered[0]


def _more_than_logged(crew: Crew, state: State, vessel: str) -> bool:
    """Whether more is in a vessel than the log has: then all that is there is counted first."""
    return crew.truth.animals.get(vessel, 0.0) > state.holdings[vessel].alive


def _count_trays(crew: Crew, day: date) -> None:
    """The settled of each tray on the second day, and all of them about every ten days."""
    state = crew.writing.state
    for lot in lots(state, crew.truth.plan, crew.truth.species, day).trays:
        days = (day - lot.batch.dates.induce).days
        if days < SETTLED_AFTER or (days - SETTLED_AFTER) % TRAYS_EVERY:
            continue
        kind = "settled" if days == SETTLED_AFTER else "counted"
        for vessel in lot.vessels:
            seen = float(crew.truth.rng.normal(1.0, 0.05)) * crew.truth.animals.get(vessel, 0.0)
            crew.writing.write(kind, vessel, {"animals": max(1, round(seen))})


def _hatches(crew: Crew, hatching: Hatching, day: date) -> None:
    """Log the hatch of batches whose day has come."""
    state = crew.writing.state
    for lot in lots(state, crew.truth.plan, crew.truth.species, day).eggs:
        code = lot.batch.code
        late = (day - lot.batch.dates.hatch).days
        if state.batches[code].hatched is not None or late < hatching.late.get(code, 0):
            continue
        places = [h for h in state.holdings.values() if h.batch == code and h.stage == "egg"]
        for place in places:
            share = float(crew.truth.rng.beta(17, 3))
            told = {"batch": code, "veligers": round(place.alive * share, -2)}
            crew.writing.write("hatched", place.vessel, told)


def _count_cultures(crew: Crew, tasks: Iterable[Task], day: date) -> None:
    """Count the cultures that are drawn today."""
    state = crew.writing.state
    for task in tasks:
        there = state.cultures.get(task.where)
        if task.kind != "harvest" or there is None:
            continue
        usual = cells_per_ml(there, crew.truth.plan, day, {})
        true = usual * float(crew.truth.rng.lognormal(0.0, 0.15))
        dilution = max(1.0, round(true / 1e6))
        per_square = true * 1e-4 / dilution
        loadings = [int(n) for n in crew.truth.rng.poisson(per_square * 4, 2)]
        crew.writing.write("culture counted", task.where, {
            "chamber": "Neubauer", "loadings": loadings, "dilution": dilution})  # fmt: skip
