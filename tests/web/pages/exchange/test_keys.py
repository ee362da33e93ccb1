"""Keys on their page, and the calendar that one of them opens."""

import re
from datetime import date, timedelta

import icalendar
import pytest
from django.urls import reverse

from protoconch.records.models import Key, Person
from protoconch.records.queries.answers import planned
from protoconch.web.pages.exchange import feed

pytestmark = pytest.mark.django_db


def made(client, purpose):
    page = client.post(reverse("exchange:keys"), {"purpose": purpose, "words": "my phone"})
    return re.search(r'id="secret" readonly value="([^"]+)"', page.content.decode())[1]


@pytest.fixture
def busy(planned_site, monkeypatch):
    """The feed as of a week before the first batch hatches."""
    day = planned(planned_site).plan.batches[0].dates.hatch - timedelta(days=7)
    monkeypatch.setattr(feed.timezone, "localdate", lambda **zone: day)
    return day


def test_a_key_is_shown_once_and_ended(crew, client_of, client):
    own = client_of(crew)
    secret = made(own, "api")
    assert (
        client.get("/api/state", headers={"Authorization": f"Bearer {secret}"}).status_code == 200
    )
    page = own.get(reverse("exchange:keys")).content.decode()
    assert secret not in page
    assert "my phone" in page
    own.post(reverse("exchange:end", args=[Key.objects.get().pk]))
    assert (
        client.get("/api/state", headers={"Authorization": f"Bearer {secret}"}).status_code == 401
    )


def test_nobody_ends_anothers_key(crew, viewer, client_of):
    made(client_of(crew), "api")
    answer = client_of(viewer).post(reverse("exchange:end", args=[Key.objects.get().pk]))
    assert answer.status_code == 404
    assert Key.objects.count() == 1


def test_a_key_for_nothing_is_refused(crew, client_of):
    answer = client_of(crew).post(reverse("exchange:keys"), {"purpose": "everything"})
    assert answer.status_code == 422
    assert Key.objects.count() == 0


def test_the_calendar_holds_the_work_of_sixty_days(busy, viewer, client_of, client):
    address = made(client_of(viewer), "calendar")
    answer = client.get(address)
    assert answer.headers["Content-Type"].startswith("text/calendar")
    read = icalendar.Calendar.from_ical(answer.content)
    events = read.walk("VEVENT")
    days = {event.decoded("dtstart") for event in events}
    assert len(days) > 20
    assert min(days) >= busy
    assert max(days) < busy + timedelta(days=60)
    assert len({str(event["uid"]) for event in events}) == len(events)
    assert all(isinstance(day, date) for day in days)


def test_an_ended_address_and_a_guessed_one_open_nothing(busy, viewer, client_of, client):
    own = client_of(viewer)
    address = made(own, "calendar")
    assert client.get(address).status_code == 200
    own.post(reverse("exchange:end", args=[Key.objects.get().pk]))
    assert client.get(address).status_code == 404
    assert client.get(reverse("exchange:feed", args=["guessed"])).status_code == 404
    assert client.get(reverse("exchange:feed", args=["ñ" * 300])).status_code == 404


def test_each_reads_the_calendar_in_their_own_words(busy, viewer, crew, client_of, client):
    Person.objects.filter(pk=crew.pk).update(language="es")
    first, second = (made(client_of(person), "calendar") for person in (viewer, crew))
    for address, said, unsaid in ((first, "Morning", "Mañana"), (second, "Mañana", "Morning")):
        told = client.get(address).content.decode().replace("\r\n ", "")
        assert f"SUMMARY:{said}" in told
        assert f"SUMMARY:{unsaid}" not in told


def test_the_calendar_of_somebody_who_left_is_closed(busy, viewer, client_of, client):
    address = made(client_of(viewer), "calendar")
    Person.objects.filter(pk=viewer.pk).update(active=False)
    assert client.get(address).status_code == 404


def test_without_a_plan_the_calendar_is_empty_and_sound(viewer, client_of, client):
    answer = client.get(made(client_of(viewer), "calendar"))
    assert icalendar.Calendar.from_ical(answer.content).walk("VEVENT") == []
