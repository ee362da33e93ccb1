"""Mixed diets on one basis: the cells arrive in the tank, and thin cultures are refused."""

import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from protoconch.algae.diets import diet, left_after, spat_culture_l_d
from protoconch.algae.ration import ration_l
from protoconch.algae.species import equivalent
from protoconch.errors import BadInput, MissingInput, MissingNumber, UnknownName

SHARES = {"t-iso": 0.5, "c-muelleri": 0.3, "tetraselmis": 0.2}
CULTURES = {"t-iso": 8e6, "c-muelleri": 4e6, "tetraselmis": 1e6}


def test_three_species_on_organic_mass() -> None:
    """Worked by hand on the masses of Creswell 2010: 10 000, 4 300 and 430 cells/mL."""
    mixed = diet(500, SHARES, CULTURES, wanted_t_iso_per_ml=20_000, basis="organic")
    assert [part.species for part in mixed.parts] == list(SHARES)
    assert [part.wanted_per_ml for part in mixed.parts] == pytest.approx([10_000, 4_300, 430])
    # By the short formula 0.625, 0.5375, 0.215 L: the tank as if it were not thinned by the food.
    assert [part.add_l for part in mixed.parts] == pytest.approx([0.625, 0.5375, 0.215], rel=0.003)
    assert mixed.added_l == pytest.approx(sum(part.add_l for part in mixed.parts))
    assert mixed.too_much == ""


@given(
    st.floats(min_value=1, max_value=1e5),
    st.tuples(*[st.floats(min_value=0, max_value=1)] * 3),
    st.tuples(*[st.floats(min_value=5e5, max_value=2e7)] * 3),
    st.floats(min_value=0, max_value=50_000),
)
def test_every_cell_poured_in_is_in_the_tank_and_none_else(
    tank: float, weights: tuple[float, ...], densities: tuple[float, ...], wanted: float
) -> None:
    assume(sum(weights) > 0.01)
    shares = {key: w / sum(weights) for key, w in zip(SHARES, weights, strict=True)}
    cultures = dict(zip(SHARES, densities, strict=True))
    mixed = diet(tank, shares, cultures, wanted_t_iso_per_ml=wanted)
    filled = tank + mixed.added_l
    worth = 0.0
    for part in mixed.parts:
        assert part.add_l * cultures[part.species] / filled == pytest.approx(part.wanted_per_ml)
        worth += part.wanted_per_ml * equivalent(part.species)
    assert worth == pytest.approx(wanted)


@given(st.floats(min_value=1, max_value=1e4), st.floats(min_value=0, max_value=1e5))
def test_a_diet_of_one_species_is_the_plain_ration(tank: float, wanted: float) -> None:
    alone = diet(tank, {"t-iso": 1.0}, {"t-iso": 8e6}, wanted_t_iso_per_ml=wanted)
    plain = ration_l(tank, wanted_per_ml=wanted, culture_per_ml=8e6)
    assert alone.added_l == pytest.approx(plain, rel=1e-6, abs=1e-9 * tank)


def test_a_diet_says_what_its_cells_are_compared_by_and_why() -> None:
    usual = diet(500, SHARES, CULTURES, wanted_t_iso_per_ml=20_000)
    asked = diet(500, SHARES, CULTURES, wanted_t_iso_per_ml=20_000, basis="dry")
    assert (usual.basis, asked.basis) == ("organic", "dry")
    assert "digest" in usual.basis_why
    assert asked.basis_why == "It was asked for."
    cells = {part.species: part.wanted_per_ml for part in usual.parts}
    # more cells of C. muelleri than by dry mass with its silica
    assert cells["c-muelleri"] > {p.species: p.wanted_per_ml for p in asked.parts}["c-muelleri"]


def test_the_basis_changes_the_cells_but_is_one_for_all() -> None:
    organic, dry = (diet(500, SHARES, CULTURES, wanted_t_iso_per_ml=20_000, basis=basis)
                    for basis in ("organic", "dry"))  # fmt: skip
    assert organic.parts[0].wanted_per_ml == dry.parts[0].wanted_per_ml
    ratio = organic.parts[1].wanted_per_ml / dry.parts[1].wanted_per_ml
    assert ratio == pytest.approx((74.8 / 29.7) / (30 / 21.5))
    with pytest.raises(MissingNumber, match="weigh it"):
        diet(500, {"t-iso": 0.5, "navicula": 0.5}, {"t-iso": 8e6, "navicula": 5e5},
             wanted_t_iso_per_ml=20_000, basis="dry")  # fmt: skip


@pytest.mark.parametrize("culture", [20_000, 15_000])
def test_cultures_too_thin_are_refused(culture: float) -> None:
    with pytest.raises(BadInput, match=r"too thin: even a tank.*hold 20,000 T-Iso cells/mL"):
        diet(500, {"t-iso": 1.0}, {"t-iso": culture}, wanted_t_iso_per_ml=20_000)


def test_two_cultures_each_dense_enough_can_together_be_too_thin() -> None:
    thin = {"t-iso": 15_000.0, "i-galbana": 15_000.0}
    with pytest.raises(BadInput, match="too thin"):
        diet(500, {"t-iso": 0.5, "i-galbana": 0.5}, thin, wanted_t_iso_per_ml=20_000)


def test_too_much_culture_water_is_said_and_the_limit_is_the_site_s_own() -> None:
    thin = {"t-iso": 2e5}
    mixed = diet(500, {"t-iso": 1.0}, thin, wanted_t_iso_per_ml=20_000)
    assert mixed.added_l == pytest.approx(500 / 9)
    assert "56 L of culture is 11% of the tank, more than 5%" in mixed.too_much
    assert "after the water change" in mixed.too_much
    borne = diet(500, {"t-iso": 1.0}, thin, wanted_t_iso_per_ml=20_000, most_added_share=1 / 9)
    assert borne.too_much == ""


def test_shares_that_do_not_add_up_or_have_no_culture_are_refused() -> None:
    with pytest.raises(BadInput, match=r"add up to 0.8, not to 1"):
        diet(500, {"t-iso": 0.8}, CULTURES, wanted_t_iso_per_ml=20_000)
    with pytest.raises(BadInput, match="add up to 0, not to 1"):
        diet(500, {}, CULTURES, wanted_t_iso_per_ml=20_000)
    with pytest.raises(MissingInput, match="density of the culture of tetraselmis is missing"):
        diet(500, SHARES, {"t-iso": 8e6, "c-muelleri": 4e6}, wanted_t_iso_per_ml=20_000)
    with pytest.raises(UnknownName, match="no alga spirulina"):
        diet(500, {"spirulina": 1.0}, CULTURES, wanted_t_iso_per_ml=20_000)


@pytest.mark.parametrize("wrong", [-1, math.nan, math.inf])
def test_numbers_that_cannot_be_are_refused(wrong: float) -> None:
    for refuse in (
        lambda: diet(wrong, SHARES, CULTURES, wanted_t_iso_per_ml=20_000),
        lambda: diet(500, SHARES | {"t-iso": wrong}, CULTURES, wanted_t_iso_per_ml=20_000),
        lambda: diet(500, SHARES, CULTURES | {"t-iso": wrong}, wanted_t_iso_per_ml=20_000),
        lambda: diet(500, SHARES, CULTURES, wanted_t_iso_per_ml=wrong),
        lambda: spat_culture_l_d(
            wrong, dry_mg_per_mg_week=0.4, mg_per_million=0.2, culture_per_ul=1500
        ),
        lambda: spat_culture_l_d(
            1, dry_mg_per_mg_week=wrong, mg_per_million=0.2, culture_per_ul=1500
        ),
        lambda: spat_culture_l_d(
            1, dry_mg_per_mg_week=0.4, mg_per_million=wrong, culture_per_ul=1500
        ),
        lambda: spat_culture_l_d(
            1, dry_mg_per_mg_week=0.4, mg_per_million=0.2, culture_per_ul=wrong
        ),
        lambda: left_after(wrong, 24),
        lambda: left_after(0.1, wrong),
    ):
        with pytest.raises(BadInput):
            refuse()


@given(st.floats(min_value=1, max_value=1e7), st.floats(min_value=0.05, max_value=1))
def test_the_culture_of_a_week_weighs_the_ration_of_a_week(live: float, ration: float) -> None:
    litres = spat_culture_l_d(
        live, dry_mg_per_mg_week=ration, mg_per_million=0.2, culture_per_ul=1500
    )
    million_cells = 7 * litres * 1500 * 1e6 / 1e6
    assert million_cells * 0.2 == pytest.approx(live * ration)


@given(
    st.floats(min_value=0, max_value=2),
    st.floats(min_value=0, max_value=48),
    st.floats(min_value=0, max_value=48),
)
def test_larvae_clear_the_same_share_of_what_is_left_in_every_hour(
    share: float, first: float, second: float
) -> None:
    both = left_after(share, first + second)
    assert both == pytest.approx(left_after(share, first) * left_after(share, second))
    assert 0 <= both <= 1
