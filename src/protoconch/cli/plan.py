"""`protoconch plan`: from a target to a season, its odds, what limits it and what else to ask."""

import json
from dataclasses import replace
from datetime import date, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from protoconch.cli.telling import as_json, command, echo, option
from protoconch.errors import BadInput, MissingInput, ProtoconchError
from protoconch.words import joined, phrase, say

if TYPE_CHECKING:
    from collections.abc import Sequence

    from protoconch.hatchery.description import Hatchery, Target
    from protoconch.season.answer import SeasonPlan
    from protoconch.waterworks.assessment import Assessment
    from protoconch.work.task import Task

SEED = 1


def today_here() -> date:
    """Today, where the person sits."""
    return datetime.now().astimezone().date()


@command(
    say("From a target to a feasible plan, its odds and what limits it."),
    examples=(
        "protoconch plan demo",
        (
            'protoconch plan my-hatchery.toml --target 1200 --size "80 mm" --by 2028-10-31 '
            "--confidence 0.8"
        ),
        "protoconch plan my-hatchery.toml --report season.html",
    ),
)
@click.argument("hatchery", metavar="HATCHERY.toml|demo")
@option("--target", help=say("Juveniles wanted, for example 1200."))
@option("--size", help=say('Their shell length, for example "80 mm".'))
@option("--by", help=say("The day by which they are wanted, for example 2028-10-31."))
@option("--confidence", help=say("How sure it must be, for example 0.8 or 80 %."))
@option("--report", metavar="FILE", help=say("Write the season report, one HTML file."))
@option(
    "--seed",
    type=int,
    default=SEED,
    show_default=True,
    help=say("The same seed gives the same answer."),
)
@as_json()
def plan(
    hatchery: str,
    target: str | None,
    size: str | None,
    by: str | None,
    confidence: str | None,
    report: str | None,
    seed: int,
    as_json: bool,
) -> None:
    """From a target to a feasible plan, its odds and what limits it."""
    from protoconch.sheets.season_answer import answer_json, answer_text

    described = described_hatchery(hatchery)
    asked = asked_target(described, target, size, by, confidence)
    today = None if hatchery == "demo" else today_here()
    answer = season(described, asked, today=today, seed=seed)
    if report:
        write_report(answer, report)
    if as_json:
        echo(json.dumps(answer_json(answer), ensure_ascii=False, indent=2, allow_nan=False))
    else:
        echo(answer_text(answer))
    if report:
        echo(say("Report written to {report}.", report=report), err=as_json)


def plan_for(
    hatchery: str, target: str | None, size: str | None, by: str | None, confidence: str | None
) -> "SeasonPlan":
    """The season of a hatchery as it is written, whatever day it is today.

    Without the comparisons that only `protoconch plan` shows.
    """
    described = described_hatchery(hatchery)
    asked = asked_target(described, target, size, by, confidence)
    return season(described, asked, today=None, seed=SEED, compare=False)


def described_hatchery(source: str) -> "Hatchery":
    """The hatchery of a file, or the invented one for the word demo."""
    from protoconch.hatchery.reading import demo_hatchery, load_hatchery

    return demo_hatchery() if source == "demo" else load_hatchery(Path(source))


def asked_target(
    hatchery: "Hatchery", target: str | None, size: str | None, by: str | None,
    confidence: str | None,
) -> "Target":  # fmt: skip
    """The target typed, each part not typed taken from the hatchery's file.

    Raises: BadInput with a sentence for each part that cannot be used.
    """
    from protoconch.hatchery.description import Target
    from protoconch.units import quantity

    own = hatchery.target
    faults: list[str] = []

    def part(typed: str | None, name: str, kept: Any, read: Any) -> Any:
        if typed is None:
            if own is None:
                faults.append(say("Say --{name}: the hatchery's file has no [target].", name=name))
            return kept
        try:
            return read(typed)
        except ProtoconchError as fault:
            faults.append(fault.sentence)
            return kept

    animals = part(target, "target", own and own.animals,
                   lambda t: _whole(quantity(t, "1", phrase("the target"))))  # fmt: skip
    size_mm = part(
        size, "size", own and own.size_mm, lambda t: quantity(t, "mm", phrase("the size"))
    )
    day = part(by, "by", own and own.by, _day)
    sure = part(confidence, "confidence", own and own.confidence,
                lambda t: round(quantity(t, "1", phrase("the confidence")), 9))  # fmt: skip
    if faults:
        kind = MissingInput if all(fault.startswith("Say --") for fault in faults) else BadInput
        raise kind(joined(faults))
    return Target(animals, size_mm, day, sure)


def _whole(number: float) -> int:
    if not 1 <= number <= 10_000_000:
        raise BadInput(
            say(
                "The target is {number:g} animals; it must be a number from 1 to 10,000,000.",
                number=number,
            )
        )
    return round(number)


def _day(typed: str) -> date:
    try:
        return date.fromisoformat(typed.strip())
    except ValueError:
        raise BadInput(
            say(
                "The date {typed!r} is no day; write year, month and day as in 2028-10-31.",
                typed=typed,
            )
        ) from None


def season(
    hatchery: "Hatchery", target: "Target", *, today: date | None, seed: int, compare: bool = True
) -> "SeasonPlan":
    """The planned season of a hatchery."""
    from protoconch.animals.profiles import species
    from protoconch.season.plan.planning import plan_season
    from protoconch.sources.reading import load_table
    from protoconch.work import hours

    return plan_season(
        hatchery, species(hatchery.species), target, hours, load_table("season"), seed,
        today=today, compare=compare,
    )  # fmt: skip


def judged_site(answer: "SeasonPlan", tasks: "Sequence[Task]") -> "Assessment | None":
    """The hatchery's seawater system, with the water that the work of the season draws."""
    from protoconch.sources.reading import load_table
    from protoconch.waterworks.assessment import assessment
    from protoconch.work.water_use import litres_by_day

    waterworks = answer.hatchery.waterworks
    if waterworks is None or not answer.batches:
        return None
    every_day_l = sum(loop.exchange_l_day for loop in waterworks.loops)
    use = litres_by_day(answer, tasks, load_table("season"), every_day_l)
    return assessment(waterworks, use_l_by_day=use, first=answer.batches[0].dates.hatch)


def write_report(answer: "SeasonPlan", file: str) -> None:
    """Write the season report of an answer.

    Raises: BadInput, where the file cannot be written.
    """
    from protoconch.cli.season_work import season_work
    from protoconch.pictures.season_words import as_in_log
    from protoconch.sheets.season_report import season_report
    from protoconch.work.algae_now import coded

    work, named = season_work(answer), as_in_log(answer)
    tasks = tuple(coded(answer, task) for task in replace(work, plan=named).tasks())
    site = judged_site(named, tasks)
    page = season_report(named, tasks, today_here(), site, work.algae)
    try:
        Path(file).write_text(page, encoding="utf-8")
    except OSError as fault:
        raise BadInput(
            say(
                "{file} cannot be written: {reason}.",
                file=file,
                reason=fault.strerror or str(fault),
            )
        ) from None
