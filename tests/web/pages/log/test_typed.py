"""What a form sent, as the entry it tells of."""

from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from django.utils import timezone
from hypothesis import given
from hypothesis import strategies as st

from protoconch.web.pages.log.typed import moment, payload, raw_entry

NOW = datetime.fromisoformat("2027-05-20T15:00:00+00:00")


def test_fields_by_their_path_become_lists_and_parts_in_order():
    sent = {
        "payload.foods.1.food": "diatom", "payload.foods.0.food": " flagellate ",
        "payload.foods.0.litres": "3,2 L", "payload.foods.2.food": "", "payload.left": "0.1",
        "where": "large tank 1", "csrfmiddlewaretoken": "x",
    }  # fmt: skip
    assert payload(sent) == {
        "foods": [{"food": "flagellate", "litres": "3,2 L"}, {"food": "diatom"}], "left": "0.1"
    }  # fmt: skip


def test_what_is_empty_was_not_told():
    assert payload({"payload.note": "   ", "payload.animals": ""}) == {}


@given(st.dictionaries(st.text("payload.0123abc_", max_size=40), st.text(max_size=5), max_size=12))
def test_no_names_of_fields_break_the_reading(sent):
    assert isinstance(payload(sent), dict)


def test_a_time_without_a_zone_is_by_the_sites_clock():
    with timezone.override(ZoneInfo("America/Nassau")):
        assert moment("2027-05-20T08:30", NOW) == "2027-05-20T08:30:00-04:00"
        assert moment("", NOW) == NOW.isoformat()
        assert moment("half past", NOW) == "half past"


@pytest.mark.parametrize("typed", ["9999-12-31T23:59", "0001-01-01T00:00", "2027-03-14T02:30"])
def test_times_at_the_edge_of_the_calendar_break_nothing(typed):
    with timezone.override(ZoneInfo("America/Nassau")):
        assert moment(typed, NOW)


def test_an_entry_has_its_own_number_place_and_line():
    raw = raw_entry({"id": " 7 ", "kind": "note", "where": "pier", "payload.text": "calm"}, NOW)
    assert raw["id"] == "7"
    assert (raw["kind"], raw["where"], raw["task"]) == ("note", "pier", "")
    assert raw["payload"] == {"text": "calm"}
    assert datetime.fromisoformat(raw["happened"]) - NOW == timedelta(0)
