"""What of the last days is not in the log."""

from protoconch.log.state import EMPTY
from protoconch.work.missed import missed
from tests.work.made_up_plan import Shape, made_up_plan
from tests.work.written import Written, on

PLAN = made_up_plan(Shape(tanks=(("large", 1, 400.0),)))
THIN = (PLAN.batches[0].dates.thin[0] - on(0)).days


def past(log, day):
    return [task for back in (3, 2, 1) for task in log.tasks(day - back)]


def test_a_missed_feeding_is_told_once_and_only_of_yesterday():
    log = Written(PLAN).stocked(4)
    found = missed(past(log, 14), log.state, on(14), log.tasks(14))
    fed = [line for line in found if line.task.kind == "feed"]
    assert [(line.days_ago, line.still_due) for line in fed] == [(1, False)]


def test_what_stays_due_is_told_until_the_work_of_the_day_has_it():
    log = Written(PLAN).stocked(4)
    lines = past(log, THIN + 2)
    due = [line for line in missed(lines, log.state, on(THIN + 2)) if line.task.kind == "thin"]
    assert [line.still_due for line in due] == [True]
    again = missed(lines, log.state, on(THIN + 2), log.tasks(THIN + 2))
    assert not [line for line in again if line.task.kind == "thin"]


def test_a_settled_line_is_not_missed():
    log = Written(PLAN).stocked(4)
    key = next(task.key for task in log.tasks(13) if task.kind == "feed")
    log.add(13, "done", "large tank 1", work="feed", task=key)
    assert "feed" not in {line.task.kind for line in missed(log.tasks(13), log.state, on(14))}


def test_a_tank_fed_without_naming_the_line_was_not_missed():
    log = Written(PLAN).stocked(4)
    lines = log.tasks(13, "feed")
    assert missed(lines, log.state, on(14))
    log.add(13, "fed", "large tank 1", foods=[{"food": "t-iso", "litres": 0.5}])
    assert not missed(lines, log.state, on(14))


def test_older_lines_are_let_go():
    log = Written(PLAN).stocked(4)
    assert not missed(log.tasks(THIN), EMPTY, on(THIN + 4))
