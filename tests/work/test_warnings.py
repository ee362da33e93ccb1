"""What the log warns of."""

from dataclasses import replace

import pytest

from protoconch.animals.profiles import species
from protoconch.hatchery.reading import demo_hatchery
from protoconch.work.warnings import warnings
from tests.work.made_up_plan import Shape, made_up_plan
from tests.work.written import Written, on

PLAN = replace(made_up_plan(Shape(tanks=(("large", 1, 400.0),))), hatchery=demo_hatchery())


def told(log, day):
    found = warnings(log.state, log.plan, log.plan.hatchery, species("queen-conch"), on(day))
    return [(warning.topic, warning.urgent, warning.sentence) for warning in found]


def read(log, day, where, **values):
    for quantity, value in values.items():
        log.add(day, "read", where, quantity=quantity.replace("_", " "), value=value)
    return log


@pytest.mark.parametrize(("celsius", "side"), [(24.0, "below 25"), (31.5, "above 31")])
def test_a_tank_out_of_the_species_temperatures_is_a_matter_of_today(celsius, side):
    found = told(read(Written(PLAN), 3, "large tank 1", temperature=celsius), 3)
    assert [line[:2] for line in found] == [("water", True)]
    assert side in found[0][2]


def test_good_water_and_yesterdays_news_raise_no_warning():
    log = read(Written(PLAN), 3, "large tank 1", temperature=28.5, oxygen=6.3, salinity=35)
    assert told(log, 3) == []
    assert told(read(Written(PLAN), 3, "large tank 1", temperature=33.0), 6) == []


def test_low_oxygen_warns_and_very_low_oxygen_is_urgent():
    assert told(read(Written(PLAN), 3, "large tank 1", oxygen=4.7), 3)[0][1] is False
    assert told(read(Written(PLAN), 3, "large tank 1", oxygen=3.5), 3)[0][1] is True


def test_a_cartridge_is_due_by_its_pressure_until_it_is_changed():
    log = read(Written(PLAN), 3, "5 µm stage", pressure_before=200.0, pressure_after=80.0)
    assert "5 µm stage takes 120 kPa" in told(log, 3)[0][2]
    assert told(log.add(3, "cartridge changed", "5 µm stage", 9), 3) == []


def test_the_reservoir_warns_before_it_cannot_wait_for_a_missed_filling():
    assert told(read(Written(PLAN), 3, "reservoir", level=17_000.0), 3) == []
    low = told(read(Written(PLAN), 3, "reservoir", level=5_200.0), 3)
    assert low[0][:2] == ("water", True)


def test_a_lamp_past_its_hours_is_named():
    log = Written(PLAN).add(0, "lamp changed", "UV unit")
    assert told(log, 200) == []
    assert "lamp of the UV unit" in told(log, 380)[0][2]


def test_a_foul_culture_is_not_to_be_fed():
    log = Written(PLAN).add(0, "inoculated", "carboy 1", species="t-iso", litres=20.0)
    assert told(log, 1) == []
    log.add(1, "culture counted", "carboy 1", cells_per_ml=1e6, found="ciliates")
    assert told(log, 1) == [("algae", True, "In carboy 1 ciliates was found.")]


def test_expired_jars_and_those_that_soon_are_get_named():
    log = Written(PLAN).add(0, "received", "", item="vitamins", amount=10, unit="mL",
                            expires=on(20).isoformat())  # fmt: skip
    assert told(log, 1) == []
    assert told(log, 10)[0][:2] == ("stores", False)
    assert told(log, 21)[0][:2] == ("stores", True)


def test_the_permit_is_told_before_it_is_used_up():
    log = Written(PLAN)
    for number in range(19):
        log.add(1, "egg mass collected", "", mass=f"m{number}")
    assert not [line for line in told(log, 1) if line[0] == "permit"]
    for number in range(19, 25):
        log.add(1, "egg mass collected", "", mass=f"m{number}")
    assert [line[1] for line in told(log, 1) if line[0] == "permit"] == [True]


def test_eggs_near_hatching_and_eggs_overdue_are_told():
    log = Written(PLAN).add(0, "egg mass collected", "", mass="27A-1")
    log.add(0, "incubator loaded", "incubator 1", 9, batch="27A", masses=["27A-1"])
    assert ("animals", False, "Batch 27A should hatch tomorrow.") in told(log, 3)
    assert ("animals", True, "Batch 27A should have hatched on 5 April.") in told(log, 7)


def test_a_tank_that_nobody_counted_is_named():
    log = Written(PLAN).stocked(4)
    assert not [line for line in told(log, 7) if "Nobody counted" in line[2]]
    assert [line for line in told(log, 9) if "Nobody counted large tank 1" in line[2]]


def test_every_doubt_of_the_log_is_told():
    log = Written(PLAN).add(2, "fed", "large tank 1", foods=[{"food": "t-iso", "litres": 0.5}])
    assert [line[0] for line in told(log, 3)] == ["log"]
