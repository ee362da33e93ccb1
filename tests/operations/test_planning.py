"""The plan is made once, in the background, and again when the hatchery is described anew."""

from datetime import UTC, date, datetime, timedelta
from uuid import uuid4

import pytest

from protoconch.errors import BadInput
from protoconch.operations import planning
from protoconch.operations.recording import record
from protoconch.records.models import Answer, Description
from protoconch.records.queries.answers import planned, question, tasks
from tests.records.seasons import DAY_ONE, put, rolling, some_season

pytestmark = pytest.mark.django_db
A_DAY = date(2027, 5, 20)
NOW = DAY_ONE + timedelta(days=200)


@pytest.fixture
def quick(monkeypatch, quick_plan):
    """Planning in no time; gives the questions that were answered."""
    asked = []

    def season(hatchery, today):
        asked.append(hatchery)
        return quick_plan[0]

    monkeypatch.setattr(planning, "season", season)
    monkeypatch.setattr(planning, "season_algae", lambda *_: quick_plan[1])
    return asked


def described(site, text):
    return Description.objects.create(site=site, text=text)


def test_a_plan_comes_back_as_it_was_made(planned_site, quick_plan):
    known = planned(planned_site)
    assert known.making == "ready"
    assert repr(known.plan) == repr(quick_plan[0])
    assert repr(known.algae) == repr(quick_plan[1])


def test_nobody_waits_for_a_plan_and_it_is_made_once(site, quick):
    assert planned(site).making == "not asked"
    assert tasks(site, A_DAY) == ()
    planning.make_plan(site)
    planning.make_plan(site)
    assert planned(site)[:3] == (None, None, "being made")
    assert planning.make_what_was_asked() == 2
    assert planned(site).making == "ready"
    planning.make_plan(site)
    assert planning.make_what_was_asked() == 0
    assert len(quick) == 1


def test_the_plan_before_stays_in_force_while_a_new_one_is_made(planned_site, quick):
    old = planned(planned_site).plan
    text = planned_site.descriptions.last().text.replace("animals = 1200", "animals = 900", 1)
    described(planned_site, text)
    assert planned(planned_site).making == "not asked"
    planning.make_plan(planned_site)
    now = planned(planned_site)
    assert (now.making, now.plan.target.animals) == ("being made", 1200)
    assert now.plan.hatchery == old.hatchery
    planning.make_what_was_asked()
    now = planned(planned_site)
    assert now.making == "ready"
    assert now.plan.hatchery.target.animals == 900


def test_what_nobody_wants_any_more_is_not_made(site, quick):
    text = site.descriptions.last().text
    for animals in (800, 900, 1000):
        described(site, text.replace("animals = 1200", f"animals = {animals}", 1))
        planning.make_plan(site)
    assert planning.make_what_was_asked() == 2
    assert len(quick) == 1
    assert quick[0].target.animals == 1000


def test_why_there_is_no_plan_is_said(site):
    text = site.descriptions.last().text
    described(site, text[: text.index("[target]")] + text[text.index("[algae_room]") :])
    planning.make_plan(site)
    planning.make_what_was_asked()
    known = planned(site)
    assert (known.plan, known.making, known.why) == (None, "failed", planning.NO_TARGET)


@pytest.mark.parametrize("fault", [BadInput("The target is too large."), ZeroDivisionError()])
def test_the_worker_goes_on_after_a_fault(site, monkeypatch, fault):
    def season(*_):
        raise fault

    monkeypatch.setattr(planning, "season", season)
    planning.make_plan(site)
    assert planning.make_what_was_asked() == 2
    assert planned(site).making == "failed"
    assert planned(site).why == (str(fault) or planning.OUR_FAULT)


def test_what_an_older_version_kept_is_made_anew(planned_site, quick):
    Answer.objects.update(content=b"of another shape")
    assert planned(planned_site).making == "not asked"
    planning.make_plan(planned_site)
    planning.make_what_was_asked()
    assert planned(planned_site).making == "ready"


def test_few_answers_are_kept(site, quick):
    text = site.descriptions.last().text
    for animals in range(500, 506):
        described(site, text.replace("animals = 1200", f"animals = {animals}", 1))
        planning.make_plan(site)
        planning.make_what_was_asked()
    assert Answer.objects.count() == 4


def test_a_season_is_planned_from_the_day_on_which_it_was_first_described(site):
    text = site.descriptions.last().text
    assert question(site).today is None, "an invented hatchery is planned as it is written"
    site.descriptions.all().delete()
    real = text.replace("invented = true", "invented = false", 1)
    for day, said in ((3, real), (9, real.replace("animals = 1200", "animals = 99", 1))):
        row = described(site, said)
        made = datetime(2027, 4, day, 2, tzinfo=UTC)
        Description.objects.filter(pk=row.pk).update(made=made)
    assert question(site).today == date(2027, 4, 2), "by the clock of the hatchery"
    later = described(site, real.replace("first_day = 2027-04-01", "first_day = 2027-05-01", 1))
    Description.objects.filter(pk=later.pk).update(made=datetime(2027, 4, 20, tzinfo=UTC))
    assert question(site).today == date(2027, 4, 19)


def test_the_work_of_a_day_follows_the_log_once_there_is_one(planned_site, crew):
    day = planned(planned_site).plan.batches[0].dates.hatch
    before = tasks(planned_site, day)
    assert any(task.kind == "stock" for task in before)
    now = datetime.combine(day, datetime.min.time(), UTC)
    raw = {"id": str(uuid4()), "kind": "egg mass collected", "happened": now.isoformat(),
           "payload": {"mass": "M1"}}  # fmt: skip
    assert record(crew, [raw], now, sure=True)[0].outcome == "added"
    assert tasks(planned_site, day) != before


def test_states_are_kept_when_enough_was_logged_since(site, crew):
    put(crew, some_season(rolling(1), 199), NOW)
    planning._keep_states()
    assert not site.snapshot_set.exists()
    put(crew, some_season(rolling(2), 1), NOW)
    planning._keep_states()
    kept = set(site.snapshot_set.values_list("pk", flat=True))
    assert kept
    planning._keep_states()
    assert set(site.snapshot_set.values_list("pk", flat=True)) == kept
