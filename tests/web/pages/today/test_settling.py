"""A line of the day is settled in place."""

import json
import re
from html import unescape
from uuid import uuid4

import pytest

from protoconch.records.models import Entry
from protoconch.records.queries.answers import tasks
from protoconch.records.queries.log import state
from protoconch.web.pages.today.days import here_today
from protoconch.web.pages.today.lines import line_id
from tests.web.pages.today.season_begun import DAY, logged, stop_the_clock

TANK = "large tank 3"


@pytest.fixture(autouse=True)
def noon(monkeypatch):
    stop_the_clock(monkeypatch)


@pytest.fixture
def begun(planned_site, crew):
    logged(crew)
    return planned_site


@pytest.fixture
def crews(begun, crew, client_of):
    return client_of(crew)


def task_of(site, kind, where=""):
    found = (t for t in tasks(site, here_today()) if t.kind == kind and where in t.where)
    return next(found)


def form_of(client, task, way=0):
    """The fields of a form on the page, or behind its line's link, as a browser would send them."""
    page = client.get("/").content.decode()
    line = page.partition(f'<li id="{line_id(task.key)}"')[2].partition('<li id="line-')[0]
    if way:
        line = client.get(re.search(r'href="(/today/[^"]+/ways/[^"]+)"', line).group(1))
        line = line.content.decode()
    form = re.findall(r"<form.*?</form>", line, re.DOTALL)[way]
    fields = re.findall(r"<input[^>]*?>", form)
    sent = {}
    for field in fields:
        name = re.search(r'name="([^"]+)"', field).group(1)
        value = re.search(r"""value=(?:"([^"]*)"|'([^']*)')""", field)
        sent[name] = unescape(value.group(1) or value.group(2) or "") if value else ""
    return re.search(r'action="([^"]+)"', form).group(1), sent


def test_a_change_of_water_is_entered_as_it_stands(begun, crews, crew):
    task = task_of(begun, "change water", TANK)
    address, sent = form_of(crews, task)
    answer = crews.post(address, sent)
    assert (answer.status_code, answer.headers["Location"]) == (302, f"/#{line_id(task.key)}")
    made = Entry.objects.get(task=task.key)
    assert (made.kind, made.where, made.who) == ("water changed", TANK, crew.name)
    assert made.payload["litres"] == 400
    page = crews.get("/").content.decode()
    assert re.search(rf'id="{line_id(task.key)}" class="task settled".*?Done by\s+crew A 11:00',
                     page, re.DOTALL)  # fmt: skip


def test_pressing_twice_adds_once(begun, crews):
    task = task_of(begun, "change water", TANK)
    address, sent = form_of(crews, task)
    for _ in range(3):
        assert crews.post(address, sent).status_code == 302
    assert Entry.objects.filter(task=task.key).count() == 1


def test_a_feeding_takes_what_was_poured(begun, crews):
    task = task_of(begun, "feed", TANK)
    address, sent = form_of(crews, task)
    poured = next(name for name in sent if name.endswith("foods.0.litres"))
    assert crews.post(address, sent | {poured: "0,9"}).status_code == 302
    foods = Entry.objects.get(task=task.key).payload["foods"]
    assert foods[0]["litres"] == 0.9
    assert state(begun).holdings[TANK].last_fed is not None


def test_what_cannot_be_is_refused_at_the_field_and_the_typed_value_stays(begun, crews):
    task = task_of(begun, "change water", TANK)
    address, sent = form_of(crews, task)
    sieve = next(name for name in sent if name.endswith("sieve_um"))
    answer = crews.post(address, sent | {sieve: "9000"})
    page = answer.content.decode()
    assert answer.status_code == 422
    assert "Not saved." in page
    assert re.search(r'value="9000"[^>]*>.*?class="error"[^>]*>[^<]*at most 5,000', page, re.DOTALL)
    assert not Entry.objects.filter(task=task.key).exists()


def test_no_number_is_refused_at_its_field(begun, crews):
    task = task_of(begun, "change water", TANK)
    address, sent = form_of(crews, task)
    litres = next(name for name in sent if name.endswith("litres"))
    page = crews.post(address, sent | {litres: "lots"}).content.decode()
    assert re.search(r'value="lots"[^>]*>.*?class="error"[^>]*>[^<]*lots', page, re.DOTALL)


def test_the_unlikely_asks_keeps_the_value_and_is_saved_when_sure(begun, crews):
    task = task_of(begun, "change water", TANK)
    address, sent = form_of(crews, task)
    litres = next(name for name in sent if name.endswith("litres"))
    answer = crews.post(address, sent | {litres: "4000"})
    page = answer.content.decode()
    assert answer.status_code == 409
    assert "Are you sure?" in page
    assert 'value="4000"' in page
    assert not Entry.objects.filter(task=task.key).exists()
    assert crews.post(address, sent | {litres: "4000", "sure": "yes"}).status_code == 302
    assert Entry.objects.get(task=task.key).payload["litres"] == 4000


def test_a_line_is_skipped_with_its_reason(begun, crews):
    task = task_of(begun, "feed", TANK)
    address, sent = form_of(crews, task, way=-1)
    reason = next(name for name in sent if name.endswith("note"))
    assert crews.post(address, sent | {reason: "water still cloudy"}).status_code == 302
    made = Entry.objects.get(task=task.key)
    assert (made.kind, made.payload["skipped"]) == ("done", True)
    assert made.payload["note"] == "water still cloudy"
    assert re.search(r"Not done, said\s+crew A", crews.get("/").content.decode())


def test_work_of_yesterday_happened_yesterday(begun, crews):
    page = crews.get("/today/2027-05-19").content.decode()
    form = re.search(r'<form method="post" class="settle".*?</form>', page, re.DOTALL).group()
    assert 'value="2027-05-19T' in form


def test_a_form_that_is_not_ours_is_answered_by_a_sentence(begun, crews):
    there = f"/today/{DAY}/settle"
    hostile = [
        {}, {"way": "x"}, {"e.0.asked": "{"}, {"e.0.asked": "[]"}, {"way": "9" * 5000},
        {"e.0.asked": json.dumps({"kind": "none", "where": "", "prefilled": {}})},
        {"e.0.asked": json.dumps({"kind": "fed", "where": TANK, "prefilled": {},
                                  "fields": [{"name": "foods.0.litres", "words": "x"}]}),
         "e.0.foods.0.litres": "1", "e.0.id": str(uuid4())},
        {"e.0.asked": json.dumps({"kind": "counted", "where": TANK, "prefilled": {},
                                  "fields": [{"name": "a", "words": "x", "times": 10**9}]})},
    ]  # fmt: skip
    for sent in hostile:
        answer = crews.post(there, {"task": "x", **sent}, follow=True)
        assert answer.status_code in {200, 422}, sent
    assert not Entry.objects.filter(task="x").exists()


def test_a_viewer_settles_nothing(begun, viewer, client_of):
    assert client_of(viewer).post(f"/today/{DAY}/settle", {}).status_code == 403
