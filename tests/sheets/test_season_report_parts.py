"""The report's work calendar and its assumptions."""

import re
from dataclasses import dataclass, replace
from datetime import date, timedelta
from html import unescape

import pytest

from protoconch.sheets.season_report import season_report
from protoconch.sheets.season_report.assumptions import KNOWN_HOW, name_written, number_written
from protoconch.sheets.season_report.calendar import calendar_card
from protoconch.sources.references import references
from tests.pictures.invented import season

PRINTED = date(2027, 5, 3)


@dataclass(frozen=True)
class Chore:
    day: date
    amount: str
    what: str = "Feed the larvae"
    batch: str = "A"
    minutes: float = 30.0
    where: str = "large tank 1"
    round: str = "morning"
    kind: str = "feed"
    why: str = "They are hungry."


def words(html):
    plain = unescape(re.sub(r"<[^>]+>", " ", html)).replace("\N{NO-BREAK SPACE}", " ")
    return re.sub(r"\s+", " ", plain)


def calendar(chores, printed=PRINTED):
    return words(calendar_card(season(3), chores, printed))


def daily(count, amount="1 g dry", **more):
    return [Chore(PRINTED + timedelta(days=i), amount.format(i), **more) for i in range(count)]


def test_the_next_two_weeks_stand_day_by_day_with_amount_and_reason():
    text = calendar(daily(40, "{} g dry"))
    soon = text[: text.index("Hours by month")]
    assert "Two weeks from Monday 3 May" in soon
    assert "Sunday 16 May: 0.5 h, feed" in soon
    assert "Monday 17 May" not in soon
    assert "13 g dry" in soon
    assert "They are hungry." in soon


def test_before_the_season_the_first_two_weeks_of_it_are_shown():
    assert "Two weeks from Monday 3 May" in calendar(daily(5), printed=date(2026, 1, 1))


def test_hours_of_a_month_are_the_sum_of_its_tasks():
    text = calendar(daily(29))
    table = text[text.index("Hours by month") :]
    assert re.search(r"May 2027 14\.5 h 3\.5 h", table)  # 29 half hours; a week has 7 of them


def test_what_is_done_on_most_days_of_a_week_is_told_once_with_its_range():
    text = calendar(daily(7, "{} g dry"))
    listed = text[text.index("All of it") :]
    assert "3 to 9 May on most days" in listed
    assert "A 0 to 6 g dry" in listed
    assert listed.count("large tank 1") == 1


def test_what_is_done_once_stands_on_its_day():
    chores = [*daily(7), Chore(PRINTED + timedelta(days=2), "80 larvae", what="Measure larvae")]
    listed = calendar(chores)[calendar(chores).index("All of it") :]
    assert "Wednesday 5 May Measure larvae large tank 1 A 80 larvae" in listed


def test_every_month_of_the_season_is_listed():
    text = calendar(daily(90))
    for month in ("May 2027", "June 2027", "July 2027"):
        assert f"{month}: " in text


def test_tasks_may_come_in_any_order():
    chores = daily(20, "{} g dry")
    assert calendar(chores[::-1]) == calendar(chores)


def assumptions(plan=None):
    text = words(season_report(plan or season(3), (), PRINTED))
    return text[text.index("Numbers the plan rests on") :]


def test_missing_and_borrowed_numbers_stand_first_and_are_marked():
    text = assumptions()
    first = text.index("Missing or borrowed")
    assert first < text.index(KNOWN_HOW["assumption"] + " (")
    gaps = text[first : text.index(KNOWN_HOW["assumption"] + " (")]
    assert "borrowed from queen conch" in gaps
    assert "not known missing" in gaps
    assert "No line for this snail." in gaps


def test_the_least_known_numbers_stand_before_the_better_known():
    text = assumptions()
    heads = [KNOWN_HOW[c] + " (" for c in ("assumption", "practice", "read", "own")]
    assert [text.index(head) for head in heads] == sorted(text.index(head) for head in heads)


def test_an_assumption_shows_value_range_unit_conditions_and_full_citation():
    known = references()["brito-manzano-2004"]
    text = assumptions()
    for part in ("Veliger: survival", "0.315", "0.16 to 0.49", "29 °C, 200 per L", known.citation):
        assert words(part) in text
    assert "Table 2" in text


def test_a_source_without_a_citation_is_shown_by_its_name():
    plan = season(3)
    odd = replace(plan.assumptions[0], source="nobody-1901")
    assert "nobody-1901" in assumptions(replace(plan, assumptions=(odd,)))


def test_a_plan_without_assumptions_says_so():
    plan = replace(season(3), assumptions=())
    assert "No assumption is listed." in words(season_report(plan, (), PRINTED))


@pytest.mark.parametrize(
    ("name", "said"),
    [
        ("veliger.density.day_4", "Veliger: density, day 4"),
        ("post_larva.survival", "Post larva: survival"),
        ("alone", "Alone"),
    ],
)
def test_names_of_numbers_are_said_in_words(name, said):
    assert name_written(name) == said


@pytest.mark.parametrize(
    ("number", "unit", "said"),
    [(400_000.0, "1", "400,000"), (0.315, "1", "0.315"), (2.5, "m2", "2.5 m²"), (21, "d", "21 d")],
)
def test_numbers_of_the_trade_keep_their_digits(number, unit, said):
    assert number_written(number, unit) == said
