"""The Water page."""

from datetime import timedelta
from uuid import uuid4

import pytest
from django.utils import timezone

from protoconch.hatchery.vessels import vessels
from protoconch.log.reading import read_entry
from protoconch.records.models import Description, Role, Site
from protoconch.records.queries.site import hatchery
from protoconch.records.rows import row_of
from tests.fixtures.site import ZONE, _person


@pytest.fixture
def page(site, viewer, client_of):
    def seen():
        return client_of(viewer).get("/water").content.decode()

    return seen


def log(site, kind, where, days=0.0, **payload):
    known = {vessel.name: vessel for vessel in vessels(hatchery(site))}
    when = (timezone.now() - timedelta(days=days)).isoformat()
    raw = {"id": str(uuid4()), "kind": kind, "happened": when, "arrived": when, "who": "crew A",
           "where": where, "payload": payload}  # fmt: skip
    row_of(site, read_entry(raw, known)).save()


def read(site, where, quantity, value, days=0.0):
    log(site, "read", where, days, quantity=quantity, value=value)


def test_before_anybody_reads_anything_the_description_s_values_stand_there_and_it_says_so(page):
    text = page()
    assert "Water for" in text
    assert "Nobody has read the level yet" in text
    assert "12,000" in text
    assert "Nothing of this loop was read yet" in text
    assert "by the description" in text
    assert "Nothing that was read or worked out wants seeing to." in text


def test_a_level_that_was_read_is_the_level_from_then_on(site, page):
    read(site, "reservoir", "level", 8130.0, 0.02)
    text = page()
    assert "8,130" in text
    assert "Nobody has read the level yet" not in text
    before = int(text.split("Water for ")[1].split(" ")[0].replace("four", "4")
                 .replace("three", "3"))  # fmt: skip
    log(site, "drawn", "reservoir", 0.01, litres=2900.0)
    later = page()
    assert "carried on by what was pumped and drawn since" in later
    assert "Water for three days" in later or "Water for two days" in later or before > 2
    assert "fill now" in later


def test_readings_outside_their_limits_are_named_first_and_act_now_is_said(site, page):
    read(site, "tray loop", "temperature", 31.6)
    read(site, "tray loop", "ammonia as nitrogen", 0.25)
    read(site, "tray loop", "pH", 8.2)
    text = page()
    lead = text.split('class="lead">')[1].split("</p>")[0]
    assert "tray loop: temperature 31.6" in lead
    assert "un-ionised part of it" in lead
    assert "act now" in text
    assert "a meter set in ordinary buffers" in text


def test_a_withdrawn_reading_is_drawn_no_more(site, page):
    for days in (4, 3, 2):
        read(site, "tray loop", "salinity", 35.0 + days / 10, days)
    assert "3 readings between 35.2 and 35.4" in page()
    of = site.entries.filter(kind="read").order_by("happened").first().uuid
    log(site, "correction", "", of=str(of), withdraw=True)
    assert "3 readings between" not in page()


def test_pressures_tell_when_the_cartridge_is_due(site, page):
    log(site, "cartridge changed", "5 µm stage", 5, rating_um=5)
    for days, drop in ((4, 30.0), (3, 37.0), (2, 46.0), (1, 62.0)):
        read(site, "5 µm stage", "pressure before", 180.0, days)
        read(site, "5 µm stage", "pressure after", 180.0 - drop, days)
    text = page()
    assert "From 30 kPa to 62 kPa since it was put in." in text
    assert "By its pressures it is due about" in text
    assert "whatever the pressure says" in text


def test_a_faster_flow_lowers_the_dose(site, page):
    read(site, "UV unit", "flow", 400.0)
    text = page()
    assert "dose too low" in text
    assert "400 L/min, read" in text


def test_crew_type_a_reading_in_place_and_viewers_do_not(site, page, crew, client_of):
    assert 'name="payload.value"' not in page()
    client = client_of(crew)
    text = client.get("/water").content.decode()
    form = text[text.index('<form method="post" action="/log/add/read"') :]
    sent = {"id": form.split('name="id" value="')[1].split('"')[0], "where": "reservoir",
            "payload.quantity": "level", "payload.value": "9000"}  # fmt: skip
    assert f'value="{sent["payload.quantity"]}"' in form
    answer = client.post("/log/add/read", sent)
    assert answer.status_code == 302
    assert "9,000" in client.get("/water").content.decode()


def test_a_hatchery_without_a_seawater_system_is_told_what_it_would_see(db, client_of):
    made = Site.objects.create(name="Bare hatchery", zone=ZONE)
    from protoconch.hatchery.reading import demo_text

    Description.objects.create(site=made, text=demo_text(), by="the test")
    text = client_of(_person(made, "manager A", Role.MANAGER)).get("/water").content.decode()
    assert "The seawater system is not described yet" in text
    assert "Describe the seawater system" in text


def test_the_page_is_small_and_asks_for_a_sign_in(site, page, client):
    assert len(page().encode()) < 100_000
    assert client.get("/water").status_code == 302
