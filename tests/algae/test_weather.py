"""What warmth, light and nutrients allow a culture."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from protoconch.algae.medium import medium
from protoconch.algae.weather import (
    cells_cap_per_ml,
    growth_at_per_d,
    inhibited_light_share,
    light_cap_g_d,
    light_share,
    mean_light_share,
    nitrate_usable_um,
    nutrient_cap_mg_l,
)
from protoconch.errors import BadInput
from protoconch.sources.reading import load_catalogue

T_ISO = {"coldest_c": 8.0, "best_c": 27.0, "hottest_c": 34.0, "most_per_d": 0.8}
LIGHT = st.floats(min_value=0, max_value=2000)
HALF = st.floats(min_value=1, max_value=500)


@given(st.floats(min_value=-20, max_value=60))
def test_no_warmth_gives_more_than_the_best_and_none_gives_less_than_nothing(
    temperature: float,
) -> None:
    growth = growth_at_per_d(temperature, **T_ISO)
    assert 0 <= growth <= 0.8 * (1 + 1e-12)
    if not 8 < temperature < 34:
        assert growth == 0


@given(st.floats(min_value=8.1, max_value=33.8), st.floats(min_value=0.05, max_value=0.15))
def test_growth_rises_to_the_best_warmth_and_falls_after_it(warmth: float, more: float) -> None:
    here, there = growth_at_per_d(warmth, **T_ISO), growth_at_per_d(warmth + more, **T_ISO)
    if warmth + more <= 27:
        assert there > here
    if warmth >= 27:
        assert there < here


def test_a_culture_dies_of_heat_sooner_than_of_cold() -> None:
    assert growth_at_per_d(27 + 5, **T_ISO) < growth_at_per_d(27 - 5, **T_ISO)


@pytest.mark.parametrize("best", [21.0, 20.0, 34.0, 40.0, math.nan])
def test_a_best_warmth_below_the_middle_of_the_range_is_refused(best: float) -> None:
    with pytest.raises(BadInput, match="must lie between the middle of the range, 21 °C"):
        growth_at_per_d(25, **(T_ISO | {"best_c": best}))


@pytest.mark.parametrize("wrong", [math.nan, math.inf, -math.inf])
def test_a_temperature_that_is_no_number_is_not_taken_as_too_cold(wrong: float) -> None:
    with pytest.raises(BadInput, match="Each temperature must be a number"):
        growth_at_per_d(wrong, **T_ISO)
    for name in ("coldest_c", "hottest_c"):
        with pytest.raises(BadInput, match="Each temperature must be a number"):
            growth_at_per_d(25, **(T_ISO | {name: wrong}))
    with pytest.raises(BadInput, match="Fastest growth"):
        growth_at_per_d(25, **(T_ISO | {"most_per_d": wrong}))


@given(LIGHT, LIGHT, HALF)
def test_more_light_gives_more_growth_and_never_more_than_the_most(
    one: float, other: float, half: float
) -> None:
    low, high = min(one, other), max(one, other)
    assert 0 <= light_share(low, half) <= light_share(high, half) < 1
    assert light_share(half, half) == pytest.approx(0.5)


@given(LIGHT, HALF)
def test_too_much_light_harms_as_much_as_the_best_light_helps(light: float, best: float) -> None:
    share = inhibited_light_share(light, best)
    assert 0 <= share <= 1
    assert inhibited_light_share(best, best) == 1
    assert inhibited_light_share(0, best) == 0
    if light > best:
        assert inhibited_light_share(light * 1.1, best) < share or share == 0


@given(st.floats(min_value=0.001, max_value=50))
def test_the_mean_light_in_a_culture_is_what_every_layer_gets(thickness: float) -> None:
    layers = quad(lambda depth: math.exp(-thickness * depth), 0, 1)[0]
    assert mean_light_share(thickness, 1, 1) == pytest.approx(layers, rel=1e-6)
    assert mean_light_share(0.037, thickness / 0.037 / 0.2, 0.2) == pytest.approx(layers, rel=1e-6)


def test_clear_water_takes_no_light() -> None:
    assert mean_light_share(0.037, 0, 0.3) == 1
    assert mean_light_share(0.037, 1e-9, 0.3) == pytest.approx(1)


def test_a_bag_of_480_litres_makes_twenty_grams_a_day_as_the_survey_found() -> None:
    """3.2 m² lit, 150 µmol/m²/s day and night, 0.5 g/mol: 43 mg/L/d, near Coutteau & Sorgeloos."""
    grams = light_cap_g_d(3.2, 150, 24, 0.5)
    assert grams == pytest.approx(20.7, abs=0.05)
    assert grams / 480 * 1000 == pytest.approx(43, abs=0.5)
    assert 35 <= load_catalogue("flocculation")["yield"]["column_mg_l_d"].number <= 43


@given(st.floats(min_value=0, max_value=10), LIGHT, st.floats(min_value=0, max_value=24))
def test_twice_the_lit_area_makes_twice_the_algae(area: float, light: float, hours: float) -> None:
    once = light_cap_g_d(area, light, hours, 0.5)
    assert light_cap_g_d(2 * area, light, hours, 0.5) == pytest.approx(2 * once)
    assert light_cap_g_d(area, light, hours / 2, 0.5) == pytest.approx(once / 2)


def test_phosphate_runs_out_first_in_f_half() -> None:
    """12.36 mg N/L at 7 % and 1.122 mg P/L at 1 % of dry mass: 177 and 112 mg/L."""
    batch = medium("f/2", 1)
    nitrate, phosphate = batch.content_um["nitrate"], batch.content_um["phosphate"]
    both = nutrient_cap_mg_l(nitrate, phosphate, nitrogen_share=0.07, phosphorus_share=0.01)
    assert both == pytest.approx(112, abs=0.5)
    plenty = nutrient_cap_mg_l(nitrate, 1000, nitrogen_share=0.07, phosphorus_share=0.01)
    assert plenty == pytest.approx(177, abs=0.5)
    starved = nutrient_cap_mg_l(nitrate, 1000, nitrogen_share=0.04, phosphorus_share=0.01)
    assert starved == pytest.approx(309, abs=0.5)
    assert cells_cap_per_ml(plenty, 20) == pytest.approx(8.8e6, rel=0.01)
    assert cells_cap_per_ml(starved, 29.7) == pytest.approx(10.4e6, rel=0.01)


def test_silicate_runs_out_at_a_tenth_of_the_nitrate() -> None:
    """Brzezinski 1985: 1.12 mol silicate for each mol nitrate, 0.79 to 1.45."""
    batch = medium("f/2", 1)
    silicate = batch.content_um["silicate"]
    usable = nitrate_usable_um(silicate, load_catalogue("algae_growth")["si_to_n"].number)
    assert usable == pytest.approx(94, abs=0.5)
    assert usable / batch.content_um["nitrate"] == pytest.approx(0.107, abs=0.001)
    assert nitrate_usable_um(silicate, 1.45) == pytest.approx(73, abs=0.5)
    assert nitrate_usable_um(silicate, 0.79) == pytest.approx(134, abs=0.5)


@given(st.floats(min_value=0.1, max_value=1000), st.floats(min_value=1, max_value=300))
def test_the_cells_of_a_dry_mass_weigh_that_mass(dry_mg_l: float, cell_pg: float) -> None:
    cells = cells_cap_per_ml(dry_mg_l, cell_pg)
    assert cells * 1000 * cell_pg * 1e-9 == pytest.approx(dry_mg_l)


@pytest.mark.parametrize("wrong", [-1, math.nan, math.inf])
def test_numbers_that_cannot_be_are_refused(wrong: float) -> None:
    for refuse in (
        lambda: light_share(wrong, 60),
        lambda: light_share(100, wrong),
        lambda: inhibited_light_share(wrong, 60),
        lambda: inhibited_light_share(100, wrong),
        lambda: mean_light_share(0.037, wrong, 0.3),
        lambda: light_cap_g_d(wrong, 150, 24, 0.5),
        lambda: light_cap_g_d(1, wrong, 24, 0.5),
        lambda: light_cap_g_d(1, 150, wrong, 0.5),
        lambda: light_cap_g_d(1, 150, 24, wrong),
        lambda: nutrient_cap_mg_l(882, 36, nitrogen_share=wrong, phosphorus_share=0.01),
        lambda: nutrient_cap_mg_l(882, 36, nitrogen_share=0.07, phosphorus_share=wrong),
        lambda: nitrate_usable_um(106, wrong),
        lambda: cells_cap_per_ml(100, wrong),
    ):
        with pytest.raises(BadInput):
            refuse()
