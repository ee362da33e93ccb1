"""The site report seen in a real Chromium: on a phone and on a desk."""

from datetime import date

import pytest

from protoconch.hatchery.waterworks_reading import demo_waterworks
from protoconch.sheets.site_report import site_page
from protoconch.waterworks.assessment import assessment
from protoconch.waterworks.description import Waterworks
from tests.browser.test_season_report import CHROMIUM, looked_at
from tests.waterworks.made_up_networks import changed, small

DAY = date(2027, 6, 1)

pytestmark = [
    pytest.mark.browser,
    pytest.mark.skipif(CHROMIUM is None, reason="no Chromium on this machine to look with"),
]


def demo() -> str:
    return site_page(assessment(demo_waterworks(), first=DAY), "Nowhere", DAY, invented=True)


def full_of_faults() -> str:
    bad = changed(changed(small(), "way around", shut=False), "main", material="copper")
    bad = changed(bad, "larvae valve", name="a valve with a name as long as people ever type one")
    return site_page(assessment(Waterworks(bad), first=DAY), "Nowhere", DAY, invented=True)


@pytest.fixture(scope="module", params=[demo, full_of_faults])
def seen(request, tmp_path_factory):
    return looked_at(tmp_path_factory.mktemp("look"), request.param())


def test_nothing_runs_off_the_side_and_nothing_is_fetched(seen) -> None:
    phone, desk, console = seen
    assert console == []
    for width, look in ((360, phone), (1280, desk)):
        assert look["wide"] == []
        assert look["closed"] <= width
        assert look["open"] <= width
        assert look["fetched"] == []


def test_a_phone_is_shown_the_list_and_a_desk_the_tree(seen) -> None:
    phone, desk, _ = seen
    assert (phone["phone"], phone["desk"]) == (True, False)
    assert (desk["phone"], desk["desk"]) == (False, True)


def test_drawn_words_are_large_do_not_touch_and_are_not_cut_off(seen) -> None:
    for look in seen[:2]:
        assert look["letters"] >= 11
        assert look["touching"] == []
        assert look["outside"] == []
        assert look["contrast"]["ratio"] >= 4.5
