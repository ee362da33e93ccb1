"""What seawater formulas refuse, and the sentence with which they do."""

import math
from collections.abc import Callable

import pytest

from protoconch.errors import BadInput, OutOfRange, UnknownName
from protoconch.seawater.ammonia import ammonium_pk
from protoconch.seawater.carbonate import carbonate_from_carbon, carbonate_from_ph
from protoconch.seawater.evaporation import evaporation_kg_m2_h
from protoconch.seawater.nitrogen import compound_mg_l
from protoconch.seawater.oxygen import oxygen_saturation_mg_l
from protoconch.seawater.ph_scales import known_scale, ph_on_total_scale
from protoconch.seawater.ranges import more_than_zero, within
from protoconch.seawater.salt import blended_salinity, salinity_after_evaporation
from protoconch.seawater.state import (
    density_kg_m3,
    salinity_from_conductivity,
    salinity_from_hydrometer,
)

CASES: list[tuple[Callable[[], object], str]] = [
    (lambda: density_kg_m3(25, 350), "Did you mean 35?"),
    (lambda: density_kg_m3(280, 35), "Temperature is 280 °C, outside -2 to 40 °C."),
    (lambda: density_kg_m3(25, math.nan), "not a number"),
    (lambda: oxygen_saturation_mg_l(25, 35, 1013), "divide by 10"),
    (lambda: salinity_from_conductivity(53_000, 25), "divide by 1,000"),
    (lambda: salinity_from_hydrometer(1.5, 25, 25), "no salinity from 0 to 42"),
    (lambda: evaporation_kg_m2_h(25, 25, 60, 0), "60 % as 0.6"),
    (lambda: carbonate_from_ph(25, 10, 8.0, 2300), "do not cover fresher water"),
    (lambda: carbonate_from_ph(25, 35, 8.0, 2.3), "In meq/L"),
    (lambda: carbonate_from_ph(25, 35, 10.9, 300), "leaves no room for carbonate"),
    (lambda: carbonate_from_carbon(25, 35, 10, 20_000), "No pH from 4 to 11"),
    (lambda: ammonium_pk(25, 41), "outside 0 to 40"),
    (lambda: ph_on_total_scale(8, "nbs", 25, 5), "calibrate in seawater buffers"),
    (lambda: blended_salinity(()), "must be more than 0"),
    (lambda: salinity_after_evaporation(35, 10, 10), "All of the water would be gone"),
    (lambda: within("flow", math.inf, 0, math.inf, "L/min"), "Flow is not a number"),
    (lambda: more_than_zero("flow", -1, "L/min"), "Flow is -1 L/min; it must be more than 0."),
    (lambda: more_than_zero("flow", math.nan), "in plain figures"),
]


@pytest.mark.parametrize(("call", "sentence"), CASES)
def test_what_cannot_be_is_refused_in_a_sentence(call: Callable[[], object], sentence: str) -> None:
    with pytest.raises(BadInput) as refusal:
        call()
    assert sentence in str(refusal.value)
    assert str(refusal.value).endswith((".", "?"))


def test_the_parts_of_a_refusal_can_be_read() -> None:
    with pytest.raises(OutOfRange) as refusal:
        density_kg_m3(25, 50)
    assert (refusal.value.name, refusal.value.value, refusal.value.high) == ("salinity", 50, 42)


def test_a_scale_or_compound_that_nobody_knows_is_refused() -> None:
    assert known_scale(" NBS ") == "nbs"
    with pytest.raises(UnknownName, match="say total, free or nbs"):
        known_scale("seawater")
    with pytest.raises(UnknownName, match="NH3, NH4, NO2, NO3"):
        compound_mg_l(1, "N2")
