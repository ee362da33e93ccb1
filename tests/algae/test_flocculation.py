"""Settling algae out of their water: doses, what may not be fed, and how long it keeps."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from protoconch.algae.flocculation import concentrate, known_methods
from protoconch.algae.species import known_algae
from protoconch.errors import BadInput, UnknownName

METHODS = st.sampled_from(known_methods())
SPECIES = st.sampled_from(known_algae())


@pytest.mark.parametrize(
    ("method", "dose_g", "soda_g", "ph"),
    [
        ("ph-polymer", 0.1, math.nan, 10.3),  # Knuckey et al. 2006: 0.5 mg/L at pH 10 to 10.6
        ("ph", math.nan, 32.0, 10.2),  # Harith et al. 2009, pH; 0.16 g/L NaOH common practice
        ("chitosan", 15.0, math.nan, 7.9),  # 75 mg/L for C. gracilis; pH, Morales et al. 1985
        ("alum", 45.0, math.nan, math.nan),  # 225 mg/L, from memory of Sukenik et al. 1988
        ("settling", math.nan, math.nan, math.nan),
    ],
)
def test_the_doses_for_a_column_of_200_litres(
    method: str, dose_g: float, soda_g: float, ph: float
) -> None:
    won = concentrate(method, "c-muelleri", 200, 0.1)
    assert won.dose_g == pytest.approx(dose_g, nan_ok=True)
    assert won.soda_g == pytest.approx(soda_g, rel=1e-3, nan_ok=True)
    assert won.ph == pytest.approx(ph, nan_ok=True)


def test_all_methods_of_the_table_are_known() -> None:
    assert known_methods() == ("ph-polymer", "ph", "chitosan", "alum", "settling")


def test_only_what_was_settled_with_aluminium_or_iron_may_not_be_fed_to_larvae() -> None:
    barred = {name for name in known_methods() if not concentrate(name, "t-iso", 1, 0.1).larvae}
    assert barred == {"alum"}
    assert "not for larvae" in concentrate("alum", "t-iso", 1, 0.1).cautions[0]


@pytest.mark.parametrize("method", known_methods())
def test_caustic_soda_is_warned_of_wherever_it_is_used(method: str) -> None:
    won = concentrate(method, "c-calcitrans", 10, 0.1)
    warned = any("burn" in caution for caution in won.cautions)
    assert warned == any("NaOH" in step for step in won.steps)
    assert warned == method.startswith("ph")


@pytest.mark.parametrize("method", known_methods())
def test_the_steps_bring_the_water_to_the_ph_of_the_table_and_back(method: str) -> None:
    won = concentrate(method, "c-calcitrans", 10, 0.1)
    if math.isnan(won.ph):
        assert "pH" not in won.steps[0]
    else:
        assert f"pH is {won.ph:g}" in won.steps[0] or f"pH to {won.ph:g}" in won.steps[0]
    assert "pH 8.1" in won.steps[2]
    assert all(step.endswith(".") for step in won.steps)


def test_cells_that_settle_by_themselves_need_days_and_nothing_is_added() -> None:
    won = concentrate("settling", "c-calcitrans", 10, 0.1)
    assert "Add" not in won.steps[0]
    assert "days" in won.steps[1]
    assert "hours" in concentrate("chitosan", "c-calcitrans", 10, 0.1).steps[1]


@given(METHODS, SPECIES, st.floats(min_value=0.1, max_value=5000),
       st.floats(min_value=0.001, max_value=5))  # fmt: skip
def test_never_more_is_won_than_was_grown_and_a_double_batch_takes_and_gives_double(
    method: str, species: str, litres: float, dry: float
) -> None:
    once, twice = (concentrate(method, species, times * litres, dry) for times in (1, 2))
    assert 0 < once.dry_g <= litres * dry
    assert twice.dry_g == pytest.approx(2 * once.dry_g)
    assert twice.dose_g == pytest.approx(2 * once.dose_g, nan_ok=True)
    assert twice.soda_g == pytest.approx(2 * once.soda_g, nan_ok=True)
    assert twice.keeps_d == once.keeps_d


def test_four_fifths_are_won_with_base_and_polymer() -> None:
    """Knuckey et al. 2006: 80 % or more; planned at that."""
    assert concentrate("ph-polymer", "c-muelleri", 200, 0.1).dry_g == pytest.approx(16)


def test_a_concentrate_keeps_as_long_as_its_weaker_part() -> None:
    """Heasman et al. 2000 for the species; Knuckey et al. 2006 for two weeks of the method."""
    assert concentrate("ph-polymer", "t-iso", 200, 0.1).keeps_d == 3
    assert concentrate("ph-polymer", "tetraselmis", 200, 0.1).keeps_d == 14
    assert concentrate("settling", "tetraselmis", 200, 0.1).keeps_d == 3
    assert concentrate("ph-polymer", "thalassiosira", 200, 0.1).keeps_d == 14


def test_unknown_methods_and_species_are_refused() -> None:
    with pytest.raises(UnknownName, match=r"no method chitosane; .*Did you mean chitosan"):
        concentrate("chitosane", "t-iso", 200, 0.1)
    with pytest.raises(UnknownName, match="no alga t-isoo"):
        concentrate("chitosan", "t-isoo", 200, 0.1)


@pytest.mark.parametrize("wrong", [0, -1, math.nan, math.inf])
def test_numbers_that_cannot_be_are_refused(wrong: float) -> None:
    with pytest.raises(BadInput, match="Volume"):
        concentrate("chitosan", "t-iso", wrong, 0.1)
    with pytest.raises(BadInput, match="Dry mass"):
        concentrate("chitosan", "t-iso", 200, wrong)
