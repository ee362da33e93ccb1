"""The Algae pages, and the schedule that is kept for them."""

from datetime import datetime, time, timedelta
from uuid import uuid4
from zoneinfo import ZoneInfo

import pytest
from django.utils import timezone

from protoconch.hatchery.vessels import vessels
from protoconch.log.reading import read_entry
from protoconch.operations.algae_room import make_room, make_rooms
from protoconch.operations.planning import look_after
from protoconch.records.models import Answer, Description, Role, Site
from protoconch.records.queries.algae_room import ROOM, room_planned
from protoconch.records.queries.log import state
from protoconch.records.queries.site import hatchery
from protoconch.records.rows import row_of
from tests.fixtures.site import ZONE, _person


@pytest.fixture
def day(quick_plan):
    """A day on which the schedule has cultures and food."""
    return quick_plan[1].first + timedelta(days=40)


@pytest.fixture(autouse=True)
def noon(day, monkeypatch):
    """It is noon of that day."""
    now = datetime.combine(day, time(12), ZoneInfo(ZONE))
    monkeypatch.setattr(timezone, "now", lambda: now)
    return now


@pytest.fixture
def page(site, viewer, client_of):
    client = client_of(viewer)

    def seen(address="/algae"):
        answer = client.get(address)
        assert answer.status_code == 200
        return answer.content.decode()

    return seen


def log(site, kind, where, when, **payload):
    known = {vessel.name: vessel for vessel in vessels(hatchery(site))}
    moment = when.isoformat()
    raw = {"id": str(uuid4()), "kind": kind, "happened": moment, "arrived": moment,
           "who": "crew A", "where": where, "payload": payload}  # fmt: skip
    row_of(site, read_entry(raw, known)).save()


def start(site, noon, vessel="carboy 2", days=6, litres=20.0, species="t-iso"):
    log(site, "inoculated", vessel, noon - timedelta(days=days), species=species, litres=litres,
        inoculum_l=2.0, medium="f/2")  # fmt: skip


def count(site, noon, million, vessel="carboy 2", days=0.1, **more):
    log(site, "culture counted", vessel, noon - timedelta(days=days),
        cells_per_ml=million * 1e6, **more)  # fmt: skip


def test_before_the_first_culture_the_schedule_says_when_it_begins(planned_site, page):
    text = page()
    assert "No culture is logged yet; the first is to be started on" in text
    assert "The next two weeks" in text


def test_without_a_plan_a_culture_still_has_its_line_and_its_page(site, page, noon):
    start(site, noon)
    text = page()
    assert "One culture is there, 1 ready" in text
    assert "Tisochrysis" in text
    assert "not counted" in text
    own = page("/algae/vessels/carboy 2")
    assert "It was not counted yet" in own
    assert 'id="algae-curve-t"' in own


def test_a_count_stands_on_the_curve_and_on_the_line(site, page, noon):
    start(site, noon)
    log(site, "culture counted", "carboy 2", noon, chamber="Neubauer", loadings=[90, 110],
        dilution=10)  # fmt: skip
    assert "million/mL (" in page()
    own = page("/algae/vessels/carboy 2")
    assert own.count('class="missed"') == 1
    assert "By one count" in own


def test_contamination_is_the_first_thing_said(site, page, noon):
    start(site, noon)
    count(site, noon, 5.0, found="ciliates")
    text = page()
    assert "One culture is contaminated: feed nothing from carboy 2" in text
    assert "contaminated</span>" in text


def test_a_drawn_culture_shows_its_story_instead_of_a_curve(site, page, noon):
    start(site, noon)
    log(site, "harvested", "carboy 2", noon, litres=3.0, refilled_l=3.0)
    own = page("/algae/vessels/carboy 2")
    assert "no curve is laid through them" in own
    assert "Harvested so far" in own


def test_what_was_taken_back_is_no_part_of_the_story(site, page, noon):
    start(site, noon)
    count(site, noon, 5.0)
    assert "counted carboy 2" in page("/algae/vessels/carboy 2")
    of = site.entries.get(kind="culture counted").uuid
    log(site, "correction", "", noon, of=str(of), withdraw=True)
    assert "counted carboy 2" not in page("/algae/vessels/carboy 2")


def test_an_empty_vessel_says_so_and_an_unknown_one_is_not_found(site, page, viewer, client_of,
                                                               noon):  # fmt: skip
    assert "Carboy 4 is empty" in page("/algae/vessels/carboy 4")
    start(site, noon, "carboy 4")
    log(site, "culture ended", "carboy 4", noon, reason="crashed")
    assert "to be cleaned" in page("/algae/vessels/carboy 4")
    for name in ("large tank 1", "carboy 99", "%00", "🐚"):
        assert client_of(viewer).get(f"/algae/vessels/{name}").status_code == 404


def test_the_room_is_planned_anew_from_present_cultures_and_kept(planned_site, page, noon):
    start(planned_site, noon)
    count(planned_site, noon, 6.0)
    assert "not planned anew from these cultures yet" in page()
    assert make_rooms(noon) == 1
    text = page()
    assert "Planned from the cultures there were on" in text
    assert "is being planned anew" not in text
    assert "If one crashes tomorrow" in text
    assert "Lines and spares" in text
    assert make_rooms(noon) == 0


def test_the_program_s_worker_plans_rooms_without_being_asked(planned_site, noon, monkeypatch):
    start(planned_site, noon)

    class Noon(datetime):
        @classmethod
        def now(cls, tz=None):
            return noon.astimezone(tz)

    monkeypatch.setattr("protoconch.operations.planning.datetime", Noon)
    look_after()
    kept = room_planned(planned_site, state(planned_site), noon.date())
    assert kept.current
    assert kept.kept.day == noon.date()


def test_a_new_entry_makes_the_kept_schedule_old_and_the_next_one_replaces_it(
    planned_site, page, noon
):
    start(planned_site, noon)
    make_room(planned_site, noon)
    count(planned_site, noon, 3.0, days=0.01)
    assert not room_planned(planned_site, state(planned_site), noon.date()).current
    assert "is being planned anew" in page()
    soon = noon + timedelta(seconds=30)
    Answer.objects.filter(name=ROOM).update(made=noon)
    assert not make_room(planned_site, soon)
    assert make_room(planned_site, noon + timedelta(minutes=3))
    assert room_planned(planned_site, state(planned_site), noon.date()).current


def test_a_room_that_cannot_be_planned_says_why(planned_site, page, noon, quick_plan):
    beyond = datetime.combine(
        quick_plan[1].day(quick_plan[1].demand.days + 5), time(12), ZoneInfo(ZONE)
    )
    start(planned_site, noon)
    make_room(planned_site, beyond)
    kept = room_planned(planned_site, state(planned_site), beyond.date()).kept
    assert kept.plan is None
    assert "outside the schedule" in kept.fault


def test_no_page_waits_for_the_solver(planned_site, page, noon, monkeypatch):
    start(planned_site, noon)

    def never(*_args, **_parts):
        raise AssertionError("a page asked the solver")

    monkeypatch.setattr("protoconch.algae.chain.program.Program.solve", never)
    page()
    page("/algae/vessels/carboy 2")


def test_the_bench_gives_f_2_by_its_recipe(site, page):
    """Guillard 1975: 1 mL/L of each stock, 0.5 mL/L of vitamins."""
    text = page("/algae/bench?medium=f/2&litres=20")
    card = text[text.index('id="h-in"') : text.index('id="h-clean"')]
    assert card.count("20 mL") == 4
    assert card.count("10 mL") == 1
    assert "0.84" not in card


def test_silicate_is_doubled_where_it_is_asked(page, site):
    plain, double = (page(f"/algae/bench?litres=10&silicate={n}") for n in ("1", "2"))
    line = 'Silicate stock</b></p><span class="amount">{}'
    assert line.format("10 mL") in plain
    assert line.format("20 mL") in double


def test_only_starters_are_microwaved_and_cautions_stand_beside(page, site):
    large, small = page("/algae/bench?litres=20"), page("/algae/bench?litres=1.5")
    assert "take several bottles or the autoclave" in large
    assert "10 min in an oven of 700 W" in small
    assert "Never mix it with acid or ammonia: the gas kills." in small


@pytest.mark.parametrize("asked", ["litres=-3", "litres=shell", "litres=", "medium=sea",
                                   "litres=2&power=9e9", "silicate=7", "litres=nan"])  # fmt: skip
def test_what_cannot_be_is_answered_at_its_field(page, site, asked):
    assert 'class="error"' in page(f"/algae/bench?{asked}")


def test_a_hatchery_without_an_algae_room_is_told_what_it_would_see(db, client_of):
    from protoconch.hatchery.reading import demo_text

    made = Site.objects.create(name="Bare hatchery", zone=ZONE)
    Description.objects.create(site=made, text=demo_text(), by="the test")
    text = client_of(_person(made, "manager A", Role.MANAGER)).get("/algae").content.decode()
    assert "The algae room is not described yet" in text


def test_crew_have_the_buttons_and_viewers_have_not(site, page, crew, client_of, noon):
    start(site, noon)
    address = "/algae/vessels/carboy 2"
    entering = "/log/add/culture-counted?where=carboy%202"
    assert entering not in page(address)
    assert entering in client_of(crew).get(address).content.decode()


@pytest.mark.parametrize("address", ["/algae", "/algae/bench", "/algae/vessels/carboy 2"])
def test_pages_are_small_and_ask_for_a_sign_in(planned_site, page, client, noon, address):
    start(planned_site, noon)
    make_room(planned_site, noon)
    assert len(page(address).encode()) < 100_000
    assert client.get(address).status_code == 302
