"""The odds of each day so far, and the plan's pictures as the outlook has them."""

from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import pytest

from protoconch.pictures.lettering import Lettering, collisions
from protoconch.pictures.odds_over_time import odds_over_time, week_before
from protoconch.pictures.ribbons import season_ribbons
from protoconch.pictures.ribbons_phone import phone_ribbons
from protoconch.pictures.season_ahead import (
    as_looked_ahead,
    as_of_log,
    sides_of_today,
)
from protoconch.pictures.season_words import as_in_log
from protoconch.season.answer import Odds
from protoconch.season.outlook.outlook import BatchOutlook, Outlook
from protoconch.season.outlook.scoring import DayOutlook
from protoconch.work.names import code_in_log
from tests.pictures.invented import season as invented_plan

FIRST = date(2027, 6, 1)


def days(*odds):
    return [
        DayOutlook(FIRST + timedelta(days=i), Odds(p, 0.01, p - 0.02, 1200), 1000.0, 500.0, 1500.0,
                   np.zeros(1), i)
        for i, p in enumerate(odds)
    ]  # fmt: skip


def test_it_says_when_the_season_turned():
    drawn = odds_over_time(days(0.8, 0.81, 0.55, 0.56), 0.8)
    assert "fell most between 2 Jun 2027 and 3 Jun 2027: from 81 to 55" in drawn.meaning
    assert "below the 80\N{NO-BREAK SPACE}% asked, since 3 Jun 2027" in drawn.meaning


def test_what_the_noise_can_do_is_no_turn():
    drawn = odds_over_time(days(0.80, 0.81, 0.82, 0.81), 0.7)
    assert "have not changed by more than the noise" in drawn.meaning
    assert "at or above the 70\N{NO-BREAK SPACE}% asked, all the time" in drawn.meaning


@pytest.mark.parametrize("end", [0.0, 0.02, 0.997, 0.5, 0.74, 0.79, 0.8, 0.81, 0.86, 0.97, 1.0])
@pytest.mark.parametrize("asked", [0.5, 0.8, 0.95])
def test_no_words_touch(end, asked):
    drawn = odds_over_time(days(0.5, end), asked)
    assert collisions(drawn.labels) == []
    for label in drawn.labels:
        left, _top, right, _bottom = label.box
        assert left >= 0
        assert right <= drawn.width


def test_a_week_ago_is_the_nearest_day_that_is_at_least_a_week_past():
    told = days(*[0.5] * 10)
    assert week_before(told, told[9].as_of).as_of == told[2].as_of
    assert week_before(told, told[5].as_of) is None


def looking(plan, share=0.5):
    """An outlook in which every batch of a plan stands at a share of what was planned."""
    batches = tuple(
        BatchOutlook(
            code_in_log(plan, batch.code),
            replace(
                line, code=code_in_log(plan, batch.code),
                **{f"alive_{q}": np.append(getattr(line, f"alive_{q}") * share, 0.0)
                   for q in ("p10", "p50", "p90")},
                **{f"length_{q}": np.append(getattr(line, f"length_{q}"), 0.0)
                   for q in ("p10", "p50", "p90")},
                stage=np.append(line.stage, np.int8(-1)),
            ),
            replace(batch.released, p50=batch.released.p50 * share), begun=True,
        )
        for batch, line in zip(plan.batches, plan.forecast.batches, strict=True)
    )  # fmt: skip
    ready = np.sort(plan.forecast.ready * share)
    return Outlook(
        plan.target.by - timedelta(days=200), plan.forecast.first_day, Odds(0.3, 0.01, 0.28, 1200),
        float(ready.mean()), 100.0, 900.0, ready, batches, batches[0].line, 1000.0, (), 1.0, (),
        (), 12, "In 30 of 100 futures.",
    )  # fmt: skip


def test_the_plan_as_the_outlook_has_it_carries_its_odds_numbers_and_days():
    plan = invented_plan()
    seen = as_looked_ahead(plan, looking(plan))
    assert (seen.odds.value, seen.feasible) == (0.3, False)
    assert [b.code for b in seen.batches] == [b.code for b in plan.batches]
    assert seen.forecast.batches[0].alive_p50.size == plan.forecast.work_h.size
    for before, after in zip(plan.forecast.batches, seen.forecast.batches, strict=True):
        np.testing.assert_allclose(after.alive_p50, before.alive_p50 * 0.5)
    for before, after in zip(plan.batches, seen.batches, strict=True):
        assert after.released.p50 == before.released.p50 * 0.5
        assert after.dates.collect <= after.dates.hatch <= after.dates.induce
        assert after.dates.induce <= after.dates.to_nursery


def test_a_batch_that_is_given_up_is_left_out_and_one_not_planned_comes_last():
    plan = invented_plan()
    told = looking(plan)
    other = replace(told.batches[0], code=code_in_log(plan, "X"))
    seen = as_looked_ahead(plan, replace(told, batches=(*told.batches[1:], other)))
    assert [b.code for b in seen.batches] == [b.code for b in plan.batches[1:]] + ["X"]
    assert as_of_log(None, code_in_log(plan, "X"), replace(told, batches=(other,))) is other.line
    assert as_of_log(None, code_in_log(plan, "X"), None) is None


def test_both_sides_of_today_are_named_where_there_is_room():
    letters = Lettering(0, 0, 300, 50)
    sides_of_today(letters, 150, 20)
    assert [label.words for label in letters.labels] == ["by the log", "expected"]
    crowded = Lettering(0, 0, 300, 50)
    sides_of_today(crowded, 10, 20)
    assert [label.words for label in crowded.labels] == ["expected"]


@pytest.mark.parametrize("batches", [1, 3, 8])
@pytest.mark.parametrize("ahead", [40, 200, 500])
def test_the_ribbons_name_what_is_by_the_log_and_what_is_expected(batches, ahead):
    plan = invented_plan(batches)
    today = plan.forecast.first_day + timedelta(days=ahead)
    seen = as_in_log(as_looked_ahead(plan, looking(plan)))
    drawn = [season_ribbons(seen, today, by_log=True), *phone_ribbons(seen, today, by_log=True)]
    for one in drawn:
        assert {"by the log", "expected", "log", "ahead"} & {label.words for label in one.labels}
        assert collisions(one.labels) == []
    plain = season_ribbons(seen, today)
    assert "by the log" not in {label.words for label in plain.labels}
