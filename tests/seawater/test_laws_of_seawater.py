"""Laws that seawater keeps, whatever the numbers."""

import warnings

import pytest
from hypothesis import given
from hypothesis import strategies as st

from protoconch.errors import BadInput
from protoconch.seawater.ammonia import unionised_mg_n_l, unionised_share
from protoconch.seawater.carbonate import (
    carbonate_from_carbon,
    carbonate_from_co2,
    carbonate_from_ph,
)
from protoconch.seawater.evaporation import (
    evaporation_kg_m2_h,
    still_evaporation_kg_m2_h,
    vapour_pressure_kpa,
)
from protoconch.seawater.heat import evaporation_cooling_w, flow_heating_kw, tank_heating_kw
from protoconch.seawater.nitrogen import COMPOUNDS, compound_mg_l, nitrogen_mg_l
from protoconch.seawater.oxygen import oxygen_saturation_mg_l
from protoconch.seawater.ph_scales import (
    SCALES,
    known_scale,
    ph_from_total_scale,
    ph_on_total_scale,
)
from protoconch.seawater.salt import (
    blended_salinity,
    salinity_after_evaporation,
    steady_salinity,
    top_up,
)
from protoconch.seawater.state import (
    conductivity_ms_cm,
    density_kg_m3,
    heat_of_evaporation_j_kg,
    salinity_from_conductivity,
    salinity_from_hydrometer,
    specific_gravity,
    viscosity_pa_s,
)

temperatures = st.floats(2, 35)
salinities = st.floats(20, 40)
alkalinities = st.floats(1000, 4000)


@given(temperatures, salinities, st.floats(0.1, 5))
def test_warmer_or_saltier_water_holds_less_oxygen(t: float, s: float, more: float) -> None:
    here = oxygen_saturation_mg_l(t, s)
    assert oxygen_saturation_mg_l(t + more, s) < here
    assert oxygen_saturation_mg_l(t, s - more) > here
    assert oxygen_saturation_mg_l(t, s, 95.0) < here


@given(temperatures, salinities, st.floats(0.1, 5))
def test_warmer_water_is_lighter_and_thinner_saltier_water_heavier_and_stiffer(
    t: float, s: float, more: float
) -> None:
    assert density_kg_m3(t + more, s) < density_kg_m3(t, s) < density_kg_m3(t, s + more / 4)
    assert viscosity_pa_s(t + more, s) < viscosity_pa_s(t, s) < viscosity_pa_s(t, s + more / 4)


@given(temperatures, st.floats(2, 41.9))
def test_salinity_comes_back_from_conductivity_and_hydrometer(t: float, s: float) -> None:
    assert salinity_from_conductivity(conductivity_ms_cm(s, t), t) == pytest.approx(s, abs=1e-6)
    reading = specific_gravity(t, s, 20.0)
    assert salinity_from_hydrometer(reading, t, 20.0) == pytest.approx(s, abs=1e-6)


@given(st.sampled_from(SCALES), st.floats(6.5, 9.0), temperatures, salinities)
def test_a_ph_comes_back_from_every_scale(scale: str, ph: float, t: float, s: float) -> None:
    kind = known_scale(scale)
    there = ph_from_total_scale(ph, kind, t, s)
    assert ph_on_total_scale(there, kind, t, s) == pytest.approx(ph, abs=1e-12)
    if kind != "total":
        assert 0.02 < there - ph < 0.25


@given(temperatures, salinities, st.floats(7.0, 8.6), alkalinities)
def test_every_way_into_the_carbonate_system_gives_the_same_state(
    t: float, s: float, ph: float, alkalinity: float
) -> None:
    first = carbonate_from_ph(t, s, ph, alkalinity)
    for again in (
        carbonate_from_carbon(t, s, first.dic_umol_kg, alkalinity),
        carbonate_from_co2(t, s, first.pco2_uatm, alkalinity),
    ):
        assert again.ph == pytest.approx(ph, abs=1e-8)
        assert again.aragonite_saturation == pytest.approx(first.aragonite_saturation, rel=1e-7)
    assert first.calcite_saturation > first.aragonite_saturation


@pytest.mark.parametrize(
    ("t", "s", "alkalinity", "dic"),
    [(25, 35, 2350, 2050), (27, 35, 2300, 2000), (28, 36, 1800, 1700), (20, 30, 2200, 2000),
     (10, 32, 2150, 2060)],
)  # fmt: skip
def test_the_carbonate_system_agrees_with_an_independent_library(
    t: float, s: float, alkalinity: float, dic: float
) -> None:
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        import PyCO2SYS

        theirs = PyCO2SYS.sys(
            par1=alkalinity, par2=dic, par1_type=1, par2_type=2, salinity=s, temperature=t,
            opt_pH_scale=1, opt_k_carbonic=10, opt_k_fluoride=2, opt_total_borate=1,
        )  # fmt: skip
    ours = carbonate_from_carbon(t, s, dic, alkalinity)
    assert ours.ph == pytest.approx(float(theirs["pH"]), abs=5e-4)
    assert ours.pco2_uatm == pytest.approx(float(theirs["pCO2"]), rel=1e-3)
    assert ours.aragonite_saturation == pytest.approx(
        float(theirs["saturation_aragonite"]), abs=0.005
    )
    assert ours.calcite_saturation == pytest.approx(float(theirs["saturation_calcite"]), abs=0.008)
    free = ph_from_total_scale(float(theirs["pH"]), "free", t, s)
    assert free == pytest.approx(float(theirs["pH_free"]), abs=1e-6)
    # the library reads the fluoride constant on the free scale, the guide of 2007 on the total one
    nbs = ph_from_total_scale(float(theirs["pH"]), "nbs", t, s)
    assert nbs == pytest.approx(float(theirs["pH_nbs"]), abs=0.005)


@pytest.mark.parametrize(("t", "s"), [(25, 35), (10, 34), (20, 34), (28, 36), (15, 20)])
def test_ammonium_agrees_with_an_independent_library(t: float, s: float) -> None:
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        import PyCO2SYS

        theirs = PyCO2SYS.sys(
            par1=2300, par2=8.0, par1_type=1, par2_type=3, salinity=s, temperature=t,
            opt_pH_scale=1, opt_k_carbonic=10,
        )  # fmt: skip
    share = 1 / (1 + 10**-8.0 / float(theirs["k_ammonia"]))
    assert unionised_share(t, s, 8.0) == pytest.approx(share, rel=1e-9)


def test_air_lifts_the_shell_more_than_baking_soda_does() -> None:
    """Salinity 35, 27 °C, alkalinity 1,800, CO2 1,000 µatm: aerate first."""
    stale = carbonate_from_co2(27, 35, 1000, 1800)
    soda = carbonate_from_carbon(27, 35, stale.dic_umol_kg + 200, 2000)
    washing_soda = carbonate_from_carbon(27, 35, stale.dic_umol_kg + 100, 2000)
    aired = carbonate_from_co2(27, 35, 420, 1800)
    assert stale.aragonite_saturation == pytest.approx(1.21, abs=0.01)
    assert soda.aragonite_saturation == pytest.approx(1.30, abs=0.01)
    assert washing_soda.aragonite_saturation == pytest.approx(2.19, abs=0.02)
    assert aired.aragonite_saturation == pytest.approx(2.29, abs=0.01)


@given(temperatures, salinities, st.floats(7.0, 8.6), st.floats(0.05, 0.3))
def test_more_ammonia_is_unionised_when_water_is_warmer_or_less_acid(
    t: float, s: float, ph: float, more: float
) -> None:
    here = unionised_share(t, s, ph)
    assert 0 < here < 1
    assert unionised_share(t, s, ph + more) > here
    assert unionised_share(t + 10 * more, s, ph) > here
    assert unionised_share(t, s, ph, "free") < here
    assert unionised_mg_n_l(t, s, ph, "total", 2.0) == pytest.approx(2 * here)


@given(st.floats(1, 5000), st.floats(10, 40), st.floats(0.01, 0.5))
def test_salt_is_conserved_when_water_evaporates_and_when_it_is_topped_up(
    mass: float, salinity: float, share: float
) -> None:
    lost = share * mass * (1 - salinity / 42)
    after = salinity_after_evaporation(salinity, mass, lost)
    assert after * (mass - lost) == pytest.approx(salinity * mass)
    assert top_up(mass - lost, after, salinity) == pytest.approx(lost, abs=1e-6 * mass)


@given(st.lists(st.tuples(st.floats(0.1, 1e4), st.floats(0, 42)), min_size=1, max_size=6))
def test_mixed_water_lies_between_its_parts_and_holds_all_their_salt(
    parts: list[tuple[float, float]],
) -> None:
    mixed = blended_salinity(tuple(parts))
    low, high = min(s for _, s in parts), max(s for _, s in parts)
    assert low - 1e-9 <= mixed <= high + 1e-9
    assert mixed * sum(m for m, _ in parts) == pytest.approx(sum(m * s for m, s in parts), abs=1e-6)


@given(st.floats(1, 5000), st.floats(20, 40), st.floats(0, 42), st.floats(0.05, 0.95))
def test_a_top_up_reaches_its_target(mass: float, now: float, added: float, part: float) -> None:
    target = now + part * (added - now)
    if abs(now - added) < 0.5:
        return
    litres = top_up(mass, now, target, added)
    assert blended_salinity(((mass, now), (litres, added))) == pytest.approx(target)


def test_a_top_up_that_cannot_reach_its_target_is_refused() -> None:
    with pytest.raises(BadInput, match="cannot bring 33 to 35"):
        top_up(500, 33, 35)
    assert top_up(500, 35, 35) == 0


def test_seawater_make_up_lets_salt_build_up() -> None:
    assert steady_salinity(35, 0.1, 0.0) == 35
    assert steady_salinity(35, 0.1, 0.02) > steady_salinity(35, 0.2, 0.02) > 35


@given(st.floats(10, 35), st.floats(10, 35), st.floats(0.2, 0.95), st.floats(0, 2))
def test_drier_air_and_more_wind_take_more_water(
    water: float, air: float, humid: float, wind: float
) -> None:
    here = evaporation_kg_m2_h(water, air, humid, wind)
    assert here >= 0
    assert evaporation_kg_m2_h(water, air, humid - 0.1, wind) >= here
    assert evaporation_kg_m2_h(water, air, humid, wind + 0.5) >= here
    assert evaporation_kg_m2_h(water, air, humid, wind, 35.0) <= here


@given(st.floats(10, 35), st.floats(10, 35), st.floats(0.2, 0.95))
def test_drier_air_takes_more_from_a_still_surface(water: float, air: float, humid: float) -> None:
    """Shah's factor steps from 40 to 35 where the air's weight differs by 0.02 kg/m³."""
    still = still_evaporation_kg_m2_h(water, air, humid)
    assert 0 <= still <= 40 / 35 * still_evaporation_kg_m2_h(water, air, humid - 0.1)


def test_wind_takes_water_as_the_printed_form_says() -> None:
    still, windy = (evaporation_kg_m2_h(27, 25, 0.6, wind) for wind in (0.0, 1.0))
    assert windy / still == pytest.approx((0.089 + 0.0782) / 0.089)


def test_salt_lowers_the_pressure_of_vapour() -> None:
    assert vapour_pressure_kpa(27, 35) / vapour_pressure_kpa(27) == pytest.approx(0.981, abs=0.001)


def test_heat_goes_with_flow_with_rise_and_with_time() -> None:
    assert flow_heating_kw(60, -2, 25, 35) == -flow_heating_kw(60, 2, 25, 35)
    assert tank_heating_kw(1000, 1, 2, 25, 35) == pytest.approx(1.137 / 2, abs=1e-3)
    assert evaporation_cooling_w(5, 27, 35) == pytest.approx(141, abs=1)
    assert heat_of_evaporation_j_kg(27, 35) == pytest.approx(2.4342e6, rel=1e-3)


@given(st.sampled_from(sorted(COMPOUNDS)), st.floats(0, 100))
def test_nitrogen_comes_back_from_every_compound(compound: str, nitrogen: float) -> None:
    assert nitrogen_mg_l(compound_mg_l(nitrogen, compound), compound) == pytest.approx(nitrogen)
