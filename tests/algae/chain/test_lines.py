"""The lines of the species through the usual vessels."""

from itertools import pairwise

import pytest

from protoconch.algae.chain.description import Step, VesselKind
from protoconch.algae.chain.lines import REFERENCE_C, growth_in_room_per_d, line_of
from protoconch.algae.species import alga, known_algae
from protoconch.errors import BadInput

KINDS = (
    VesselKind("flask", 0.25, 4),
    VesselKind("bottle", 2, 4),
    VesselKind("carboy", 20, 4),
    VesselKind("column", 200, 4),
)
GROWN = known_algae()


@pytest.mark.parametrize("key", GROWN)
def test_every_species_goes_through_the_usual_vessels(key):
    steps = line_of(key, KINDS).steps
    assert [step.kind for step in steps] == ["flask", "bottle", "carboy", "column"]
    assert all(1 <= step.grow_days <= 14 for step in steps)
    assert all(step.use_days >= 1 and 0 < step.crash_per_d < 0.1 for step in steps)
    assert all(low.cells < high.cells for low, high in pairwise(steps[:3]))


@pytest.mark.parametrize(("key", "days"), [("t-iso", (15, 26)), ("c-muelleri", (11, 17))])
def test_the_way_to_a_ready_column_takes_the_published_days(key, days):
    # SRAC 5004 and FAO 471 section 3.2.2: starter, carboy at day 4 to 8, column in 4 to 7 days;
    # the bottle between them is one more step
    low, high = days
    assert low <= sum(step.grow_days for step in line_of(key, KINDS).steps) <= high


def test_one_vessel_starts_one_of_the_next_kind():
    assert all((s.donors, s.starts) == (1, 1) for s in line_of("t-iso", KINDS).steps)


def test_small_donors_are_put_together_and_large_ones_shared():
    flask, column = KINDS[0], KINDS[3]
    assert line_of("t-iso", (flask, VesselKind("carboy", 20, 1))).steps[1].donors == 8
    assert line_of("t-iso", (column, VesselKind("carboy", 20, 1))).steps[1].starts == 111


def test_flagellates_are_taken_from_again_and_again_and_diatoms_used_up():
    assert line_of("t-iso", KINDS).steps[-1].drawn
    assert not line_of("t-iso", KINDS).steps[-2].drawn
    assert not line_of("c-muelleri", KINDS).steps[-1].drawn


def test_no_culture_is_fed_past_the_age_limit_of_its_species():
    for key in GROWN:
        steps = line_of(key, KINDS).steps
        last = steps[-1]
        name = "drawn_limit_d" if last.drawn else "age_limit_d"
        assert last.grow_days + last.use_days - 1 <= max(alga(key).number(name), last.grow_days)


def test_a_cold_room_slows_and_a_hot_one_kills():
    species = alga("t-iso")
    assert growth_in_room_per_d(species, REFERENCE_C) == pytest.approx(
        species.number("growth_per_d")
    )
    assert growth_in_room_per_d(species, 20) < species.number("growth_per_d")
    cold, usual = (line_of("t-iso", KINDS, t).steps[1].grow_days for t in (20, REFERENCE_C))
    assert cold > usual
    with pytest.raises(BadInput, match="does not grow at 36 °C"):
        line_of("t-iso", KINDS, 36)


def test_a_line_without_vessels_is_refused():
    with pytest.raises(BadInput, match="has no vessels"):
        line_of("t-iso", ())


def test_several_donors_for_several_starts_are_refused():
    with pytest.raises(BadInput, match="either one donor starts several"):
        Step("flask", 1, 1, 1.0, donors=2, starts=3)
