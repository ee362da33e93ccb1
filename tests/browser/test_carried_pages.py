"""Without network: what is typed waits on the phone, through closed browsers and restarted servers,
and goes up once; two phones that were apart come together, and a person settles what
they contradict.
"""

from datetime import UTC, datetime, timedelta

import pytest

from protoconch.records.models import Entry, Person, Role
from protoconch.records.queries.answers import tasks
from protoconch.records.queries.log import state
from protoconch.web.pages.today.days import here_today
from protoconch.web.pages.today.lines import line_id
from tests.fixtures.browser import PHONE
from tests.web.pages.today.season_begun import NOON, logged, stop_the_clock

pytestmark = pytest.mark.browser
TANK = "large tank 3"
CLOCK = """(() => {
  const True = window.True || Date;
  window.True = True;
  window.Date = class extends True {
    constructor(...told) { told.length ? super(...told) : super(True.now() + %d); }
    static now() { return True.now() + %d; }
  };
})()"""


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


def at(page, moment=NOON):
    """The page, with that moment on the phone's clock from now on; the page's own count goes on."""
    if isinstance(moment, str):
        moment = datetime.fromisoformat(moment)
    script = CLOCK.replace("%d", str(round((moment - datetime.now(UTC)).total_seconds() * 1000)))
    page.add_init_script(script)
    page.evaluate(script)
    return page


def save(place):
    place.get_by_role("button", name="Save", exact=True).first.click()


def bar(page):
    return page.locator("#carried a")


def fed_without_network(page, task, litres="1.25"):
    """The line of a feeding is typed and kept."""
    line = line_of(page, task)
    line.locator("summary").first.click()
    line.locator("form.settle input[inputmode]:visible").first.fill(litres)
    page.context.set_offline(True)
    save(line)
    line.get_by_text("Kept on this phone; goes up by itself").wait_for()


def test_a_line_typed_without_network_waits_and_goes_up_by_itself(
    begun, signed_in_page, crew, faults_of_page
):
    task = task_of(begun, "feed")
    page = at(signed_in_page(crew, PHONE))
    page.goto("/")
    fed_without_network(page, task)
    assert bar(page).inner_text() == "One entry waits on this phone."
    assert not Entry.objects.filter(task=task.key).exists()
    assert faults_of_page(page) == []
    page.context.set_offline(False)
    page.locator(f"#{line_id(task.key)}.settled").wait_for()
    assert not bar(page).is_visible()
    made = Entry.objects.get(task=task.key)
    assert (made.payload["foods"][0]["litres"], made.unasked, made.who) == (1.25, True, crew.name)
    assert abs((made.happened - NOON).total_seconds()) < 60
    page.goto("/carried/")
    page.locator(".waits.saved").wait_for()
    assert faults_of_page(page) == []


def test_entries_outlive_a_closed_browser_and_a_restarted_server(begun, restarting, phone, crew):
    task = task_of(begun, "feed")
    own = phone("crew A's", restarting.url)
    page = at(own.opened(crew))
    page.goto("/")
    fed_without_network(page, task)
    own.closed()

    restarting.stop()
    page = at(own.opened(), NOON + timedelta(hours=2))
    with pytest.raises(Exception, match="ERR_CONNECTION_REFUSED"):
        page.goto("/")
    restarting.start()
    page = at(page.context.new_page(), NOON + timedelta(hours=2))
    page.goto("/carried/")
    page.locator(".waits.saved").wait_for()
    made = Entry.objects.get(task=task.key)
    assert abs((made.happened - NOON).total_seconds()) < 60


def test_an_answer_that_was_lost_does_not_double_the_entry(begun, signed_in_page, crew):
    task = task_of(begun, "feed")
    page = at(signed_in_page(crew, PHONE))
    page.goto("/")
    line = line_of(page, task)
    line.locator("summary").first.click()
    page.route("**/settle", lambda route: (route.fetch(), route.abort()))  # there, and no answer
    save(line)
    page.locator(f"#{line_id(task.key)}.settled").wait_for()
    assert Entry.objects.filter(task=task.key).count() == 1
    page.goto("/carried/")
    page.get_by_text("Was saved before").wait_for()


def test_a_clock_that_is_a_day_ahead_is_put_right_and_said(begun, signed_in_page, crew):
    page = at(signed_in_page(crew, PHONE), NOON + timedelta(days=1))
    page.goto("/log/add/lost")
    page.context.set_offline(True)
    page.get_by_label("Place").select_option(TANK)
    save(page)
    page.get_by_text("Kept on this phone. It goes up by itself").wait_for()
    page.context.set_offline(False)
    bar(page).wait_for(state="hidden")
    assert abs((Entry.objects.get(kind="lost").happened - NOON).total_seconds()) < 60
    page.goto("/carried/")
    page.get_by_text("The clock of this phone was 1 day ahead; the time was put right").wait_for()


def test_a_clock_that_was_changed_meanwhile_is_asked_about(begun, signed_in_page, crew):
    page = at(signed_in_page(crew, PHONE))
    page.goto("/log/add/lost")
    page.context.set_offline(True)
    at(page, "2020-01-01T00:00:00+00:00")  # as after an empty battery
    page.get_by_label("Place").select_option(TANK)
    save(page)
    page.get_by_text("Kept on this phone.").wait_for()
    at(page, NOON + timedelta(minutes=5))
    page.context.set_offline(False)
    page.get_by_text("One wants an answer from you.").wait_for()
    assert not Entry.objects.filter(kind="lost").exists()
    page.goto("/carried/")
    page.get_by_label("It happened at").fill("2027-05-20T09:30")
    page.get_by_role("button", name="That is when it was").click()
    page.locator(".waits.saved").wait_for()
    assert Entry.objects.get(kind="lost").happened == NOON - timedelta(hours=1, minutes=30)


def test_two_phones_apart_merge_and_a_person_settles_what_they_contradict(
    begun, signed_in_page, crew, faults_of_page
):
    second = Person.objects.create_user("crew-b", site=begun, name="crew B", role=Role.CREW)
    fed, drained = task_of(begun, "feed"), task_of(begun, "change water")
    mine, theirs = at(signed_in_page(crew)), at(signed_in_page(second))
    for page in (mine, theirs):
        page.goto("/")
    fed_without_network(mine, fed)
    theirs.context.set_offline(True)
    save_line(theirs, drained)
    for page, to in ((mine, "large tank 2"), (theirs, "large tank 4")):
        page.context.set_offline(False)
        page.goto("/log/add/moved")
        page.context.set_offline(True)
        page.get_by_label("Place").select_option(TANK)
        page.locator("[name='payload.to']").fill(to)
        save(page)
        page.get_by_text("Kept on this phone.").wait_for()
        at(page, NOON + timedelta(minutes=20))
    theirs.context.set_offline(False)
    bar(theirs).wait_for(state="hidden")
    mine.context.set_offline(False)
    for _ in range(100):
        if Entry.objects.filter(kind="moved").count() == 2:
            break
        mine.wait_for_timeout(100)
    assert Entry.objects.filter(task__in=[fed.key, drained.key]).count() == 2
    assert Entry.objects.filter(kind="moved").count() == 2
    (doubt,) = [one for one in state(begun).doubts if not one.counted]
    assert TANK in doubt.sentence
    mine.goto("/log")
    section = mine.locator("section.doubt", has_text="emptied into other vessels").first
    section.get_by_role("button", name="It did not happen").click()
    mine.get_by_text("Settled. The log counts with what you said.").wait_for()
    assert not [one for one in state(begun).doubts if not one.counted]
    assert faults_of_page(mine) == []


def save_line(page, task):
    line = line_of(page, task)
    line.locator("summary").first.click()
    save(line)
    line.get_by_text("Kept on this phone; goes up by itself").wait_for()


def test_what_is_refused_stays_can_be_put_right_and_goes_up(
    begun, signed_in_page, crew, faults_of_page
):
    page = at(signed_in_page(crew, PHONE))
    page.goto("/log/add/read")
    page.context.set_offline(True)
    page.get_by_label("Place").fill("reservoir")
    page.get_by_label("Quantity that was read").select_option("temperature")
    page.get_by_label("Value that was read").fill("284")
    save(page)
    page.get_by_text("Kept on this phone.").wait_for()
    page.context.set_offline(False)
    page.get_by_text("One wants an answer from you.").wait_for()
    bar(page).click()
    page.get_by_text("no instrument shows").first.wait_for()
    assert faults_of_page(page) == []
    page.get_by_role("button", name="Put it right and send it").click()
    assert page.get_by_label("Value that was read").input_value() == "284"
    page.get_by_label("Value that was read").fill("27.9")
    save(page)
    page.locator(".waits.saved").wait_for()
    assert Entry.objects.get(kind="read", payload__value=27.9).who == crew.name


def signed_in(page, client):
    session = client.cookies["sessionid"].value
    page.context.add_cookies([{"name": "sessionid", "value": session, "url": page.url}])


def test_without_a_sign_in_entries_wait_and_nobody_else_s_name_is_on_them(
    begun, signed_in_page, crew, manager, client_of
):
    page = at(signed_in_page(crew, PHONE))
    page.goto("/log/add/lost")
    page.context.clear_cookies()
    page.get_by_label("Place").select_option(TANK)
    save(page)
    page.get_by_text("Kept on this phone.").wait_for()
    page.get_by_text("Sign in, and they go up.").wait_for()
    page.goto("/carried/")
    page.get_by_role("link", name="Sign in, and your entries go up").click()
    page.wait_for_url("**/sign-in/**")
    signed_in(page, client_of(manager))
    page.goto("/carried/")
    page.get_by_text("Entries of crew A. They go up when crew A signs in on this phone.").wait_for()
    assert not Entry.objects.filter(kind="lost").exists()
    signed_in(page, client_of(crew))
    page.goto("/carried/")
    page.locator(".waits.saved").wait_for()
    assert Entry.objects.get(kind="lost").who == crew.name


def test_the_tablet_asks_for_the_name_without_network_and_for_the_number_later(
    begun, signed_in_page, crew
):
    from protoconch.operations.people.roles import set_pin

    set_pin(crew, "2468")
    tablet = Person.objects.create_user(
        "tablet", site=begun, name="wet room tablet", role=Role.CREW, tablet=True
    )
    task = task_of(begun, "feed")
    page = at(signed_in_page(tablet, PHONE))
    page.goto("/")
    page.context.set_offline(True)
    line = line_of(page, task)
    line.locator("summary").first.click()
    save(line)
    page.locator("#who").get_by_role("button", name=crew.name).click()
    line.get_by_text("Kept on this phone; goes up by itself").wait_for()
    page.context.set_offline(False)
    page.get_by_text("One wants an answer from you.").wait_for()
    bar(page).click()
    page.get_by_label("Number for the tablet").fill("2468")
    page.get_by_role("button", name="Send it").click()
    page.locator(".waits.saved, .waits.doubtful").wait_for()
    assert Entry.objects.get(task=task.key).who == crew.name
