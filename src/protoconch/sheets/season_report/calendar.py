"""The work: the next two weeks day by day, the months with their hours, and all of it folded."""

import re
from collections import defaultdict
from collections.abc import Iterable, Sequence
from datetime import date, timedelta
from itertools import groupby

from protoconch.pictures.words import amount, month_written
from protoconch.season.answer import SeasonPlan
from protoconch.sheets.look import Html, folded, joined, paragraph, section, table, tag
from protoconch.sheets.season_report.task import TaskLike
from protoconch.words import day_text, listed, say

NEXT_DAYS = 14
_MOST = 0.55
"""The same work at one place for one batch on so large a share of a week's days is told once."""


def calendar_card(
    plan: SeasonPlan, tasks: Sequence[TaskLike], printed: date, *, whole: bool = True
) -> Html:
    """The work calendar; a plan without tasks says so.

    whole: with every month's work under it; else only the next two weeks and the hours.
    """
    if not tasks:
        return section(say("The work"), paragraph(say("There is no work to list.")), id_="work")
    ordered = sorted(tasks, key=lambda task: task.day)
    start = min(max(printed, ordered[0].day), ordered[-1].day)
    return section(
        say("The work"),
        tag("h3", say("Two weeks from {day}", day=_day(start))),
        *_next(ordered, start),
        _months(plan, ordered),
        *(_everything(ordered) if whole else ()),
        id_="work",
    )


def month_card(month: date, tasks: Sequence[TaskLike]) -> Html:
    """The work of one month, week by week."""
    ordered = sorted(tasks, key=lambda task: task.day)
    weeks = [_week(list(group)) for _, group in groupby(ordered, key=lambda t: _monday(t.day))]
    minutes = sum(task.minutes for task in ordered)
    said = paragraph(say("{hours} of work.", hours=_hours(minutes)), " ", READING, class_="quiet")
    return section(month_written(month), said, *weeks, id_="work")


READING = say(
    "Letters are batches. What is done on most days of a week stands once for the week, "
    "with its first and last amount; the rest stands by day."
)


def _everything(ordered: Sequence[TaskLike]) -> list[Html]:
    return [
        tag("h3", say("All of it, month by month")),
        paragraph(
            say(
                "The day's own work list has every amount in full, with the "
                "reason and the steps. On paper a month appears if it is open here.",
            ),
            class_="quiet",
        ),
        *(_month(month, list(group)) for month, group in groupby(ordered, key=_month_of)),
    ]


def _day(day: date) -> str:
    return day_text(day, "%A %-d %B")


def _month_of(task: TaskLike) -> date:
    return task.day.replace(day=1)


def _next(tasks: Iterable[TaskLike], start: date) -> list[Html]:
    end = start + timedelta(days=NEXT_DAYS)
    soon = [task for task in tasks if start <= task.day < end]
    parts = []
    for day, group in groupby(soon, key=lambda task: task.day):
        todays = list(group)
        minutes = sum(task.minutes for task in todays)
        parts.append(
            folded(
                say(
                    "{day}: {hours}, {kinds}",
                    day=_day(day),
                    hours=_hours(minutes),
                    kinds=_kinds(todays),
                ),
                table(
                    _day(day), (say("What"), say("When"), say("Where and how much")), _rows(todays)
                ),
                class_="printed",
            )
        )
    return parts or [paragraph(say("No work in these two weeks."))]


def _rows(todays: Iterable[TaskLike]) -> list[tuple[str, ...]]:
    """A row for each thing to do in a round, with all its places and amounts."""
    same: defaultdict[tuple[str, str, str], list[TaskLike]] = defaultdict(list)
    for task in todays:
        same[task.what, task.why, task.round].append(task)
    return [
        (
            joined((what, tag("span", why, class_="quiet"))),
            say(round_),
            joined(
                tag(
                    "span",
                    f"{task.where} ({say(task.batch)}): ",
                    tag("b", task.amount),
                    class_="line",
                )
                for task in found
            ),
        )
        for (what, why, round_), found in same.items()
    ]


def _hours(minutes: float) -> str:
    return f"{amount(minutes / 60)}\N{NO-BREAK SPACE}h"


def _kinds(tasks: Iterable[TaskLike]) -> str:
    kinds = list(dict.fromkeys(task.kind for task in tasks))
    return listed([say(kind) for kind in kinds])


def _months(plan: SeasonPlan, tasks: Sequence[TaskLike]) -> Html:
    weekly = sum(plan.hatchery.crew_hours)
    rows = []
    for month, group in groupby(tasks, key=_month_of):
        found = list(group)
        weeks: defaultdict[date, float] = defaultdict(float)
        for task in found:
            weeks[_monday(task.day)] += task.minutes
        minutes = sum(task.minutes for task in found)
        rows.append(
            (
                str(month_written(month)).replace(" ", "\N{NO-BREAK SPACE}"),
                _hours(minutes),
                _hours(max(weeks.values())),
                _events(found),
            )
        )
    return table(
        say("Hours by month; the crew has {hours} h a week", hours=amount(weekly)),
        (say("Month"), say("Work"), say("Fullest week of it"), say("What happens")),
        rows,
    )


def _monday(day: date) -> date:
    return day - timedelta(days=day.weekday())


def _events(tasks: Iterable[TaskLike]) -> str:
    """Kinds of work that a batch meets on few days of a month, with the batches."""
    days: defaultdict[tuple[str, str], set[date]] = defaultdict(set)
    for task in tasks:
        days[task.kind, task.batch].add(task.day)
    events: defaultdict[str, list[str]] = defaultdict(list)
    for (kind, batch), when in days.items():
        if len(when) <= 2:
            events[kind].append(batch)
    return "; ".join(
        f"{say(kind)} {', '.join(str(say(code)) for code in sorted(codes))}"
        for kind, codes in events.items()
    )


def _month(month: date, tasks: Sequence[TaskLike]) -> Html:
    minutes = sum(task.minutes for task in tasks)
    weeks = [_week(list(group)) for _, group in groupby(tasks, key=lambda t: _monday(t.day))]
    return folded(f"{month_written(month)}: {_hours(minutes)}", *weeks, class_="long")


def _week(tasks: Sequence[TaskLike]) -> Html:
    days = (tasks[-1].day - tasks[0].day).days + 1
    often = max(2.0, _MOST * days)
    same: defaultdict[tuple[str, str, str], list[TaskLike]] = defaultdict(list)
    for task in tasks:
        same[task.what, task.where, task.batch].append(task)
    routine = [found for found in same.values() if len({task.day for task in found}) >= often]
    told = {id(task) for found in routine for task in found}
    lines = (
        [tag("dt", say("{days} on most days", days=_span(tasks))), *_lines(routine)]
        if routine
        else []
    )
    rest = [task for task in tasks if id(task) not in told]
    for day, todays in groupby(rest, key=lambda task: task.day):
        lines += [tag("dt", _day(day)), *_lines([[task] for task in todays])]
    return tag("dl", *lines, class_="days")


def _span(tasks: Sequence[TaskLike]) -> str:
    first, last = tasks[0].day, tasks[-1].day
    return say("{first} to {last:%-d %B}", first=first.day, last=last)


def _lines(same: Iterable[Sequence[TaskLike]]) -> list[Html]:
    """A line for each thing to do: its places, and at each its batches with their amounts."""
    what: defaultdict[str, defaultdict[str, list[str]]] = defaultdict(lambda: defaultdict(list))
    for found in same:
        first, last = found[0], found[-1]
        words = f"{say(first.batch)} {_ranged(_short(first.amount), _short(last.amount))}"
        what[first.what][first.where].append(words)
    return [
        tag(
            "dd", tag("b", name), " ", ". ".join(f"{at} {'; '.join(t)}" for at, t in places.items())
        )
        for name, places in what.items()
    ]


def _short(amount_told: str) -> str:
    """An amount without what stands in brackets or for whom it is."""
    told = re.sub(r" \([^)]*\)", "", str(amount_told))
    return told.split(f" {say('for')} ", maxsplit=1)[0]


def _ranged(first: str, last: str) -> str:
    """First to last amount: 25 to 26 g of pellets."""
    if first == last:
        return first
    (number, *words), (number_2, *words_2) = first.split(), last.split()
    if words == words_2:
        return str(say("{low} to {high} {what}", low=number, high=number_2, what=" ".join(words)))
    return str(say("{first}, in the end {last}", first=first, last=last))
