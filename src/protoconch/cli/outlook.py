"""`protoconch outlook`: will the season make it, given the log, and what would help."""

import csv
import json
from collections.abc import Iterator
from dataclasses import asdict
from datetime import UTC, date, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple
from uuid import UUID, uuid5

import click

from protoconch.cli.telling import as_json, command, echo, option
from protoconch.errors import BadInput, MissingInput
from protoconch.words import say

if TYPE_CHECKING:
    from protoconch.hatchery.description import Hatchery
    from protoconch.log.entry import Entry
    from protoconch.season.answer import SeasonPlan
    from protoconch.season.outlook.counting_again import CountAgain
    from protoconch.season.outlook.next_action import Action, Choices
    from protoconch.season.outlook.outlook import Outlook

OWN_SPACE = UUID("5b0f6f6a-64c9-4c7e-8a57-8f3a4f0f2c11")
"""Name space of the ids of rows that carry none."""


class Looked(NamedTuple):
    """The outlook of a log. choices: None where the date is past.

    left_out: entries that are left out until somebody confirms them, each (id, sentence).
    """

    plan: "SeasonPlan"
    outlook: "Outlook"
    left_out: tuple[tuple[UUID, str], ...]
    choices: "Choices | None"
    counts: "tuple[CountAgain, ...]"


@command(
    say("Will the season make it, given all that was logged, and what would help most."),
    examples=(
        "protoconch outlook demo",
        "protoconch outlook my-hatchery.toml --log entries.csv",
        "protoconch outlook my-hatchery.toml --log entries.csv --day 2027-07-14 --json",
    ),
)
@click.argument("hatchery", metavar="HATCHERY.toml|demo")
@option("--log", "log_file", metavar="LOG.csv", help=say("The log, as the program writes it out."))
@option("--day", metavar="YYYY-MM-DD", help=say("The day; that of the last entry if not given."))
@as_json()
def outlook(hatchery: str, log_file: str | None, day: str | None, as_json: bool) -> None:
    """Will the season make it, given all that was logged, and what would help most."""
    from protoconch.cli.algae import asked_day

    asked = None if day is None else asked_day(day)
    if hatchery == "demo" and log_file is None:
        plan, log = demo_season()
    else:
        if log_file is None:
            raise MissingInput("Say which log, as in --log entries.csv.")
        plan = season_plan(hatchery)
        log = read_log(log_file, plan.hatchery)
    looked = looked_at(plan, log, asked)
    if as_json:
        told = outlook_json(looked)
        echo(json.dumps(told, ensure_ascii=False, indent=2, allow_nan=False))
    else:
        echo("\n".join(map(str, outlook_told(looked))))


def season_plan(hatchery: str) -> "SeasonPlan":
    """The plan that the log is set beside, made by the command `plan`."""
    from protoconch.cli.plan import plan_for

    return plan_for(hatchery, None, None, None, None)


def demo_season() -> "tuple[SeasonPlan, tuple[Entry, ...]]":
    """The plan and the log of the invented hatchery half a season on."""
    from zoneinfo import ZoneInfo

    import numpy as np

    from protoconch.animals.profiles import species
    from protoconch.cli.plan import SEED, asked_target, season, today_here
    from protoconch.hatchery.reading import read_hatchery
    from protoconch.hatchery.vessels import vessels
    from protoconch.log.reading import read_entry
    from protoconch.operations.demo_season import demo_for

    zone = ZoneInfo("America/Nassau")
    made = demo_for(today_here(), np.random.Generator(np.random.PCG64(7)), zone)
    here = read_hatchery(made.text, "demo.toml")
    target = asked_target(here, None, None, None, None)
    plan = season(here, target, today=None, seed=SEED, compare=False)
    known = {vessel.name: vessel for vessel in vessels(here)}
    raw = made.entries(plan, species(here.species), None)
    return plan, tuple(read_entry(one, known) for one in raw)


def read_log(file: str, hatchery: "Hatchery") -> "tuple[Entry, ...]":
    """The entries of a table of comma-separated values.

    Rows without `arrived` are taken to have arrived when they happened.
    Raises: BadInput, where the file cannot be read or holds no log; BadFile with every fault.
    """
    from protoconch.log.table import entries_of

    now = datetime.now().astimezone()
    try:
        text = Path(file).read_text(encoding="utf-8-sig")
    except OSError as fault:
        raise BadInput(f"{file} cannot be read: {fault.strerror or fault}.") from None
    except UnicodeDecodeError:
        raise BadInput(f"{file} is no text in UTF-8; save it as CSV with that encoding.") from None
    found = list(_rows(text))
    if not found or not {"kind", "happened"} <= found[0].keys():
        raise BadInput(
            f"{file} holds no log: its first line must name the columns, kind and happened among"
            " them."
        )
    for row in found:
        if not (row.get("arrived") or "").strip():
            row["arrived"] = row["happened"]
    ids = (uuid5(OWN_SPACE, f"{number}") for number in range(10**9))
    return entries_of(found, hatchery, ids=ids, arrived=now, zone=now.tzinfo or UTC, file=file)


def _rows(text: str) -> Iterator[dict[str, str]]:
    """Rows by the names of their columns, units in brackets and the guard of formulas left out."""
    from protoconch.operations.exchange.columns import parted
    from protoconch.sheets.workbook import unsafe

    lines = csv.reader(text.splitlines(keepends=True))
    names = [parted(unsafe(name.strip()))[0] for name in next(lines, [])]
    for cells in lines:
        row = {name: unsafe(cell.strip()) for name, cell in zip(names, cells, strict=False)}
        row.pop("site clock", None)
        if any(row.values()):
            yield row


def looked_at(plan: "SeasonPlan", log: "tuple[Entry, ...]", asked: date | None) -> Looked:
    """The outlook of a plan after a log, as of a day or of its last entry.

    Raises: MissingInput, where the log has no entry by then or the plan no batch.
    """
    from protoconch.log.fold import fold
    from protoconch.operations.looking_ahead import bearing_on, doubted, looked_from, what_helps

    if not plan.batches:
        raise MissingInput("Nothing is planned for this hatchery, so there is nothing to look at.")
    first = plan.forecast.first_day
    day = asked or max((entry.happened.date() for entry in log), default=first)
    known_by_then = [entry for entry in log if entry.happened.date() <= day]
    if not known_by_then:
        raise MissingInput(f"The log has no entry up to {day}.")
    if day < first:
        raise BadInput(f"The season begins on {first}; {day} lies before it.")
    there = fold(known_by_then, plan.hatchery)
    own = [entry for entry in known_by_then if entry.happened.date() >= first]
    before = fold([e for e in known_by_then if e.happened.date() < first], plan.hatchery)
    known = looked_from(plan, bearing_on(own, plan.hatchery, before), day, doubted(there))
    out = [(doubt.entries[0], doubt.sentence) for doubt in there.doubts
           if doubt.entries and not doubt.counted]  # fmt: skip
    left_out = (*out, *known.outlook.doubted)
    if day >= plan.target.by:
        return Looked(plan, known.outlook, left_out, None, ())
    return Looked(plan, known.outlook, left_out, *what_helps(known))


def outlook_told(looked: Looked) -> list[str]:
    """The answer as lines of text."""
    from protoconch.pictures.season_ahead import as_looked_ahead
    from protoconch.pictures.words import day_written, percent
    from protoconch.sheets.season_report.answer import answer_written
    from protoconch.words import counted

    plan, found = looked.plan, looked.outlook
    asked = plan.target.confidence
    whose = f"{plan.hatchery.name}{' (invented)' if plan.hatchery.invented else ''}"
    said = [
        f"{answer_written(as_looked_ahead(plan, found))}.", "",
        f"{whose}, as of {day_written(found.as_of)}.", str(found.sentence),
        say("Before the season it was {then}; asked is {asked}.",
            then=percent(plan.odds.value, asked), asked=percent(asked)),
        counted(found.entries_used, "It rests on {number} thing seen of the animals.",
                "It rests on {number:,} things seen of the animals."),
    ]  # fmt: skip
    for title, parts in (
        (say("Left out until somebody confirms it:"), [one for _, one in looked.left_out]),
        (say("What does not fit:"), found.surprises),
        (say("What would help, the best first:"), _actions_told(looked)),
        (say("What would save work at hardly any loss:"), _spare_told(looked)),
    ):
        if parts:
            said += ["", title, *(f"  {part}" for part in parts)]
    return said


def _actions_told(looked: Looked) -> list[str]:
    if looked.choices is None:
        return []
    choices = looked.choices
    told = [_action_told(a, choices.currency) for a in choices.actions if a.helps]
    told += [count.sentence for count in looked.counts]
    return told or [
        say("Nothing that the permit, the room and the crew allow changes the odds now.")
    ]


def _spare_told(looked: Looked) -> list[str]:
    choices = looked.choices
    return [_action_told(a, choices.currency) for a in choices.actions
            if a.kind == "leave out" and not a.helps] if choices else []  # fmt: skip


def _action_told(action: "Action", currency: str) -> str:
    """What to do, what it gains, what it costs; how much trying it on common futures saves."""
    named = {
        "what": action.sentence, "gain": 100 * action.gain, "low": 100 * action.low,
        "high": 100 * action.high, "hours": action.hours, "saved": action.variance_saved,
    }  # fmt: skip
    if action.cost is not None:
        return say(
            "{what} {gain:+.1f} points ({low:+.1f} to {high:+.1f}), {hours:.0f} hours of work, "
            "{cost:,.0f} {currency}; futures of its own would have had to be {saved:.1f} times as "
            "many.", cost=action.cost, currency=currency, **named,
        )  # fmt: skip
    return say(
        "{what} {gain:+.1f} points ({low:+.1f} to {high:+.1f}), {hours:.0f} hours of work; futures "
        "of its own would have had to be {saved:.1f} times as many.", **named,
    )  # fmt: skip


def outlook_json(looked: Looked) -> dict[str, Any]:
    """The answer for machines."""
    plan, found = looked.plan, looked.outlook
    odds = {"odds": found.odds.value, "error": found.odds.error, "at_least": found.odds.at_least}
    actions = looked.choices.actions if looked.choices else ()
    names = ("kind", "key", "sentence", "batch", "gain", "low", "high", "hours", "masses", "cost",
             "helps", "per_hour", "per_cost", "more", "changes_target",
             "variance_saved")  # fmt: skip
    return {
        "as_of": found.as_of.isoformat(),
        "target": {"animals": plan.target.animals, "size_mm": plan.target.size_mm,
                   "by": plan.target.by.isoformat(), "confidence": plan.target.confidence},
        **odds,
        "odds_of_the_plan": plan.odds.value,
        "expected": found.expected, "p10": found.p10, "p90": found.p90,
        "sentence": found.sentence,
        "entries_used": found.entries_used, "effective_sample": found.effective_sample,
        "widened": found.widened,
        "batches": [{"code": b.code, "begun": b.begun, **asdict(b.ready)} for b in found.batches],
        "surprises": list(found.surprises),
        "left_out": [{"entry": str(entry), "sentence": said} for entry, said in looked.left_out],
        "moved": [{"name": m.name, "unit": m.unit, "before": asdict(m.before),
                   "now": asdict(m.now), "shift": m.shift, "narrower": m.narrower}
                  for m in found.moved],
        "currency": looked.choices.currency if looked.choices else "",
        "actions": [{name: getattr(action, name) for name in names} for action in actions],
        "counts": [{"lot": c.lot, "sentence": c.sentence, "gain": c.gain, "hours": c.hours}
                   for c in looked.counts],
    }  # fmt: skip
