"""From nobody known to the manager of a described hatchery, once."""

import re

import pytest
from django.test import Client

from protoconch.errors import BadInput
from protoconch.operations import planning, starting
from protoconch.operations.first_description import first_answers, first_description, first_season
from protoconch.records.models import Description, Person, Role, Site
from protoconch.records.queries.site import hatchery
from protoconch.web.pages.welcome.questions import KEYS, QUESTIONS
from tests.web.pages.site.test_site import typed_as_shown

WORDS = "three conchs in a bucket"
TYPED = {
    "where": {"name": "Practice hatchery", "place": "A cay that does not exist",
              "zone": "America/Nassau"},
    "permit": {"area": "the north bank", "number": "none yet"},
    "manager": {"name": "Manager A", "password": WORDS},
}  # fmt: skip


@pytest.fixture(autouse=True)
def asked(monkeypatch):
    """Plans that were asked for; none is made here."""
    found = []
    monkeypatch.setattr(planning, "make_plan", found.append)
    return found


@pytest.fixture
def newcomer(db):
    client = Client()
    client.post("/welcome/", {"code": starting.first_code()})
    return client


def said(answer):
    return answer.content.decode()


def answer_all(client, until=None, **changed):
    for key in KEYS:
        page = said(client.get(f"/welcome/{key}/"))
        typed = typed_as_shown(page) | TYPED.get(key, {}) | changed.get(key, {})
        if key == until:
            return typed
        answer = client.post(f"/welcome/{key}/", typed | {"go": "next"})
        assert answer.status_code == 302, re.findall(r'class="error".+?</p>', said(answer))
    return answer


def test_there_are_at_most_twelve_questions():
    assert len(QUESTIONS) <= 12


def test_nobody_known_leads_to_the_first_question(newcomer):
    assert newcomer.get("/").headers["Location"] == "/welcome/"
    assert newcomer.get("/sign-in/").headers["Location"] == "/welcome/"
    assert newcomer.get("/welcome/").headers["Location"] == "/welcome/where/"


def test_the_offered_answers_make_a_hatchery_its_manager_and_a_plan(newcomer, asked):
    answer = answer_all(newcomer)
    person = Person.objects.get()
    assert person.role == Role.MANAGER
    assert person.check_password(WORDS)
    site = Site.objects.get()
    assert site.zone == "America/Nassau"
    described = hatchery(site)
    assert described.name == "Practice hatchery"
    assert described.target.animals == 1200
    assert described.waterworks.keeping.store.full_l == 18000
    assert [line.species for line in described.algae_room.room.lines]
    assert asked == [site]
    assert answer.headers["Location"] in {"/season/", "/season"}
    assert newcomer.get("/me/").status_code == 200, "the manager is signed in"


def test_what_is_typed_is_what_is_described(newcomer):
    answer_all(
        newcomer,
        water={"kind": "own"} | {f"month_{n}": f"{20 + n}" for n in range(1, 13)},
        tanks={"count": "3", "volume": "0.5 m3", "places": "7"},
        trays={"area": "0.36 m2"}, reservoir={"volume": "0", "level": "0"},
        permit={"months": ["11", "12", "1"], "egg_masses": "9", **TYPED["permit"]},
        algae={"bottles": "0"},
    )  # fmt: skip
    found = hatchery(Site.objects.get())
    assert found.temperature_c == tuple(range(21, 33))
    assert (found.larval_tanks[0].count, found.larval_tanks[0].litres) == (3, 500)
    assert found.trays[0].area_cm2 == 3600
    assert found.incubator_places == 7
    assert found.waterworks is None
    assert [kind.name for kind in found.algae_room.room.kinds] == ["flask", "carboy"]
    assert found.permit.months == (1, 11, 12)
    assert found.first_day.month in {11, 12, 1}


def test_nothing_typed_is_lost_going_back(newcomer):
    typed = answer_all(newcomer, until="trays") | {"count": "forty", "area": "60 x 60"}
    back = newcomer.post("/welcome/trays/", typed | {"go": "back"})
    assert back.headers["Location"] == "/welcome/tanks/"
    again = said(newcomer.get("/welcome/trays/"))
    assert 'value="forty"' in again
    assert 'value="60 x 60"' in again
    assert 'value="Practice hatchery"' in said(newcomer.get("/welcome/where/"))


def test_a_fault_stands_beside_its_field(newcomer):
    typed = answer_all(newcomer, until="tanks") | {"count": "0", "volume": "400 kg"}
    page = said(newcomer.post("/welcome/tanks/", typed | {"go": "next"}))
    assert 'id="id_count_error"' in page
    assert 'id="id_volume_error"' in page
    assert 'value="400 kg"' in page


def test_the_password_is_kept_nowhere_but_hashed(newcomer):
    typed = answer_all(newcomer, until="manager")
    newcomer.post("/welcome/manager/", typed | {"go": "back"})
    assert WORDS not in str(dict(newcomer.session))


def test_a_password_that_others_would_guess_is_refused(newcomer):
    typed = answer_all(newcomer, until="manager") | {"password": "password12"}
    assert 'id="id_password_error"' in said(newcomer.post("/welcome/manager/", typed))
    assert not Person.objects.exists()
    assert not Description.objects.exists()


def test_a_skipped_question_is_asked_before_the_plan(newcomer):
    newcomer.get("/welcome/")
    answer = newcomer.post("/welcome/manager/", TYPED["manager"])
    assert answer.headers["Location"] == "/welcome/where/"


@pytest.mark.parametrize("address", ["127.0.0.1", "192.168.1.30"])
def test_from_whichever_machine_the_printed_code_is_asked(db, address):
    client = Client(REMOTE_ADDR=address)
    assert "Nobody is known here yet" in said(client.get("/welcome/"))
    assert client.get("/welcome/where/").headers["Location"] == "/welcome/"
    assert client.post("/welcome/where/", TYPED["where"]).headers["Location"] == "/welcome/"
    wrong = said(client.post("/welcome/", {"code": "maple otter window lemon stone raft"}))
    assert "This is not the code" in wrong
    right = client.post("/welcome/", {"code": starting.first_code().upper()})
    assert right.headers["Location"] == "/welcome/where/"
    assert client.get("/welcome/where/").status_code == 200


def test_the_printed_link_carries_the_code(db, client):
    code = starting.first_code().replace(" ", "-")
    assert client.get(f"/welcome/?code={code}").headers["Location"] == "/welcome/where/"
    assert "This is not the code" in said(Client().get("/welcome/?code=maple-otter"))


def test_the_code_cannot_be_tried_out(db):
    client = Client(REMOTE_ADDR="192.168.1.30")
    for _ in range(5):
        answer = client.post("/welcome/", {"code": "maple otter window"})
    assert "Too many tries" in said(answer)
    assert "Too many tries" in said(client.post("/welcome/", {"code": starting.first_code()}))


def test_once_somebody_is_known_the_first_start_is_closed_for_ever(newcomer, asked):
    answer_all(newcomer)
    for client in (newcomer, Client(), Client()):
        assert client.get("/welcome/").status_code == 404
        assert client.get("/welcome/where/").status_code == 404
        assert client.post("/welcome/manager/", TYPED["manager"]).status_code == 404
        assert client.post("/welcome/", {"code": starting.first_code()}).status_code == 404
    Person.objects.update(active=False)
    assert Client().get("/welcome/").status_code == 404
    assert Person.objects.count() == 1


def test_the_code_stays_through_a_restart_and_differs_by_installation(settings):
    one = starting.first_code()
    assert one == starting.first_code()
    settings.SECRET_KEY = "".join(reversed(settings.SECRET_KEY))
    assert starting.first_code() != one


def _answers(today):
    known = {key: dict(part) for key, part in first_answers().items()}
    months = tuple(known["permit"]["months"])
    known["permit"] |= {"months": months, "area": "a bank", "number": "none yet"}
    known["water"] = {"temperatures": tuple(known["water"]["mid"])}
    known["where"] = {"name": "Practice", "place": "Nowhere", "species": "queen-conch"}
    known["target"] |= first_season(months, today)._asdict()
    return known


@pytest.mark.parametrize("today", ["2027-01-01", "2027-04-01", "2027-08-15", "2027-12-31"])
@pytest.mark.parametrize("months", [(4, 5, 6, 7, 8, 9), (1, 11, 12), tuple(range(1, 13)), (2,)])
def test_the_season_offered_lies_ahead_and_within_the_permit(today, months):
    from datetime import date

    season = first_season(months, date.fromisoformat(today))
    assert date.fromisoformat(today) <= season.last_day
    assert season.first_day <= season.last_day < season.by
    assert season.first_day.month in months
    assert season.last_day.month in months
    assert (season.last_day - season.first_day).days < 366


def test_a_name_with_marks_and_quotes_is_described_as_typed():
    from datetime import date

    from protoconch.hatchery.reading import read_hatchery

    answers = _answers(date(2027, 1, 1))
    answers["where"]["name"] = 'A "quoted" {braced} name\\'
    assert read_hatchery(first_description(answers), "x").name == answers["where"]["name"]


def test_no_second_first_start_even_past_the_page(newcomer):
    answer_all(newcomer)
    text = Description.objects.get().text
    with pytest.raises(BadInput, match="has its people already"):
        starting.start(text, "UTC", "Manager B", WORDS)
    assert Site.objects.count() == 1
