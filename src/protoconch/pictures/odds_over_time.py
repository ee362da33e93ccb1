"""The odds as they stood on each day so far: when the season turned."""

from collections.abc import Sequence
from datetime import date, timedelta

from protoconch.pictures.drawing import Picture, box, curve, element, line, picture, shape
from protoconch.pictures.lettering import Label
from protoconch.pictures.scales import NumberScale, TimeScale
from protoconch.pictures.words import day_short, percent
from protoconch.season.answer import Odds
from protoconch.season.outlook.scoring import DayOutlook, turned
from protoconch.words import joined, say

WIDTH, HEIGHT = 310.0, 190.0
LEFT, RIGHT, TOP, FOOT = 46.0, 226.0, 12.0, 150.0


def odds_over_time(
    days: Sequence[DayOutlook], asked: float, name: str = "odds-over-time"
) -> Picture:  # fmt: skip
    """The odds of each day as a line, with twice the error of working them out.

    days: two or more, in their order. asked: the confidence asked, drawn as a line.
    name: unique within the page.
    """
    first, last = days[0].as_of, days[-1].as_of
    time, up = TimeScale(first, last, LEFT, RIGHT), NumberScale(0.0, 1.0, FOOT, TOP)

    def edge(sigmas: float) -> list[tuple[float, float]]:
        return [(time.at(d.as_of), up.at(_within(d.odds, sigmas))) for d in days]

    end = up.at(days[-1].odds.value)
    parts = [
        box(LEFT, TOP, RIGHT - LEFT, FOOT - TOP, "frame"),
        shape([*edge(2.0), *reversed(edge(-2.0))], "might"),
        line((LEFT, up.at(asked)), (RIGHT, up.at(asked)), "limit"),
        curve(edge(0.0), "middle"),
        element("circle", cx=RIGHT, cy=end, r=3.4, class_="missed"),
    ]
    asked_y = up.at(asked) + 4
    now_y = end + 4
    if abs(now_y - asked_y) < 16:
        now_y = asked_y + (16 if now_y >= asked_y else -16)
    labels = [
        Label("100 %", LEFT - 6, TOP + 10, "small", "end"),
        Label("0", LEFT - 6, FOOT, "small", "end"),
        Label(say("asked"), RIGHT + 8, asked_y, "small"),
        Label(percent(days[-1].odds.value, asked), RIGHT + 8, now_y, "strong"),
        Label(day_short(first), LEFT, FOOT + 20, "small"),
        Label(day_short(last), RIGHT, FOOT + 20, "small", "end"),
    ]
    return picture(
        name,
        say("The odds as they stood on each day so far"),
        odds_meaning(days, asked),
        (WIDTH, HEIGHT),
        parts,
        labels,
    )


def odds_meaning(days: Sequence[DayOutlook], asked: float) -> str:
    """When the season turned, and on which side of what is asked it stands."""
    above = days[-1].odds.value >= asked
    since = _side_since(days, asked)
    if since == days[0].as_of:
        stood = (
            say("They stand at or above the {asked} asked, all the time.", asked=percent(asked))
            if above
            else say("They stand below the {asked} asked, all the time.", asked=percent(asked))
        )
    else:
        told = {"asked": percent(asked), "since": since}
        stood = (
            say("They stand at or above the {asked} asked, since {since:%-d %b %Y}.", **told)
            if above
            else say("They stand below the {asked} asked, since {since:%-d %b %Y}.", **told)
        )
    return joined(part for part in (turned(days), stood) if part)


def _side_since(days: Sequence[DayOutlook], asked: float) -> date:
    """The first day of those at the end that stand on the same side of what is asked."""
    above = days[-1].odds.value >= asked
    since = days[-1].as_of
    for day in reversed(days):
        if (day.odds.value >= asked) != above:
            break
        since = day.as_of
    return since


def week_before(days: Sequence[DayOutlook], today: date) -> DayOutlook | None:
    """The outlook of a week ago, or of the nearest day before that; None where none is."""
    then = [day for day in days if day.as_of <= today - timedelta(days=7)]
    return then[-1] if then else None


def _within(odds: Odds, sigmas: float) -> float:
    return min(1.0, max(0.0, odds.value + sigmas * odds.error))
