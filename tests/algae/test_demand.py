"""What the tanks ask of the algae room."""

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from protoconch.algae.demand import (
    TankFood,
    diatom_share,
    food_demand,
    larval_food,
)
from protoconch.errors import BadInput

FIRST = date(2027, 5, 1)
STEPS = ((0, 0.0), (2, 0.3), (8, 0.6))


def food(**changes):
    given = {"ration_mg_l_d": STEPS, "shares": {"t-iso": 1.0}, "diatom": "c-muelleri",
             "diatom_from_d": 5, "half_from_d": 8}  # fmt: skip
    return larval_food("tank 1", "A", 400, 2, 12, **(given | changes))


def test_small_flagellates_come_first_and_diatoms_later():
    for entry in food():
        assert ("c-muelleri" in entry.grams) == (entry.age_d >= 5)
    assert food()[-1].grams["c-muelleri"] == pytest.approx(food()[-1].grams["t-iso"])


def test_a_tank_gets_litres_times_ration():
    by_day = {entry.day: sum(entry.grams.values()) for entry in food()}
    assert 2 not in by_day  # nothing on the day of hatch
    assert by_day[4] == pytest.approx(400 * 0.3 / 1000)
    assert by_day[10] == pytest.approx(400 * 0.6 / 1000)


@given(st.floats(0, 60), st.floats(0, 20), st.floats(0, 30))
def test_diatoms_never_give_more_than_half(age, first, later):
    assert 0 <= diatom_share(age, first, first + later) <= 0.5


def test_the_demand_is_the_sum_of_the_tanks_with_the_reserve():
    demand = food_demand(food() + food(shares={"t-iso": 1.0}), ("t-iso", "c-muelleri"), FIRST, 13,
                         reserve=0.1)  # fmt: skip
    assert demand.grams.sum() == pytest.approx(2.2 * sum(sum(f.grams.values()) for f in food()))
    assert demand.cells[0, 4] == pytest.approx(demand.grams[0, 4] / 21.5e-12)


def test_food_after_the_last_day_is_left_out():
    late = [TankFood(20, "tank 1", "A", 3, {"t-iso": 1.0})]
    assert food_demand(late, ("t-iso",), FIRST, 13).grams.sum() == 0


def test_a_species_that_is_not_grown_is_refused():
    with pytest.raises(BadInput, match="is to get c-muelleri, which is not grown"):
        food_demand(food(), ("t-iso",), FIRST, 13)
    with pytest.raises(BadInput, match=r"add up to 0\.7"):
        food(shares={"t-iso": 0.7})
