"""The page of a day."""

import re
from datetime import datetime

import pytest

from protoconch.records.models import Site
from protoconch.records.queries.answers import tasks
from tests.web.pages.today.season_begun import DAY, entry, logged, stop_the_clock


@pytest.fixture(autouse=True)
def noon(monkeypatch):
    stop_the_clock(monkeypatch)


@pytest.fixture
def begun(planned_site, crew):
    logged(crew)
    return planned_site


def shown(client, address="/"):
    answer = client.get(address)
    assert answer.status_code == 200
    return answer.content.decode()


def title(page):
    words = re.search(r"<h1>(.*?)</h1>", page, re.DOTALL).group(1)
    return re.sub(r"<[^>]+>", "", words).strip()


def test_the_title_counts_the_work_in_words(begun, crew, client_of):
    page = shown(client_of(crew))
    lines = len(tasks(begun, datetime.fromisoformat(DAY).date()))
    assert page.count('class="task"') == lines > 3
    assert re.match(r"(\w+|\d+) things to do today, .* before noon$", title(page))
    assert str(lines) in title(page) or lines <= 12


def test_every_line_says_what_where_how_much_why_and_how(begun, crew, client_of):
    page = shown(client_of(crew))
    for task in tasks(begun, datetime.fromisoformat(DAY).date()):
        assert f"<h3>{task.what}</h3>" in page
        assert f"<b>{task.where}</b>" in page
        assert task.why.split("&")[0][:40] in page.replace("&#x27;", "'")
        for words in (*task.cautions, *task.steps):
            assert words.replace("'", "&#x27;") in page


def test_cautions_stand_before_the_steps(begun, crew, client_of):
    how_to = re.search(r'class="how-to">.*?</details>', shown(client_of(crew)), re.DOTALL).group()
    assert how_to.index('class="cautions"') < how_to.index("<ol>")


def test_the_working_shows_formula_inputs_units_and_their_source(begun, crew, viewer, client_of):
    page = shown(client_of(crew))
    assert re.search(r"Where the numbers come from.*?<dd>.*?\d{4}", page, re.DOTALL)
    for person in (crew, viewer):
        working = shown(client_of(person), f"/today/{DAY}/ways")
        assert "How the amount was worked out" in working
        assert re.search(r"× tank water", working)


def test_each_line_leads_to_its_other_ways_and_its_working(begun, crew, viewer, client_of):
    for person, forms in ((crew, True), (viewer, False)):
        client = client_of(person)
        page = shown(client)
        leads = re.findall(r'href="(/today/[^"]+/ways/(line-\w+))"', page)
        assert len(leads) > 5
        everything = shown(client, f"/today/{DAY}/ways")
        for address, line in leads[:6]:
            alone = shown(client, address)
            assert alone.count('class="ways"') == 1
            assert f'<li id="{line}"' in alone
            assert f'<li id="{line}"' in everything
            assert ("Not done" in alone) is forms
    assert "not on the list" in shown(client, f"/today/{DAY}/ways/line-00000000")


def test_each_kind_of_work_leads_to_its_drawn_card(begun, crew, client_of):
    page = shown(client_of(crew))
    for task in tasks(begun, datetime.fromisoformat(DAY).date()):
        assert f'href="/how-to/{task.kind.replace(" ", "-")}"' in page


def test_the_page_of_a_busy_day_is_light(begun, crew, client_of):
    page = shown(client_of(crew))
    assert page.count('class="task"') > 15
    assert len(page.encode()) < 100_000


def test_nobody_but_crew_and_manager_is_offered_a_form(begun, viewer, manager, client_of):
    assert "<form" not in shown(client_of(viewer))
    assert 'class="settle"' in shown(client_of(manager))


def test_a_day_to_come_is_shown_without_forms(begun, crew, client_of):
    page = shown(client_of(crew), "/today/2027-05-21")
    assert "things to do on Friday 21 May" in title(page)
    assert 'class="settle"' not in page


def test_a_past_day_asks_when_it_was_done(begun, crew, client_of):
    page = shown(client_of(crew), "/today/2027-05-19")
    assert "on Wednesday 19 May" in title(page)
    assert 'type="datetime-local" name="happened"' in page
    assert 'value="2027-05-19T08:00"' in page


def test_what_was_missed_leads_to_its_line_on_its_day(begun, crew, client_of):
    client = client_of(crew)
    page = shown(client)
    leads = re.findall(r'href="(/today/2027-05-1\d)#(line-\w+)"', page)
    assert leads
    for address, line in leads[:5]:
        assert f'id="{line}"' in shown(client, address)


def test_warnings_say_what_to_do(begun, crew, client_of):
    logged(crew, [entry("read", "reservoir", {"quantity": "temperature", "value": 34.0}, "05-20")])
    page = shown(client_of(crew))
    assert re.search(r"\d+ warnings|One warning", page)


def test_a_hatchery_without_a_plan_says_so_and_what_comes_first(site, manager, client_of):
    page = shown(client_of(manager))
    assert title(page) == "There is no plan yet"
    assert "target" in page


def test_before_the_season_the_days_are_counted(planned_site, crew, client_of, monkeypatch):
    stop_the_clock(monkeypatch, datetime.fromisoformat("2027-01-02T09:00-05:00"))
    assert re.search(r"\d+ days until the first work of the season", title(shown(client_of(crew))))


def test_after_the_season_the_page_says_so(planned_site, crew, client_of, monkeypatch):
    stop_the_clock(monkeypatch, datetime.fromisoformat("2031-01-02T09:00-05:00"))
    assert title(shown(client_of(crew))) == "The season is over"


def test_a_hatchery_that_is_not_described_leads_nowhere_false(site, crew, client_of):
    bare = Site.objects.create(name="an empty room")
    crew.site = bare
    crew.save()
    assert "not described yet" in shown(client_of(crew))


@pytest.mark.parametrize("day", ["2027-02-30", "2027-13-01", "1999-01-01", "today"])
def test_a_day_that_is_none_is_not_found(site, crew, client_of, day):
    assert client_of(crew).get(f"/today/{day}").status_code == 404


def test_a_days_page_is_light_enough_for_a_phone(begun, crew, client_of):
    answer = client_of(crew).get("/", headers={"accept-encoding": "gzip"})
    assert answer.headers["Content-Encoding"] == "gzip"
    assert len(answer.content) < 25_000  # what is sent
    lines = len(tasks(begun, datetime.fromisoformat(DAY).date()))
    assert len(shown(client_of(crew))) < 8_000 + 5_500 * lines  # what it unfolds to
