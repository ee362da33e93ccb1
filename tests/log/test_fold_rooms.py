"""What entries about algae, water, stores and work do to the state."""

from datetime import date, timedelta
from uuid import UUID

import pytest

from protoconch.hatchery.vessels import vessel
from protoconch.log.fold import fold
from protoconch.log.state import Lot
from tests.log.test_fold_animals import STOCKED, _say
from tests.strategies import FIRST, HATCHERY, entry

FULL = vessel(HATCHERY, "reservoir").size
START = ("inoculated", "carboy 1", {"species": "t-iso", "litres": 18, "medium": "f/2"})


def test_a_culture_loses_what_is_drawn_and_gains_what_is_refilled():
    state = _say(START, ("harvested", "carboy 1", {"litres": 9, "refilled_l": 8}))
    culture = state.cultures["carboy 1"]
    assert (culture.litres, culture.harvested_l) == (17, 9)
    assert culture.last_harvest == FIRST + timedelta(hours=2)
    empty = _say(START, ("harvested", "carboy 1", {"litres": 18}),
                 ("culture ended", "carboy 1", {"reason": "used up"}))  # fmt: skip
    assert dict(empty.cultures) == {}
    assert empty.dirty == {"carboy 1"}
    assert empty.doubts == ()


def test_an_inoculum_is_gone_from_the_vessel_it_came_from():
    bottle = ("inoculated", "bottle 1", {"species": "t-iso", "litres": 2})
    state = _say(bottle, ("inoculated", "carboy 1", {"species": "t-iso", "litres": 18,
                 "inoculum_l": 1.5, "source": "bottle 1"}))  # fmt: skip
    assert state.cultures["bottle 1"].litres == pytest.approx(0.5)
    assert state.cultures["carboy 1"].litres == 18


def test_cells_are_counted_by_the_geometry_of_the_chamber():
    state = _say(START, ("culture counted", "carboy 1", {"chamber": "neubauer",
                 "loadings": [200, 190], "dilution": 10}))  # fmt: skip
    count = state.cultures["carboy 1"].counts[0]
    assert count.cells_per_ml == pytest.approx(195 / 4e-4 * 10)  # 4 squares of 1 mm2, 0.1 mm deep
    assert count.low < count.cells_per_ml < count.high
    one = _say(START, ("culture counted", "carboy 1", {"chamber": "Sedgewick-Rafter", "squares": 10,
               "loadings": [30]}))  # fmt: skip
    assert one.cultures["carboy 1"].counts[0].cells_per_ml == pytest.approx(3000)
    none = _say(START, ("culture counted", "carboy 1", {"chamber": "Neubauer", "loadings": [0]}))
    assert none.cultures["carboy 1"].counts[0].low == 0
    assert none.cultures["carboy 1"].counts[0].high == pytest.approx(3.6889 / 4e-4, rel=1e-4)


def test_what_was_found_in_a_culture_stays_on_the_mark_until_it_ends():
    seen = ("culture counted", "carboy 1", {"cells_per_ml": 2e6, "found": "ciliates"})
    later = ("culture counted", "carboy 1", {"cells_per_ml": 3e6})
    assert _say(START, seen, later).cultures["carboy 1"].found == "ciliates"
    ended = ("culture ended", "carboy 1", {"reason": "contaminated"})
    state = _say(START, seen, ended, ("cleaned", "carboy 1", {}), START)
    assert state.cultures["carboy 1"].found == ""
    assert state.dirty == frozenset()


@pytest.mark.parametrize(
    ("told", "words"),
    [
        ([START, START], "while it still held t-iso"),
        ([("harvested", "carboy 1", {"litres": 1})], "no culture in it"),
        ([("culture counted", "carboy 1", {"cells_per_ml": 1})], "no culture in it"),
        ([START, ("harvested", "carboy 1", {"litres": 23})], "the ledger had 18 L"),
        ([START, ("culture counted", "carboy 1", {"chamber": "mine", "loadings": [3]})],
         "no counting chamber mine"),
        ([("received", "", {"item": "x", "amount": 5, "unit": "g"}),
          ("used", "", {"item": "x", "amount": 5, "unit": "L"})], "kept in g"),
    ],
)  # fmt: skip
def test_what_cannot_be_in_the_rooms_is_doubted_and_not_counted(told, words):
    before, after = _say(*told[:-1]), _say(*told)
    assert words in after.doubts[-1].sentence
    assert (after.cultures, after.jars) == (before.cultures, before.jars)


def test_the_level_is_read_and_then_follows_what_goes_in_and_out():
    state = _say(
        ("pumped", "reservoir", {"litres": 50}),
        ("read", "reservoir", {"quantity": "level", "value": 3000}),
        ("pumped", "reservoir", {"litres": 200}),
        ("drawn", "reservoir", {"litres": 30}),
        ("water changed", "large tank 1", {"share": 0.5}),
        ("water changed", "large tank 1", {"litres": 70}),
        ("medium made", "", {"medium": "f/2", "litres": 20}),
    )
    level = state.levels["reservoir"]
    assert (level.litres, level.in_l, level.out_l) == (3000 + 200 - 30 - 200 - 70 - 20, 200, 320)
    assert level.read == FIRST + timedelta(hours=2)
    assert level.when == FIRST + timedelta(hours=7)
    assert state.holdings["large tank 1"].last_change == FIRST + timedelta(hours=6)


def test_a_level_stays_between_empty_and_full():
    assert _say(("drawn", "reservoir", {"litres": 9})).levels["reservoir"].litres == 0
    full = _say(("pumped", "reservoir", {"litres": FULL + 9})).levels["reservoir"]
    assert (full.litres, full.in_l, full.read) == (FULL, FULL + 9, None)


def test_readings_parts_and_lamps_are_the_last_ones():
    state = _say(
        ("read", "tray loop", {"quantity": "pH", "value": 8.0}),
        ("read", "tray loop", {"quantity": "pH", "value": 8.1}),
        ("cartridge changed", "5 µm stage", {"rating_um": 5}),
        ("cartridge changed", "5 µm stage", {}),
        ("lamp changed", "UV unit", {}),
    )
    assert state.readings["tray loop", "pH"].value == 8.1
    assert state.cartridges["5 µm stage"].rating_um == 5
    assert state.cartridges["5 µm stage"].changed == FIRST + timedelta(hours=4)
    assert state.lamps["UV unit"].changed == FIRST + timedelta(hours=5)


def test_the_jar_that_expires_first_is_used_first():
    def got(amount, unit, expires):
        return ("received", "", {"item": "f/2", "amount": amount, "unit": unit, "expires": expires})

    state = _say(got(1, "L", "2028-05-01"), got(300, "mL", "2027-06-01"), got(100, "mL", None),
                 ("used", "", {"item": "f/2", "amount": 0.4, "unit": "L"}))  # fmt: skip
    jar = state.jars["f/2"]
    assert (jar.unit, jar.expires) == ("L", date(2028, 5, 1))
    assert jar.amount == pytest.approx(1.0)
    assert [lot.expires for lot in jar.lots] == [date(2028, 5, 1), None]
    assert [lot.amount for lot in jar.lots] == pytest.approx([0.9, 0.1])
    out = _say(got(5, "g", None), ("used", "", {"item": "f/2", "amount": 6, "unit": "g"}))
    assert (out.jars["f/2"].amount, out.jars["f/2"].lots) == (0, ())
    assert out.doubts[0].counted
    assert Lot(1.0).expires is None


def test_feeding_is_dated_and_a_tray_may_be_fed_before_it_holds_animals():
    food = {"foods": [{"food": "navicula", "litres": 2}]}
    state = _say(("fed", "large tank 1", food), ("fed", "tray 1", food))
    assert state.holdings["large tank 1"].last_fed == FIRST + timedelta(hours=1)
    assert state.doubts == ()


def test_a_task_is_settled_by_whom_and_when_and_skipped_if_so():
    done = entry("done", "", {"work": "siphon", "skipped": True}, task="k1", number=5, who="crew B")
    fed = entry("counted", "large tank 1", {"animals": 900}, task="k2", number=6)
    wrong = entry("counted", "large tank 2", {"animals": 900}, task="k3", number=7)
    state = fold([STOCKED, done, fed, wrong], HATCHERY)
    assert (state.settled["k1"].who, state.settled["k1"].skipped) == ("crew B", True)
    assert not state.settled["k2"].skipped
    assert state.settled["k3"].entry == UUID(int=7)
    taken_back = entry("correction", "", {"of": str(done.id), "withdraw": True}, number=8)
    assert "k1" not in fold([done, taken_back], HATCHERY).settled


@pytest.mark.parametrize(
    ("where", "litres"),
    [("large tank 1", 400.0), ("tray 1", 3600 * 4.5 / 1000), ("raceway 1", 3.5 * 20 * 10)],
)
def test_a_change_of_water_draws_what_the_vessel_holds(where, litres):
    state = _say(("read", "reservoir", {"quantity": "level", "value": 3000}),
                 ("water changed", where, {}))  # fmt: skip
    assert state.levels["reservoir"].out_l == pytest.approx(litres)
