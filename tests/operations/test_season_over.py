"""A season run to its end: its outlooks are scored against what came, and it teaches the next."""

from dataclasses import replace
from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

import numpy as np
import pytest

from protoconch.animals.profiles import species
from protoconch.hatchery.reading import demo_hatchery
from protoconch.hatchery.writing import hatchery_text
from protoconch.operations import looking_ahead
from protoconch.operations import outlook as working
from protoconch.records.models import Description, Site
from protoconch.records.queries.answers import KeptAlgae, KeptPlan, keep, question
from protoconch.records.queries.learning import kept_seasons, offer
from protoconch.records.queries.log import state
from protoconch.records.queries.outlook import looked_ahead
from protoconch.records.queries.site import hatchery
from protoconch.records.rows import row_of
from protoconch.season.outlook.basis import basis
from protoconch.season.outlook.invented import Habits, invented_log
from protoconch.season.outlook.scoring import scores
from tests.season.outlook import seasons
from tests.web.pages.season import planted as invented

pytestmark = pytest.mark.django_db
DAYS, EVERY = 400, 60


@pytest.fixture
def season(db, monkeypatch):
    """A hatchery whose season ended the day before yesterday, with its log; and what came."""
    monkeypatch.setattr(seasons, "FIRST", invented.TODAY - timedelta(days=DAYS + 2))
    for where, name, value in ((looking_ahead, "PARTICLES", 200), (working, "RECENT", 0),
                               (working, "EVERY", EVERY)):  # fmt: skip
        monkeypatch.setattr(where, name, value)
    here = demo_hatchery()  # with a nursery that is never full: the invented crew knows no limit
    here = replace(here, nursery=tuple(replace(n, count=4 * n.count) for n in here.nursery))
    plan = seasons.plan((4, 18), 1, DAYS, hatchery=here)
    of = basis(plan, species("queen-conch"), seasons.ASSUMED, seasons.COUNTING)
    log, truth = invented_log(of, np.random.default_rng(6), DAYS, Habits(release=True))
    site = Site.objects.create(name=here.name, zone="UTC")
    row = Description.objects.create(site=site, text=hatchery_text(here), by="the test")
    keep(site, question(site), KeptPlan(row.pk, plan))
    keep(site, question(site), KeptAlgae(row.pk, None))
    for entry in log:
        row_of(site, entry).save()
    working.forget()
    yield site, round(sum(truth.ready.values()))
    working.forget()


def run_out():
    now = datetime.combine(invented.TODAY, datetime.min.time(), ZoneInfo("UTC"))
    while working.make_outlooks(now + timedelta(hours=12)):
        pass


def test_a_season_that_was_run_is_scored_told_and_teaches_the_next(season, client_of):
    site, came = season
    doubted = {doubt.where for doubt in state(site).doubts}
    assert doubted <= {"incubator 1"}, "nothing waits for a person who is not there"
    run_out()
    known = looked_ahead(site)
    assert known.came == pytest.approx(came, abs=1)
    told = [day.told for day in known.days]
    assert len(told) >= DAYS // EVERY
    assert told[-1].as_of > invented.TODAY - timedelta(days=EVERY + 3)
    scored = scores(told, known.came)
    assert scored[-1].crps < 0.3 * scored[0].crps
    assert np.mean([score.crps for score in scored[-3:]]) < np.mean(
        [score.crps for score in scored[:3]]
    )
    manager = client_of(invented.person(site))
    page = manager.get("/season").content.decode()
    assert f"{known.came:,.0f} were released." in page
    assert f"{sum(score.inside for score in scored)} of {len(scored)} held what came" in page
    (said,) = kept_seasons(site)
    assert said.over
    assert said.said.batches == 2
    assert "ready to be used for the next season" in page
    many = len(offer(site).numbers)
    assert many >= 3
    manager.post("/site/learned/use/")
    assert len(hatchery(site).own_values) == many
    assert not offer(site).ready
