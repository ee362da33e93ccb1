"""Seawater made clean enough for cultures: heat, chlorine, and chlorine taken out again."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from protoconch.algae.sterilising import (
    CHLORINE_CAUTIONS,
    HEAT_CAUTIONS,
    PRODUCTS,
    autoclave_minutes,
    bleach_ml,
    heating_seconds,
    microwave,
    neutraliser_g,
    thiosulfate_ratio,
    usual_ratio,
)
from protoconch.errors import BadInput, OutOfRange, UnknownName
from protoconch.sources.reading import load_catalogue

VOLUME = st.floats(min_value=0.1, max_value=5000)


def test_ten_minutes_at_700_watts_are_what_the_heat_balance_asks() -> None:
    """Keller, Bellows & Guillard 1988: 1.5 L in 10 min; 84 °C, 700 W from Creswell 2010."""
    all_in = heating_seconds(1.5, from_c=20, to_c=84, power_w=700)
    assert all_in * 700 / 1000 == pytest.approx(393, abs=1)
    assert all_in / 600 == pytest.approx(0.93, abs=0.006)
    lossy = heating_seconds(1.5, from_c=20, to_c=84, power_w=700, efficiency=0.93)
    assert lossy == pytest.approx(600, rel=0.01)


@given(VOLUME, st.floats(min_value=100, max_value=5000), st.floats(min_value=0.1, max_value=1))
def test_twice_the_water_takes_twice_as_long_and_twice_the_power_half(
    volume: float, power: float, efficiency: float
) -> None:
    asked = {"from_c": 20, "to_c": 80, "efficiency": efficiency}
    once = heating_seconds(volume, power_w=power, **asked)
    assert heating_seconds(2 * volume, power_w=power, **asked) == pytest.approx(2 * once)
    assert heating_seconds(volume, power_w=2 * power, **asked) == pytest.approx(once / 2)
    halves = heating_seconds(volume, from_c=20, to_c=50, power_w=power, efficiency=efficiency)
    assert halves == pytest.approx(once / 2)


@pytest.mark.parametrize(("low", "high"), [(20, 100), (80, 20), (math.nan, 80), (20, math.nan)])
def test_cooling_and_boiling_are_no_heating(low: float, high: float) -> None:
    with pytest.raises(BadInput, match="is not heating below boiling"):
        heating_seconds(1.5, from_c=low, to_c=high, power_w=700)


@pytest.mark.parametrize("efficiency", [0, 1.01, -1, math.nan])
def test_no_oven_gives_more_heat_than_it_takes(efficiency: float) -> None:
    with pytest.raises(OutOfRange, match="Efficiency is"):
        heating_seconds(1.5, from_c=20, to_c=84, power_w=700, efficiency=efficiency)


def test_the_published_bottle_is_microwaved_for_the_published_time() -> None:
    way = microwave(1.5, power_w=700, vessel="bottle")
    assert (way.method, way.minutes) == ("microwave", 10)
    assert way.cautions == HEAT_CAUTIONS
    assert microwave(1.5, power_w=350, vessel="flask").minutes == pytest.approx(20)


@given(st.floats(min_value=0.01, max_value=1.5), st.floats(min_value=0.01, max_value=1.5))
def test_a_smaller_bottle_takes_less_time_but_never_less_than_half(one: float, two: float) -> None:
    small, large = min(one, two), max(one, two)
    short, long = (microwave(v, power_w=700, vessel="flask").minutes for v in (small, large))
    assert 5 <= short <= long <= 10


@pytest.mark.parametrize("vessel", ["carboy", "column", ""])
def test_only_water_for_starters_is_microwaved(vessel: str) -> None:
    with pytest.raises(BadInput, match="for starters only"):
        microwave(1, power_w=700, vessel=vessel)


def test_a_bottle_larger_than_was_tried_is_refused() -> None:
    with pytest.raises(BadInput, match=r"2 L is more than the 1.5 L .* several bottles"):
        microwave(2, power_w=700, vessel="bottle")


@pytest.mark.parametrize(("litres", "minutes"), [(0.1, 10), (1, 15), (2, 20), (5, 35), (20, 75)])
def test_the_autoclave_runs_for_the_published_minutes(litres: float, minutes: float) -> None:
    """Guillard 1975 for 1 and 2 L; Andersen 2005 from memory; 20 L common practice, no source."""
    assert autoclave_minutes(litres) == pytest.approx(minutes)


def test_between_the_rows_minutes_follow_the_doublings_of_the_volume() -> None:
    assert autoclave_minutes(math.sqrt(2)) == pytest.approx(17.5)
    assert autoclave_minutes(10) == pytest.approx(55)
    assert autoclave_minutes(0.05) == 10


@given(st.floats(min_value=0.01, max_value=20), st.floats(min_value=0.01, max_value=20))
def test_a_larger_bottle_is_never_autoclaved_for_less(one: float, other: float) -> None:
    small, large = min(one, other), max(one, other)
    assert autoclave_minutes(small) <= autoclave_minutes(large) + 1e-9


@pytest.mark.parametrize("litres", [0, -1, 20.1, math.nan])
def test_what_is_too_large_for_the_autoclave_is_sent_to_chlorine(litres: float) -> None:
    with pytest.raises(OutOfRange, match=r"outside 0 to 20 L\. Chlorinate larger volumes"):
        autoclave_minutes(litres)


@pytest.mark.parametrize(("strength", "mg_per_ml"), [(5, 47.6), (5.25, 50.0), (12.5, 119)])
def test_a_millilitre_of_bleach_carries_so_much_chlorine(strength: float, mg_per_ml: float) -> None:
    """70.906 g chlorine for 74.44 g sodium hypochlorite (IUPAC masses)."""
    ml = bleach_ml(1, wanted_mg_l=mg_per_ml, strength_percent=strength)
    assert ml == pytest.approx(1, rel=0.003)


@given(VOLUME, st.floats(min_value=0, max_value=300), st.floats(min_value=1, max_value=20))
def test_the_chlorine_poured_in_is_the_chlorine_wanted(
    volume: float, wanted: float, strength: float
) -> None:
    ml = bleach_ml(volume, wanted_mg_l=wanted, strength_percent=strength)
    chlorine_mg = ml * strength * 10 * 70.906 / 74.44
    assert chlorine_mg == pytest.approx(volume * wanted, rel=1e-4)


@pytest.mark.parametrize("strength", [0, -1, 20.5, math.nan, math.inf])
def test_no_bleach_is_as_strong_as_that(strength: float) -> None:
    with pytest.raises(OutOfRange, match="Strength of the bleach"):
        bleach_ml(20, wanted_mg_l=2, strength_percent=strength)


@pytest.mark.parametrize(
    ("product", "molar_mass"),
    [("thiosulfate-pentahydrate", 248.18), ("thiosulfate-anhydrous", 158.11)],
)
def test_thiosulfate_goes_by_moles_of_chlorine(product: str, molar_mass: float) -> None:
    """S2O3 + 4 OCl + H2O = 2 SO4 + 4 Cl + 2 H; 2 S2O3 + Cl2 = S4O6 + 2 Cl."""
    assert thiosulfate_ratio(product) == pytest.approx(molar_mass / 70.906 / 4)
    most = thiosulfate_ratio(product, "tetrathionate")
    assert most == pytest.approx(molar_mass / 70.906 * 2)
    assert thiosulfate_ratio(product) < usual_ratio(product) < most


def test_the_usual_dose_is_half_as_much_again_as_the_least() -> None:
    assert usual_ratio("thiosulfate-pentahydrate") == pytest.approx(1.3, abs=0.02)
    for product in PRODUCTS:
        assert usual_ratio(product) == pytest.approx(1.5 * thiosulfate_ratio(product))


def test_a_carboy_with_a_millilitre_of_bleach_to_the_litre() -> None:
    """Worked: 20 mL of 5 % carry 952 mg chlorine; least 0.83 g, most 6.67 g; the stock 1.25 g."""
    chlorine = 952 / 20
    assert bleach_ml(20, wanted_mg_l=chlorine, strength_percent=5) == pytest.approx(20, rel=1e-3)
    pentahydrate = "thiosulfate-pentahydrate"
    least = neutraliser_g(20, chlorine, thiosulfate_ratio(pentahydrate))
    assert least == pytest.approx(0.83, abs=0.005)
    most = neutraliser_g(20, chlorine, thiosulfate_ratio(pentahydrate, "tetrathionate"))
    assert most == pytest.approx(6.67, abs=0.01)
    stock_g = 5 * load_catalogue("sterilising")["thiosulfate"]["stock_g_l"].number / 1000
    assert stock_g == pytest.approx(
        neutraliser_g(20, chlorine, usual_ratio(pentahydrate)), rel=0.01
    )


@given(VOLUME, st.floats(min_value=0, max_value=300), st.floats(min_value=0.5, max_value=7))
def test_no_chlorine_needs_no_thiosulfate_and_twice_needs_twice(
    volume: float, chlorine: float, ratio: float
) -> None:
    once = neutraliser_g(volume, chlorine, ratio)
    assert neutraliser_g(volume, 2 * chlorine, ratio) == pytest.approx(2 * once)
    assert neutraliser_g(volume, 0, ratio) == 0


def test_unknown_products_and_endings_are_refused() -> None:
    with pytest.raises(UnknownName, match="no product vitamin-c; there are thiosulfate-penta"):
        thiosulfate_ratio("vitamin-c")
    with pytest.raises(UnknownName, match="not as sulfite"):
        thiosulfate_ratio(PRODUCTS[0], "sulfite")


def test_chlorine_is_never_told_of_without_its_dangers() -> None:
    said = " ".join(CHLORINE_CAUTIONS)
    for word in ("gloves", "goggles", "local rules", "acid", "Test with DPD or OTO", "0.05 mg/L"):
        assert word in said
    assert load_catalogue("sterilising")["chlorine"]["safe_mg_l"].number == 0.05


@pytest.mark.parametrize("wrong", [-1, math.nan, math.inf])
def test_numbers_that_cannot_be_are_refused(wrong: float) -> None:
    for refuse in (
        lambda: heating_seconds(wrong, from_c=20, to_c=80, power_w=700),
        lambda: heating_seconds(1, from_c=20, to_c=80, power_w=wrong),
        lambda: microwave(wrong, power_w=700, vessel="flask"),
        lambda: microwave(1, power_w=wrong, vessel="flask"),
        lambda: bleach_ml(wrong, wanted_mg_l=2, strength_percent=5),
        lambda: bleach_ml(20, wanted_mg_l=wrong, strength_percent=5),
        lambda: neutraliser_g(wrong, 2, 1.3),
        lambda: neutraliser_g(20, wrong, 1.3),
        lambda: neutraliser_g(20, 2, wrong),
    ):
        with pytest.raises(BadInput):
            refuse()
