"""Without network: what is typed waits on the phone, through closed browsers and restarted servers,
and goes up once."""

import pytest

from protoconch.records.models import Entry
from protoconch.records.queries.answers import tasks
from protoconch.web.pages.today.days import here_today
from protoconch.web.pages.today.lines import line_id
from tests.fixtures.browser import PHONE
from tests.web.pages.today.season_begun import NOON, logged, stop_the_clock

pytestmark = pytest.mark.browser
TANK = "large tank 3"


@pytest.fixture(autouse=True)
def noon(monkeypatch):
    stop_the_clock(monkeypatch)


@pytest.fixture
def begun(transactional_db, planned_site, crew):
    logged(crew)
    return planned_site


def line_of(page, task):
    return page.locator(f"#{line_id(task.key)}")


def task_of(site, kind, where=TANK):
    return next(t for t in tasks(site, here_today()) if t.kind == kind and where in t.where)


def at_noon(page, moment=NOON):
    page.clock.set_system_time(moment)
    return page


def press_save(line):
    line.get_by_role("button", name="Save", exact=True).first.click()


def bar(page):
    return page.locator("#carried a")


def test_a_line_typed_without_network_waits_and_goes_up_by_itself(
    begun, signed_in_page, crew, faults_of_page
):
    task = task_of(begun, "feed")
    page = at_noon(signed_in_page(crew, PHONE))
    page.goto("/")
    line = line_of(page, task)
    line.locator("summary").first.click()
    line.locator("form.settle input[inputmode]:visible").first.fill("1.25")
    page.context.set_offline(True)
    press_save(line)
    line.get_by_text("Kept on this phone; goes up by itself").wait_for()
    assert bar(page).inner_text() == "One entry waits on this phone."
    assert not Entry.objects.filter(task=task.key).exists()
    assert faults_of_page(page) == []
    page.context.set_offline(False)
    page.locator(f"#{line_id(task.key)}.settled").wait_for(timeout=10_000)
    assert not bar(page).is_visible()
    made = Entry.objects.get(task=task.key)
    assert (made.payload["foods"][0]["litres"], made.unasked, made.who) == (1.25, True, crew.name)
    assert abs((made.happened - NOON).total_seconds()) < 60
    page.goto("/carried/")
    page.locator(".waits.saved").wait_for()
    assert faults_of_page(page) == []
