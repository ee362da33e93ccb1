"""A form that was kept on a phone, as the server takes it."""

import json
from datetime import UTC, datetime, timedelta
from uuid import uuid4

import pytest
from django.test import Client

from protoconch.operations.people.roles import set_pin
from protoconch.records.models import Entry, Person, Role
from protoconch.records.queries.log import state
from tests.web.pages.today.season_begun import NOON, logged, stop_the_clock

pytestmark = pytest.mark.django_db
TANK = "large tank 3"


@pytest.fixture(autouse=True)
def noon(monkeypatch):
    stop_the_clock(monkeypatch)


def ms(moment):
    return str(moment.timestamp() * 1000)


def kept(person, kind="lost", where=TANK, age=timedelta(hours=3), payload=None, **more):
    """Fields of a form as a phone sends them."""
    typed = NOON - age
    return {
        "id": str(uuid4()), "where": where,
        **{f"payload.{name}": value for name, value in (payload or {"animals": 40}).items()},
        "carried.address": f"/log/add/{kind.replace(' ', '-')}", "carried.person": str(person.pk),
        "carried.at": ms(typed), "carried.sent": ms(NOON), "carried.ahead": "0",
        "carried.seen": ms(typed - timedelta(hours=1)), "carried.steady": "", **more,
    }  # fmt: skip


def sent(client, fields):
    answer = client.post("/carried/take", fields)
    assert answer.status_code == 200, answer.content
    return json.loads(answer.content)


def test_a_kept_form_is_saved_once_with_the_time_it_happened(site, crew, client_of):
    logged(crew)
    fields = kept(crew)
    client = client_of(crew)
    assert sent(client, fields)["outcome"] == "saved"
    assert sent(client, fields)["outcome"] == "there"
    made = Entry.objects.get(kind="lost")
    assert (made.happened, made.unasked, made.who) == (NOON - timedelta(hours=3), True, crew.name)


def test_the_same_number_with_other_content_is_never_taken_silently(site, crew, client_of):
    logged(crew)
    fields, client = kept(crew), client_of(crew)
    sent(client, fields)
    told = sent(client, fields | {"payload.animals": "50"})
    assert told["outcome"] == "doubtful"
    assert "other content" in told["sentences"][0]
    assert Entry.objects.get(kind="lost").payload["animals"] == 40


def test_what_is_at_odds_is_kept_and_its_doubt_told_with_a_way_to_settle_it(site, crew, client_of):
    told = sent(client_of(crew), kept(crew, "counted", payload={"animals": 900}))
    assert told["outcome"] == "doubtful"
    assert told["sentences"] == ["Large tank 3 was counted, but the log never put animals into it."]
    made = Entry.objects.get()
    assert told["links"] == [[f"/log/{made.uuid}", "Look at it and settle it"]]
    assert client_of(crew).get(told["links"][0][0]).status_code == 200


def test_what_can_never_be_true_is_refused_in_a_sentence(site, crew, client_of):
    reading = {"quantity": "temperature", "value": "2800"}
    told = sent(client_of(crew), kept(crew, "read", payload=reading))
    assert told["outcome"] == "refused"
    assert "which no instrument shows" in told["sentences"][0]
    told = sent(client_of(crew), kept(crew, "counted", payload={"animals": "many"}))
    assert told["outcome"] == "refused"
    assert not Entry.objects.exists()


def test_an_unlikely_value_that_nobody_was_asked_about_counts_and_is_in_doubt(
    site, crew, client_of
):
    reading = {"quantity": "temperature", "value": "38"}
    told = sent(client_of(crew), kept(crew, "read", payload=reading))
    assert told["outcome"] == "doubtful"
    (doubt,) = state(site).doubts
    assert doubt.counted
    client_of(crew).post(f"/log/{Entry.objects.get().uuid}/settle", {"stands": "yes"})
    assert state(site).doubts == ()


def test_a_clock_a_day_ahead_is_put_right_in_words(site, crew, client_of):
    logged(crew)
    day = timedelta(days=1)
    fields = kept(crew) | {
        "carried.at": ms(NOON + day - timedelta(hours=2)), "carried.sent": ms(NOON + day),
        "carried.ahead": str(day.total_seconds() * 1000),
    }  # fmt: skip
    told = sent(client_of(crew), fields)
    assert told["outcome"] == "saved"
    assert "1 day ahead" in told["sentences"][0]
    assert Entry.objects.get(kind="lost").happened == NOON - timedelta(hours=2)


def test_a_clock_that_cannot_be_put_right_asks_and_takes_what_a_person_says(site, crew, client_of):
    logged(crew)
    client = client_of(crew)
    fields = kept(crew) | {"carried.at": ms(datetime(2020, 1, 1, tzinfo=UTC))}
    told = sent(client, fields)
    assert told["outcome"] == "when"
    assert not Entry.objects.filter(kind="lost").exists()
    assert sent(client, fields | {"carried.when": "2027-05-20T09:30"})["outcome"] == "saved"
    assert Entry.objects.get(kind="lost").happened == NOON - timedelta(hours=1, minutes=30)


@pytest.mark.parametrize("name", ["carried.at", "carried.sent", "carried.ahead", "carried.seen"])
@pytest.mark.parametrize("value", ["", "nan", "1e300", "yesterday"])
def test_a_time_that_cannot_be_read_is_no_trace(site, crew, client_of, name, value):
    logged(crew)
    assert "outcome" in sent(client_of(crew), kept(crew) | {name: value})


@pytest.mark.parametrize("address", ["", "/", "/people/", "/log/add/nothing", "/nowhere", "::"])
def test_only_forms_of_entries_are_carried(site, crew, client_of, address):
    told = sent(client_of(crew), kept(crew) | {"carried.address": address})
    assert told["outcome"] == "refused"


def test_what_one_person_typed_does_not_go_up_as_another_s(site, crew, manager, client_of):
    assert sent(client_of(manager), kept(crew))["outcome"] == "other"
    assert not Entry.objects.exists()


def test_nobody_signed_in_is_led_to_the_sign_in_and_a_viewer_is_refused(
    site, crew, viewer, client_of
):
    assert Client().post("/carried/take", kept(crew)).status_code == 302
    assert client_of(viewer).post("/carried/take", kept(viewer)).status_code == 403


def test_the_tablet_sends_in_the_name_of_who_typed_and_asks_for_a_number(site, crew, client_of):
    logged(crew)
    tablet = Person.objects.create_user(
        "tablet", site=site, name="wet room tablet", role=Role.CREW, tablet=True
    )
    client = client_of(tablet)
    fields = kept(tablet)
    assert client.post("/carried/take", fields).status_code == 428
    assert sent(client, fields | {"who": str(crew.pk)})["outcome"] == "saved"
    assert Entry.objects.get(kind="lost").who == crew.name
    set_pin(crew, "2468")
    fields = kept(tablet) | {"who": str(crew.pk)}
    assert client.post("/carried/take", fields).status_code == 428
    assert b"pin_error" in client.post("/carried/take", fields | {"pin": "1111"}).content
    assert sent(client, fields | {"pin": "2468"})["outcome"] in ("saved", "doubtful")


def test_the_clock_says_the_time_and_who_is_signed_in(site, crew, client_of):
    told = client_of(crew).get("/carried/clock").json()
    assert told == {"now": round(NOON.timestamp() * 1000), "person": str(crew.pk)}
    answer = Client().get("/carried/clock")
    assert answer.json()["person"] == ""
    assert "csrftoken" in answer.cookies


def test_the_worker_and_the_app_are_told_to_anybody(site):
    worker = Client().get("/worker.js")
    assert worker["Content-Type"].startswith("text/javascript")
    assert worker.content.startswith(b"const VERSION = '")
    told = Client().get("/app.webmanifest").json()
    assert told["start_url"] == "/"
    for icon in told["icons"]:
        answer = Client().get(icon["src"])
        assert b"".join(answer.streaming_content)
        answer.close()
