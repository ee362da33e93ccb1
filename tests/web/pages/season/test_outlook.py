"""The outlook on the Season page: the odds are the log's, and it says what moved them."""

import re
from dataclasses import replace
from datetime import date, timedelta
from time import thread_time
from uuid import uuid4

import numpy as np
import pytest

from protoconch.pictures.counted import Seen
from protoconch.pictures.words import about, percent
from protoconch.records.models import Answer
from protoconch.records.queries.answers import question
from protoconch.records.queries.log import state
from protoconch.records.queries.outlook import (
    OUTLOOK,
    OVER_TIME,
    BatchThen,
    KeptDay,
    LookedAhead,
    keep_days,
    keep_outlook,
    kept_days,
    last_outlook,
    looked_ahead,
)
from protoconch.season.answer import Odds
from protoconch.season.outlook.scoring import DayOutlook
from protoconch.web.pages.season.outlook_words import (
    change_told,
    counts_scored,
    season_scored,
)
from tests.web.pages.season import planted as invented
from tests.web.pages.season.ahead import looked_ahead_from

TODAY = invented.TODAY


@pytest.fixture
def season(db):
    return looked_ahead_from(TODAY)


@pytest.fixture
def page(season, client_of):
    return client_of(invented.person(season[0]))


def text_of(page):
    return page.get("/season").content.decode()


def heading(text):
    return re.search(r"<h1>(.*?)</h1>", text).group(1)


def changed(site, **parts):
    """The kept outlook with some of its numbers changed."""
    kept = last_outlook(site)
    keep_outlook(site, replace(kept, outlook=replace(kept.outlook, **parts)))


def test_the_title_and_the_number_are_those_of_the_log(page, season):
    changed(season[0], odds=Odds(0.46, 0.01, 0.44, 1200), expected=987.0)
    text = text_of(page)
    assert heading(text).startswith("46 in 100, not the ")
    assert '<p class="big">46\N{NO-BREAK SPACE}%</p>' in text
    assert "987 are ready at the date" in text
    assert "what the log makes of the season" in text
    assert "does not move them" not in text


def test_until_there_is_one_the_odds_are_the_plans_and_it_says_so(page, season):
    site, plan = season
    Answer.objects.filter(site=site, name__in=(OUTLOOK, OVER_TIME)).delete()
    text = text_of(page)
    assert percent(plan.odds.value, plan.target.confidence) in text
    assert "until it is there" in text.lower()
    assert "does not move them" in text


def test_a_fault_of_the_outlook_is_told_beside_the_plans_odds(page, season):
    kept = last_outlook(season[0])
    keep_outlook(season[0], replace(kept, outlook=None, fault="The log has no beginning."))
    text = text_of(page)
    assert "The log has no beginning." in text
    assert "does not move them" in text


def test_new_entries_are_said_to_be_on_their_way(page, season):
    kept = last_outlook(season[0])
    assert "being worked into" not in text_of(page)
    keep_outlook(season[0], replace(kept, day=TODAY - timedelta(days=1)))
    assert "being worked into the outlook" in text_of(page)


def test_it_says_which_batch_moved_the_odds_since_last_week(season):
    site, plan = season
    known = looked_ahead(site)
    then = known.days[0]
    code = known.outlook.batches[1].code
    days = (replace(
        then, told=replace(then.told, as_of=TODAY - timedelta(days=8), odds=Odds(0.2, 0.01, 0, 9)),
        batches=tuple(replace(b, ready=b.ready if b.code != code else 1.0) for b in (
            replace(old, ready=new.ready.mean)
            for old, new in zip(then.batches, known.outlook.batches, strict=True)
        )),
    ),)  # fmt: skip
    raised = replace(known.outlook, odds=Odds(0.7, 0.01, 0, 9))
    known = known._replace(days=days, outlook=raised)
    said = change_told(plan, known, state(site), {}, TODAY)
    assert said.startswith("Up from 20\N{NO-BREAK SPACE}%")
    assert f"batch {code} moved it most" in said
    assert "1 were then" in said
    same = known._replace(outlook=replace(raised, odds=Odds(0.21, 0.01, 0, 9)))
    assert "the same within the noise" in change_told(plan, same, state(site), {}, TODAY)
    fresh = known._replace(days=())
    assert "The plan had" in change_told(plan, fresh, state(site), {}, TODAY)


def test_what_would_help_is_ranked_with_its_gain_interval_and_hours(page, season):
    kept = last_outlook(season[0])
    helping = [a for a in kept.actions if not a.changes_target]
    assert helping
    first = replace(helping[0], helps=True, gain=0.0612, low=0.041, high=0.083, hours=47.1)
    keep_outlook(season[0], replace(kept, actions=(first, *kept.actions[1:])))
    text = text_of(page)
    assert "What would help most" in text
    assert "+6 <small>points<br>(+4 to +8)<br>47 hours of work</small>" in text
    assert not re.search(r"\d{4}-\d\d-\d\d", re.sub(r"<[^>]*>", "", text)), "days as people say"


def test_what_gains_nothing_is_listed_apart_and_money_is_told_where_prices_are_known(page, season):
    kept = last_outlook(season[0])
    some = next(a for a in kept.actions if not a.changes_target)
    helps = replace(some, helps=True, gain=0.06, hours=1.2, cost=312.0, per_cost=0.0002,
                    sentence="Do this.")  # fmt: skip
    idle = replace(some, helps=False, gain=0.0, low=-0.004, high=0.004, sentence="Not this.")
    keep_outlook(season[0], replace(kept, actions=(helps, idle), currency="BSD"))
    text = text_of(page)
    first, rest = text.split("Tried, and gains less than one in a hundred", 1)
    assert "Do this." in first
    assert "Not this." not in first
    assert "Not this." in rest
    assert "1 hour of work, 312 BSD" in first
    assert "2.0 points for each 100 BSD." in first
    assert "by the prices of this hatchery" in first


def test_where_nothing_helps_it_says_so(page, season):
    kept = last_outlook(season[0])
    keep_outlook(season[0], replace(kept, actions=()))
    assert "Go on as planned." in text_of(page)


def test_surprises_and_doubted_entries_are_told(page, season):
    entry = state(season[0]).last
    more = "The number lost in tray 4 on 5 Sep 2026 is more than expected."
    changed(season[0], surprises=(more,), doubted=((entry, "A count is ten times too high."),))
    text = text_of(page)
    assert more in text
    assert "A count is ten times too high." in text
    assert f"/log/{entry}" in text or str(entry) in text


def test_the_odds_over_time_have_a_picture_and_a_sentence(page):
    text = text_of(page)
    assert 'id="odds-over-time-t"' in text
    assert "The odds" in text
    assert "asked, " in text
    assert "counts can be set beside the outlook of the days before them" in text


def test_beliefs_that_the_log_moved_are_tabled(page, season):
    moved = last_outlook(season[0]).outlook.moved
    assert moved
    text = text_of(page)
    assert text.count('data-label="Before the log"') == len(moved)


def test_a_season_that_is_over_is_scored(season):
    site, _plan = season
    kept = kept_days(site, question(site).key)
    said = season_scored(kept.days, 1310.0)
    assert said.startswith("1,310 were released.")
    assert "held what came" in said
    assert season_scored(kept.days, None) == ""
    earlier = replace(kept, plan=uuid4().hex, came=1310.0,
                      first_day=kept.first_day - timedelta(days=365))  # fmt: skip
    keep_days(site, earlier)
    assert [one.came for one in looked_ahead(site).earlier] == [1310.0]


def test_the_desks_ribbons_are_the_logs(page, season):
    address = re.search(r'src="(/season/ribbons-[0-9a-f]+\.svg)"', text_of(page)).group(1)
    drawn = page.get(address).content.decode()
    assert "expected" in drawn
    assert page.get(address).status_code == 200
    assert address not in text_without_outlook(page, season[0])


def text_without_outlook(page, site):
    Answer.objects.filter(site=site, name=OUTLOOK).delete()
    return text_of(page)


def test_a_phone_gets_less_than_100_kb_in_less_than_a_tenth_of_a_second(page):
    assert len(page.get("/season").content) < 100_000
    times = []
    for _ in range(5):
        begun = thread_time()  # of this thread alone: others may keep the machine busy
        page.get("/season")
        times.append(thread_time() - begun)
    assert min(times) < 0.1


def test_each_count_of_a_batch_stands_beside_what_the_outlook_before_it_expected(page, season):
    known = looked_ahead(season[0])
    batch = season[1].batches[0]
    code = f"{season[1].hatchery.first_day.year % 100:02d}{batch.code}"
    (seen,) = [s for s in state(season[0]).batches[code].sightings if s.kind == "counted"][-1:]
    text = page.get(f"/batches/{code}").content.decode()
    assert "the outlook of the days before" in text
    low, _middle, high = known.expected_on(code, seen.when.date())
    assert f"{about(low)} to {about(high)}" in text
    Answer.objects.filter(site=season[0], name__in=(OUTLOOK, OVER_TIME)).delete()
    plain = page.get(f"/batches/{code}").content.decode()
    assert "the outlook of the days before" not in plain
    assert "the plan had" in plain


def then(day, low, middle, high):
    """A past day whose outlook gave one batch these numbers for the four days after it."""
    soon = np.tile(np.array([[low], [middle], [high]], dtype=np.float32), (1, 4))
    told = DayOutlook(day, Odds(0.5, 0.01, 0.48, 9), 1.0, 1.0, 1.0, np.zeros(2), 1)
    return KeptDay(told, 0.0, (BatchThen("27A", 1.0, soon),))


def test_a_count_is_never_set_beside_an_outlook_that_had_seen_it():
    day = date(2027, 7, 1)
    known = LookedAhead(None, days=(then(day, 10, 20, 30), then(day + timedelta(days=2), 1, 2, 3)))
    assert known.expected_on("27A", day) is None
    assert known.expected_on("27A", day + timedelta(days=2)) == (10, 20, 30)
    assert known.expected_on("27A", day + timedelta(days=3)) == (1, 2, 3)
    assert known.expected_on("27A", day + timedelta(days=7)) is None
    assert known.expected_on("27B", day + timedelta(days=1)) is None


def test_outlooks_are_scored_by_the_counts_that_came_after_them():
    day = date(2027, 7, 1)
    known = LookedAhead(None, days=(then(day, 100, 200, 300),))
    next_day = day + timedelta(days=1)
    counts = {"27A": (
        Seen(next_day, 150, 140, 160), Seen(next_day, 90, 70, 110), Seen(next_day, 50, 40, 60),
        Seen(next_day, 400, 350, 450), Seen(day, 150, 140, 160),
    )}  # fmt: skip
    said = counts_scored(known, counts)
    assert said.startswith("4 counts can be set beside")
    assert "2 agree" in said
    assert counts_scored(known, {"27B": counts["27A"]}) == ""
