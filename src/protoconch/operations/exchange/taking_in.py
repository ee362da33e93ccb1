"""Whole tables taken into the log: all rows or none."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from uuid import UUID

from django.db import transaction
from django.db.models import Max

from protoconch.errors import Problem
from protoconch.log.entry import Entry
from protoconch.operations.exchange.raw_rows import Made, Rows
from protoconch.operations.recording import record
from protoconch.records.models import Person, Site
from protoconch.words import say

MOST_ENTRIES, MOST_BEHIND = 3000, 400
"""How many are taken at once, and how many of them may lie before the end of the log: each of these
makes the state be folded anew, while nobody else can write."""


@dataclass(frozen=True, slots=True)
class Outcome:
    """What became of a table, or would.

    problems: why nothing can be taken, by line. unlikely: what asks for one tick, by line.
    fresh: entries that are new, with their line; there: how many are in the log already.
    taken: whether the new ones are in the log now.
    """

    problems: tuple[Problem, ...] = ()
    unlikely: tuple[Problem, ...] = ()
    fresh: tuple[tuple[int, Entry], ...] = ()
    there: int = 0
    taken: bool = False


def tried(person: Person, rows: Rows, now: datetime) -> Outcome:
    """What taking the rows in would do; nothing is changed."""
    return _run(person, rows, now, sure=True, keep=False)


def taken_in(person: Person, rows: Rows, now: datetime, *, sure: bool = False) -> Outcome:
    """Take all rows into the log in one transaction, or none.

    sure: somebody has looked at what is unlikely, and it is so.
    """
    return _run(person, rows, now, sure=sure, keep=True)


def _run(person: Person, rows: Rows, now: datetime, *, sure: bool, keep: bool) -> Outcome:
    said = _too_many(person.site, rows.made)
    if said:
        return Outcome((Problem(rows.made[0].line, said), *rows.problems))
    with transaction.atomic():
        found = _recorded(person, rows.made, now, rows.problems)
        taken = keep and not found.problems and (sure or not found.unlikely)
        if not taken:
            transaction.set_rollback(True)
    return replace(found, taken=taken)


def _too_many(site: Site, made: Sequence[Made]) -> str:
    """Why the rows are too many at once, in a sentence; empty where they are not."""
    parts = say("Take fewer readings, such as one an hour, or import the table in parts.")
    if len(made) > MOST_ENTRIES:
        return say(
            "The table makes {number:,} entries; at most {most:,} are taken at once. {parts}",
            number=len(made),
            most=MOST_ENTRIES,
            parts=parts,
        )
    last = site.entries.aggregate(last=Max("happened"))["last"]
    if last is None or len(made) <= MOST_BEHIND:
        return ""
    behind = {UUID(one.raw["id"]) for one in made
              if datetime.fromisoformat(one.raw["happened"]) < last}  # fmt: skip
    known = site.entries.filter(happened__lte=last).values_list("uuid", flat=True)
    fresh = len(behind - set(known)) if len(behind) > MOST_BEHIND else 0
    if fresh <= MOST_BEHIND:
        return ""
    return say(
        "Before the last entry of the log lie {fresh:,} of the rows; at most "
        "{most} such rows are taken at once. {parts}",
        fresh=fresh,
        most=MOST_BEHIND,
        parts=parts,
    )


def _recorded(
    person: Person, made: Sequence[Made], now: datetime, problems: Sequence[Problem]
) -> Outcome:
    """Record the rows in the order of what happened, each judged after those before it."""
    ordered = sorted(made, key=lambda one: (datetime.fromisoformat(one.raw["happened"]), one.line))
    answers = record(person, [one.raw for one in ordered], now, sure=True)
    wrong, odd, fresh, there = list(problems), [], [], 0
    for one, answer in zip(ordered, answers, strict=True):
        if answer.outcome == "refused":
            wrong += [Problem(one.line, said) for said in answer.sentences]
        elif answer.outcome == "there already":
            there += 1
        elif answer.entry is not None:
            fresh.append((one.line, answer.entry))
            odd += [Problem(one.line, said) for said in answer.sentences]
    return Outcome(
        tuple(sorted(wrong, key=lambda problem: problem.line)),
        tuple(sorted(odd, key=lambda problem: problem.line)),
        tuple(sorted(fresh, key=lambda pair: pair[0])), there,
    )  # fmt: skip
