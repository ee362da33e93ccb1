"""A working: the formula that is shown is the formula that was used."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from protoconch.animals.profiles import species
from protoconch.errors import BadInput
from protoconch.sources.references import references
from protoconch.work.task import THE_PLAN, Given, about, planned, worked
from protoconch.work.tasks import season_tasks
from tests.work.made_up_plan import made_up_plan
from tests.work.shapes import plans


def recomputed(working):
    """The formula worked out by Python itself from the inputs that are shown."""
    names = {part.name: part.value for part in working.inputs}
    tools = {"floor": math.floor, "min": min, "max": max, "__builtins__": {}}
    return eval(working.formula, tools, names)  # noqa: S307


@settings(max_examples=20)
@given(plans())
def test_every_amount_follows_again_from_its_formula_and_inputs(plan):
    for task in season_tasks(plan, species(plan.hatchery.species)):
        for working in (task.working, *task.also):
            assert recomputed(working) == pytest.approx(working.result, rel=1e-12)
            assert all(part.name in working.formula for part in working.inputs)


@given(st.floats(-1e6, 1e6), st.floats(0.1, 1e3), st.integers(1, 9))
def test_a_formula_is_worked_out_as_arithmetic_says(a, b, c):
    working = worked(
        "max(a - b, 2) / b + min(b, c) ** 2",
        [planned("a", a, "1"), planned("b", b, "1"), planned("c", c, "1")],
        "1",
    )
    assert working.result == pytest.approx(max(a - b, 2) / b + min(b, c) ** 2)
    assert working.inputs[0] == Given("a", a, "1", THE_PLAN)


@pytest.mark.parametrize("formula", ["a + c", "open(a)", "a.real", "[a]", "'x'", "a if a else a"])
def test_a_formula_takes_only_its_inputs_and_arithmetic(formula):
    with pytest.raises(BadInput, match="formula"):
        worked(formula, [planned("a", 1, "1")], "1")


@pytest.mark.parametrize(
    ("value", "shown"), [(35_053, "35,100"), (2.71, "2.71"), (999.6, "1,000"), (0.06723, "0.0672")]
)
def test_expected_numbers_are_told_in_three_digits(value, shown):
    assert about(value) == shown


def test_every_input_names_the_plan_or_a_reference_that_is_listed():
    plan = made_up_plan()
    for task in season_tasks(plan, species("queen-conch")):
        for working in (task.working, *task.also):
            for part in working.inputs:
                assert part.source == THE_PLAN or part.source in references(), part
