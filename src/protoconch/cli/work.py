"""`protoconch work`: what to do on a day of the plan, or on all of its days."""

import json
from collections.abc import Sequence
from datetime import UTC, date, datetime
from pathlib import Path
from typing import TYPE_CHECKING

import click

from protoconch.cli.telling import command, echo, option
from protoconch.errors import BadInput, MissingInput
from protoconch.words import say

if TYPE_CHECKING:
    from protoconch.season.answer import SeasonPlan
    from protoconch.work.task import Task


@command(
    say("The work of a day of the plan, with amounts and their working."),
    examples=(
        "protoconch work demo --day 2027-07-14",
        "protoconch work my-hatchery.toml --day 2027-07-14 --show-working",
        "protoconch work my-hatchery.toml --all --ics season.ics --csv season.csv",
    ),
)
@click.argument("hatchery", metavar="HATCHERY.toml|demo")
@option("--day", metavar="YYYY-MM-DD", help=say("The day whose work is listed."))
@option("--all", "whole", is_flag=True, help=say("The work of the whole season."))
@option("--target", help=say("Juveniles wanted, for example 1200."))
@option("--size", help=say("Their shell length, for example 80 mm."))
@option("--by", help=say("The day by which they are wanted, for example 2028-10-31."))
@option("--confidence", help=say("How sure it must be, for example 80 %."))
@option("--csv", "csv_file", metavar="FILE", help=say("Write the list as CSV."))
@option("--ics", "ics_file", metavar="FILE", help=say("Write the list as a calendar."))
@option("--json", "as_json", is_flag=True, help=say("The list as JSON."))
@option("--show-working", is_flag=True, help=say("Steps, and how each amount was worked out."))
def work(
    hatchery: str,
    day: str | None,
    whole: bool,
    target: str | None,
    size: str | None,
    by: str | None,
    confidence: str | None,
    csv_file: str | None,
    ics_file: str | None,
    as_json: bool,
    show_working: bool,
) -> None:
    """The work of a day of the plan, with amounts and their working."""
    asked = asked_day(day, whole=whole)
    plan = season_plan(hatchery, target, size, by, confidence)
    tasks = tasks_asked(plan, asked)
    written = [
        *([_write(csv_file, _csv(tasks))] if csv_file else []),
        *([_write(ics_file, _calendar(plan, tasks))] if ics_file else []),
    ]
    if as_json:
        echo(_json(plan, tasks, asked))
    elif not written or asked:
        echo(_told(plan, tasks, asked, show_working=show_working))
    for path in written:
        echo(say("Written to {path}.", path=path), err=True)


def season_plan(
    hatchery: str, target: str | None, size: str | None, by: str | None, confidence: str | None
) -> "SeasonPlan":
    """The plan whose work is listed, made by the command `plan`."""
    from protoconch.cli.plan import plan_for

    return plan_for(hatchery, target, size, by, confidence)


def asked_day(day: str | None, *, whole: bool) -> date | None:
    """The day that was typed; None for the whole season.

    Raises: MissingInput for neither, BadInput for both or for what is no day.
    """
    if day is None:
        if whole:
            return None
        raise MissingInput(
            say("Say for which day, as in --day 2027-07-14, or --all for the whole season.")
        )
    if whole:
        raise BadInput(say("Give --day for one day or --all for the whole season, not both."))
    try:
        return date.fromisoformat(day.strip())
    except ValueError:
        raise BadInput(
            say("{day!r} is no day; write year, month and day as in 2027-07-14.", day=day)
        ) from None


def tasks_asked(plan: "SeasonPlan", day: date | None) -> tuple["Task", ...]:
    """The tasks of that day, or of the season where day is None.

    Raises: BadInput for a day outside the season, or where the plan has no batch.
    """
    from protoconch.cli.season_work import season_work

    work = season_work(plan)
    if work.span is None:
        raise BadInput(
            say("The plan has no batch, so there is no work to list; `protoconch plan` says why.")
        )
    if day is None:
        return work.tasks()
    first, last = work.span
    if not first <= day <= last:
        raise BadInput(
            say(
                "{day} is outside the season of this plan, which has work from {first} to {last}.",
                day=day,
                first=first,
                last=last,
            )
        )
    return work.tasks_on(day)


def _told(
    plan: "SeasonPlan", tasks: Sequence["Task"], day: date | None, *, show_working: bool
) -> str:
    from protoconch.sheets.work_list import day_words, one_line, work_text

    name = one_line(plan.hatchery.name)
    head = [str(say("{name} (invented)", name=name)) if plan.hatchery.invented else name]
    if not plan.feasible:
        head.append(
            str(
                say(
                    "This plan reaches its target with odds of {odds:.0%}, less than the "
                    "{asked:.0%} asked; `protoconch plan` says what would help.",
                    odds=plan.odds.value,
                    asked=plan.target.confidence,
                )
            )
        )
    if not tasks and day:
        return "\n".join([*head, "", str(say("{day}: no tasks.", day=day_words(day)))])
    return "\n".join([*head, "", work_text(tasks, show_working=show_working)])


def _json(plan: "SeasonPlan", tasks: Sequence["Task"], day: date | None) -> str:
    from protoconch.sheets.work_list import work_json

    content = {
        "hatchery": plan.hatchery.name,
        "invented": plan.hatchery.invented,
        "day": day.isoformat() if day else None,
        "minutes": sum(task.minutes for task in tasks),
        "tasks": work_json(tasks),
    }
    return json.dumps(content, ensure_ascii=False, indent=2, allow_nan=False)


def _csv(tasks: Sequence["Task"]) -> bytes:
    from protoconch.sheets.work_list import work_csv

    return work_csv(tasks).encode()


def _calendar(plan: "SeasonPlan", tasks: Sequence["Task"]) -> bytes:
    from protoconch.sheets.work_list_calendar import work_calendar

    return work_calendar(tasks, plan.hatchery.name, datetime.now(UTC))


def _write(file: str, content: bytes) -> Path:
    path = Path(file)
    try:
        path.write_bytes(content)
    except OSError as fault:
        raise BadInput(
            say(
                "{file} cannot be written: {reason}.",
                file=file,
                reason=fault.strerror or str(fault),
            )
        ) from None
    return path
