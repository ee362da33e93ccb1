"""Whatever the room and the demand: never an impossible transfer, and the room can do it."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from protoconch.algae.chain.description import Culture, Present
from protoconch.algae.chain.formulation import Problem, vessels_free
from protoconch.algae.chain.judge import faults
from protoconch.algae.chain.plan import planned
from protoconch.algae.chain.policies import blind
from protoconch.algae.chain.running import carried_out
from protoconch.algae.chain.solving import vessels_held
from tests.algae.chain.rooms import small_room

few = st.integers(1, 3)


@st.composite
def problems(draw):
    species = draw(st.integers(1, 2))
    room = small_room(
        counts=(draw(st.integers(1, 4)), draw(st.integers(1, 4))),
        grow=(draw(few), draw(few)),
        use=(draw(few), draw(st.integers(1, 5))),
        drawn=draw(st.booleans()),
        clean=draw(st.integers(0, 2)),
        **draw(st.sampled_from([{}, {"donors": 2}, {"starts": 2}])),
        species=species,
        spare=draw(st.sampled_from([{}, {"small": 1}, {"small": 1, "large": 1}])),
    )
    days = draw(st.integers(1, 12))
    cells = draw(
        st.lists(
            st.lists(st.sampled_from([0.0, 0.3, 1.0, 2.0, 4.5]), min_size=days, max_size=days),
            min_size=species,
            max_size=species,
        )
    )
    closed = frozenset(draw(st.sets(st.integers(0, days), max_size=2)))
    return Problem(room, np.array(cells), present=draw(rooms_now(room)), closed=closed)


@st.composite
def rooms_now(draw, room):
    """Cultures that stand in some of the vessels, and others in cleaning or missing."""
    cultures, cleaning, missing = [], {}, set()
    for place, kind in enumerate(room.kinds):
        for vessel in range(1, kind.count + 1):
            what = draw(st.sampled_from(["empty"] * 4 + ["culture", "cleaning", "missing"]))
            step = room.lines[0].steps[place]
            if what == "culture":
                line = draw(st.sampled_from(room.lines))
                ready = draw(st.integers(-1, step.grow_days))
                last = max(0, ready + step.use_days - 1)
                left = 1.0 if step.drawn or place == 0 else draw(st.sampled_from([1.0, 0.4]))
                started = min(-1, ready - step.grow_days)
                cultures.append(Culture(line.species, place, vessel, started, ready, last, left))
            elif what == "cleaning":
                cleaning[kind.name, vessel] = draw(st.integers(1, 2))
            elif what == "missing":
                missing.add((kind.name, vessel))
    return Present(tuple(cultures), cleaning, frozenset(missing))


@settings(max_examples=60)
@given(problems())
def test_every_schedule_is_possible(problem):
    plan = planned(problem, 0.3)
    assert faults(plan) == ()
    assert (vessels_held(problem, plan.counts) <= vessels_free(problem)).all()
    assert plan.counts.bound <= plan.counts.cost + 1e-6


@settings(max_examples=60)
@given(problems())
def test_cells_fed_and_lacking_make_up_the_demand(problem):
    plan = planned(problem, 0.3)
    assert plan.fed + plan.short * problem.demand == pytest.approx(problem.demand, abs=1e-5)
    # what the program said of shortages is what the cultures, one by one, can give
    assert plan.short.sum() <= plan.counts.short.sum() + 1e-5


@settings(max_examples=40)
@given(problems())
def test_the_room_can_carry_out_what_was_scheduled(problem):
    plan = planned(problem, 0.3)
    run = carried_out(problem, blind(problem, plan.counts))
    assert (run.started == plan.counts.started).all()
    assert run.short == pytest.approx(plan.short, abs=1e-5)
    assert run.lost == 0


@settings(max_examples=30)
@given(problems())
def test_one_more_vessel_never_costs_more(problem):
    kinds = (replace(problem.room.kinds[0], count=problem.room.kinds[0].count + 1),
             *problem.room.kinds[1:])  # fmt: skip
    more = replace(problem, room=replace(problem.room, kinds=kinds))
    assert planned(more).counts.bound <= planned(problem).counts.cost + 1e-6
