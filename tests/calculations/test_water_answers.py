"""The calculations of water and waterworks, as they are asked from outside."""

import pytest

from protoconch import calculations
from protoconch.errors import BadInput, MissingInput

OURS = ("oxygen-saturation", "seawater-density", "ammonia", "carbonate", "salinity-top-up",
        "pipe-loss", "operating-point", "uv-dose", "reservoir", "outage")  # fmt: skip
KEYS = {
    "oxygen-saturation": ("oxygen_mg_l", "oxygen_umol_kg"),
    "seawater-density": ("density_kg_m3",),
    "ammonia": ("unionised_share", "unionised_mg_n_l"),
    "carbonate": ("aragonite_saturation", "calcite_saturation", "pco2_uatm", "dic_umol_kg"),
    "salinity-top-up": ("add_l",),
    "pipe-loss": ("velocity_m_s", "reynolds", "friction_factor", "head_loss_m"),
    "operating-point": ("flow_l_min", "head_m"),
    "uv-dose": ("dose_mj_cm2",),
    "reservoir": ("days_left", "low_point_l", "shortfall_l"),
    "outage": ("hours",),
}


@pytest.mark.parametrize("name", OURS)
def test_each_has_its_keys_its_sources_and_units(name: str) -> None:
    one = calculations.known()[name]
    assert tuple(result.key for result in one.results) == KEYS[name]
    assert one.sources
    assert all(given.sentence.endswith(".") for given in one.inputs)


def test_a_fast_line_warns_and_a_slow_one_does_not() -> None:
    line = {"nominal": 1, "length": "10 m"}
    fast = calculations.run("pipe-loss", {"flow": "15 US gal/min", **line})
    assert any("wider pipe" in caution for caution in fast.cautions)
    slow = calculations.run("pipe-loss", {"flow": "5 US gal/min", **line})
    assert not any("wider pipe" in caution for caution in slow.cautions)


def test_an_operating_point_off_the_curve_says_so() -> None:
    asked = {"curve": "0:25, 40:22, 60:20", "static_head": 3, "nominal": 2, "length": 5}
    found = calculations.run("operating-point", asked)
    assert found.result["flow_l_min"] > 60
    assert any("outside the points" in caution for caution in found.cautions)


def test_the_store_counts_from_the_level_given_or_from_full() -> None:
    asked = {"volume": "18 m3", "daily_use": 600, "fill_interval": 7, "missed_fills": 2}
    full = calculations.run("reservoir", asked).result
    assert full["days_left"] == pytest.approx(30)
    assert full["low_point_l"] == pytest.approx(5400)
    low = calculations.run("reservoir", {**asked, "level": 6000}).result
    assert low["shortfall_l"] == pytest.approx(6600)
    with pytest.raises(BadInput, match="above the usable volume"):
        calculations.run("reservoir", {**asked, "level": 20_000})


def test_an_outage_takes_saturation_from_temperature_and_salinity() -> None:
    asked = {"volume": 100, "biomass": 1000, "oxygen_use": 0.1, "start_oxygen": 6, "limit": 3,
             "reaeration": 0.1}  # fmt: skip
    given = calculations.run("outage", {**asked, "saturation_oxygen": 6.53}).result["hours"]
    worked = calculations.run("outage", {**asked, "temperature": 27, "salinity": 35})
    assert worked.result["hours"] == pytest.approx(given, rel=0.01)
    with pytest.raises(MissingInput, match="give temperature and salinity"):
        calculations.run("outage", asked)


def test_a_scale_of_ph_changes_the_answer() -> None:
    asked = {"temperature": 27, "salinity": 35, "ph": 8.1, "total_ammonia_mg_n_l": 1}
    shares = {
        scale: calculations.run("ammonia", {**asked, "ph_scale": scale}).result["unionised_share"]
        for scale in ("total", "free", "nbs")
    }
    assert shares["total"] > 1.14 * shares["free"]
    assert shares["total"] > 1.2 * shares["nbs"]
    carbonate = {k: v for k, v in asked.items() if k != "total_ammonia_mg_n_l"}
    total = calculations.run("carbonate", {**carbonate, "alkalinity": 2300}).result
    nbs = calculations.run("carbonate", {**carbonate, "alkalinity": 2300, "ph_scale": "nbs"})
    assert nbs.result["aragonite_saturation"] < total["aragonite_saturation"]
