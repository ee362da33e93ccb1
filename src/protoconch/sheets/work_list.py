"""The work list on paper and on screens: as a text, as CSV, as JSON."""

import csv
import io
from collections.abc import Iterable, Iterator, Sequence
from datetime import date
from itertools import groupby
from textwrap import wrap
from typing import Any

from protoconch.sources.references import references
from protoconch.units import text
from protoconch.words import counted, day_text, phrase, say
from protoconch.work.task import ROUNDS, Task, Working

COLUMNS = ("day", "round", "kind", "batch", "what", "where", "amount", "minutes", "why",
           "working", "cautions")  # fmt: skip
WIDTH = 100
RISKY_STARTS = ("=", "+", "-", "@", "\t", "\r")
"""First characters by which spreadsheet programs take a text for a formula."""


def work_text(tasks: Sequence[Task], *, show_working: bool = False) -> str:
    """The tasks as aligned text, day by day and round by round.

    show_working: with the formula, inputs and sources under each amount, the steps, and the
        sources in full at the end.
    """
    return "\n\n".join(
        _day_text(day, tuple(of_day), show_working=show_working)
        for day, of_day in groupby(tasks, key=lambda task: task.day)
    )


def work_csv(tasks: Iterable[Task]) -> str:
    """The tasks as comma-separated values (RFC 4180), one line each under a line of names.

    The steps are left out: they are the same for every task of a kind, and the other forms have
    them. A text that a spreadsheet program would take for a formula gets an apostrophe in front.
    """
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(COLUMNS)
    for task in tasks:
        workings = "; ".join(working_text(part) for part in workings_of(task))
        cells = (task.kind, task.batch, task.what, task.where, task.amount)
        texts = (task.why, workings, " ".join(map(str, task.cautions)))
        writer.writerow((task.day.isoformat(), task.round, *map(_safe, cells),
                         f"{task.minutes:g}", *map(_safe, texts)))  # fmt: skip
    return out.getvalue()


def work_json(tasks: Iterable[Task]) -> list[dict[str, Any]]:
    """The tasks as plain lists and dictionaries, ready for JSON."""
    return [
        {
            "day": task.day.isoformat(),
            "round": task.round,
            "kind": task.kind,
            "batch": task.batch,
            "what": task.what,
            "where": task.where,
            "amount": task.amount,
            "minutes": task.minutes,
            "why": task.why,
            "workings": [_working_json(part) for part in workings_of(task)],
            "cautions": list(task.cautions),
            "steps": list(task.steps),
        }
        for task in tasks
    ]


def workings_of(task: Task) -> tuple[Working, ...]:
    """All workings behind the amount of a task, the main one first."""
    return (task.working, *task.also) if task.working else task.also


def working_text(working: Working) -> str:
    """A working in one line: what comes out, the formula, then each input with its source."""
    formula = working.formula.replace("**", "^").replace("*", "×")
    inputs = ", ".join(
        f"{say(part.name)} {_number(part.value)}{_unit(part.unit)} ({part.source})"
        for part in working.inputs
    )
    return f"{_number(working.result)}{_unit(working.unit)} = {formula}; {inputs}"


def hours_text(minutes: float) -> str:
    """A time as people say it: "2 h 10 min"."""
    hours, rest = divmod(max(round(minutes), 1), 60)
    return (
        say("{hours} h {rest:02d} min", hours=hours, rest=rest)
        if hours
        else say("{rest} min", rest=rest)
    )


def one_line(text: str) -> str:
    """The text without line breaks and other control characters."""
    return " ".join("".join(c if c.isprintable() else " " for c in str(text)).split())


def day_words(day: date) -> str:
    """A day written out: "Wednesday 14 July 2027"."""
    return day_text(day, "%A %-d %B %Y")


def _day_text(day: date, tasks: Sequence[Task], *, show_working: bool) -> str:
    minutes = sum(task.minutes for task in tasks)
    lines = [str(day_words(day)), f"{task_count(len(tasks))}, {hours_text(minutes)}"]
    for name in ROUNDS:
        own = [task for task in tasks if task.round == name]
        if own:
            lines += ["", f"{say(name).upper()}, {hours_text(sum(task.minutes for task in own))}"]
            lines += _round_lines(own, _start_widths(tasks), show_working=show_working)
    cautions = dict.fromkeys(caution for task in tasks for caution in task.cautions)
    if cautions:
        lines += ["", str(say("CARE")), *(_wrapped("  ", caution) for caution in cautions)]
    if show_working:
        lines += [
            "",
            str(say("SOURCES")),
            *(_wrapped(f"  {id_}: ", told) for id_, told in _cited(tasks)),
        ]
    return "\n".join(lines)


def _cited(tasks: Sequence[Task]) -> list[tuple[str, str]]:
    """The sources that the workings name, each with its citation, in the order of their names."""
    known = references()
    named = {part.source for t in tasks for w in workings_of(t) for part in w.inputs}
    return [(id_, known[id_].citation) for id_ in sorted(named) if id_ in known]


def _start_widths(tasks: Sequence[Task]) -> tuple[int, int]:
    """Widths of the columns of batch and place."""
    return (
        max(len(one_line(task.batch)) for task in tasks),
        max(len(one_line(task.where)) for task in tasks),
    )


def _round_lines(
    tasks: Sequence[Task], widths: tuple[int, int], *, show_working: bool
) -> Iterator[str]:
    for _, group in groupby(tasks, key=lambda task: task.kind):
        own = tuple(group)
        yield _wrapped("  ", f"{own[0].what}. {own[0].why}")
        for task in own:
            batch, where = one_line(task.batch), one_line(task.where)
            start = f"    {batch:<{widths[0]}}  {where:<{widths[1]}}"
            yield _wrapped(f"{start}  {hours_text(task.minutes):>10}  ", task.amount)
            if show_working:
                yield from (_wrapped(" " * 8, working_text(p)) for p in workings_of(task))
        if show_working:
            yield from (_wrapped(f"      {i}. ", step) for i, step in enumerate(own[0].steps, 1))


def _wrapped(start: str, text_: str) -> str:
    """A text of any length after its start, on lines of WIDTH, each under the first."""
    room = max(WIDTH - len(start), 30)
    lines = wrap(one_line(text_), room, break_long_words=False, break_on_hyphens=False)
    return ("\n" + " " * len(start)).join([start + first for first in lines[:1]] + lines[1:])


def task_count(number: int) -> str:
    """How many tasks, in words."""
    return counted(number, "{number} task", "{number} tasks")


def _safe(text: str) -> str:
    plain = one_line(text)
    return f"'{plain}" if plain.startswith(RISKY_STARTS) else plain


def _working_json(working: Working) -> dict[str, Any]:
    return {
        "formula": working.formula,
        "inputs": [part._asdict() for part in working.inputs],
        "result": working.result,
        "unit": working.unit,
    }


def _number(value: float) -> str:
    return (
        say("{number} billion", number=text(value / 1e9, "1", 3))
        if abs(value) >= 1e9
        else text(value)
    )


def _unit(unit: str) -> str:
    shown = {"um": "µm", "uM": "µM", "m2": "m²", "cm2": "cm²", "per cm2": phrase("per cm²")}
    return "" if unit == "1" else f" {say(shown.get(unit, unit))}"
