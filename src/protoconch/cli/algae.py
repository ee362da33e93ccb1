"""`protoconch algae`: what the algae room does, day by day, for the season's larvae."""

import json
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from protoconch.cli.season_work import EFFORT, season_algae
from protoconch.cli.telling import as_json, command, echo, option
from protoconch.errors import BadInput, MissingInput
from protoconch.words import say

if TYPE_CHECKING:
    from protoconch.algae.chain.answer import AlgaeAnswer
    from protoconch.algae.chain.loss import Loss
    from protoconch.hatchery.algae_vessels import AlgaeRoom


@command(
    say("What to inoculate, harvest and keep in spare, day by day."),
    examples=(
        "protoconch algae demo",
        'protoconch algae demo --day 2027-05-03 --lost "carboy 3"',
        "protoconch algae my-hatchery.toml --report algae.html",
    ),
)
@click.argument("hatchery", metavar="HATCHERY.toml|demo")
@option("--day", metavar="YYYY-MM-DD", help=say("The day whose moves are listed."))
@option("--lost", metavar="VESSELS", help=say('Cultures lost on --day, as in "carboy 3".'))
@option("--missing", metavar="VESSELS", help=say("Vessels out of use from --day on."))
@option("--report", metavar="FILE", help=say("Write the algae report, one HTML file."))
@as_json()
def algae(
    hatchery: str, day: str | None, lost: str | None, missing: str | None, report: str | None,
    as_json: bool,
) -> None:  # fmt: skip
    """What to inoculate, harvest and keep in spare, day by day."""
    from protoconch.cli.plan import described_hatchery, plan_for
    from protoconch.sheets.algae_section import algae_page

    asked = None if day is None else asked_day(day)
    if (lost or missing) and asked is None:
        raise MissingInput(say("Say on which day it was lost, as in --day 2027-05-03."))
    room = described_room(hatchery)
    season = plan_for(hatchery, None, None, None, None)
    answer = season_algae(season, room)
    anew = replanned_on(answer, asked, lost, missing) if asked and (lost or missing) else None
    if report:
        described = described_hatchery(hatchery)
        page = algae_page(answer, described.name, answer.first, invented=described.invented)
        _write(page, report)
    if as_json:
        shown = algae_json(answer, asked, anew)
        echo(json.dumps(shown, ensure_ascii=False, indent=2, allow_nan=False))
    else:
        echo("\n".join(map(str, algae_told(answer, asked, anew))))
    if report:
        echo(say("Report written to {report}.", report=report), err=as_json)


def asked_day(day: str) -> date:
    """The day that was typed.

    Raises: BadInput, where it is none.
    """
    try:
        return date.fromisoformat(day.strip())
    except ValueError:
        raise BadInput(
            say("{day!r} is no day; write year, month and day as in 2027-05-03.", day=day)
        ) from None


def described_room(source: str) -> "AlgaeRoom":
    """The algae room of a file, or the invented one for the word demo."""
    from protoconch.hatchery.algae_vessels import algae_room_in, demo_algae_room
    from protoconch.hatchery.file_text import file_text

    return demo_algae_room() if source == "demo" else algae_room_in(file_text(source), source)


def replanned_on(answer: "AlgaeAnswer", day: date, lost: str | None, missing: str | None) -> "Loss":
    """The schedule made anew from the morning of a day.

    Raises: BadInput, where a vessel is none, holds nothing, or the day is outside.
    """
    from protoconch.algae.chain.loss import after_loss

    number = (day - answer.first).days
    if not 0 <= number < answer.demand.days:
        last = answer.day(answer.demand.days - 1)
        raise BadInput(
            say(
                "{day} is outside the schedule, which runs from {first} to {last}.",
                day=day,
                first=answer.first,
                last=last,
            )
        )
    return after_loss(answer, number, lost=_vessels(lost), missing=_vessels(missing),
                      effort=EFFORT)  # fmt: skip


def _vessels(typed: str | None) -> tuple[tuple[str, int], ...]:
    found = []
    for words in (typed or "").split(","):
        if not words.strip():
            continue
        kind, _, number = words.strip().rpartition(" ")
        if not kind or not number.isdigit():
            raise BadInput(
                say(
                    "{typed!r} is no vessel; write kind and number, as carboy 3.",
                    typed=words.strip(),
                )
            )
        found.append((kind, int(number)))
    return tuple(found)


def algae_told(answer: "AlgaeAnswer", asked: date | None, anew: "Loss | None") -> list[str]:
    """The answer as lines of text."""
    from protoconch.pictures.algae_supply import supply_meaning
    from protoconch.pictures.algae_vessels import vessels_meaning
    from protoconch.sheets.algae_section import algae_title, algae_words, moves_on

    said = [f"{algae_title(answer)}.", "", algae_words(answer), supply_meaning(answer),
            vessels_meaning(answer)]  # fmt: skip
    said += [f"  {answer.day(s.day)}: {s.remedy}" for s in answer.short[:10]]
    number = max(0, ((asked or answer.first) - answer.first).days)
    said += ["", f"{answer.day(number)}:"]
    said += [f"  {what}, {vessel}: {more}" for what, vessel, more in moves_on(answer, number)]
    if anew:
        said += ["", *anew.sentences]
    return said


def algae_json(answer: "AlgaeAnswer", asked: date | None, anew: "Loss | None"
               ) -> dict[str, Any]:  # fmt: skip
    """The answer for machines."""
    from protoconch.algae.chain.loss import spell_told
    from protoconch.sheets.algae_section import algae_words, moves_on

    plan, odds = answer.plan, answer.sure.sureness
    days = range(answer.demand.days) if asked is None else [(asked - answer.first).days]
    found: dict[str, Any] = {
        "first_day": answer.first.isoformat(),
        "days": answer.demand.days,
        "species": list(answer.demand.species),
        "gap": plan.gap,
        "days_short_without_losses": plan.days_short,
        "days_fed_with_losses": odds.met,
        "food_lacking_with_losses": odds.unmet,
        "aimed_at": answer.days_fed,
        "enough": answer.sure.enough,
        "spare": answer.sure.spare,
        "sentence": algae_words(answer),
        "vessels": [{"kind": b.kind, "days_all_in_use": b.full_days,
                     "one_more_saves_min": b.one_more_min} for b in answer.bindings],
        "moves": {answer.day(n).isoformat(): [" / ".join(move) for move in moves_on(answer, n)]
                  for n in days},
        "short": [{"day": answer.day(s.day).isoformat(), "tank": s.tank, "species": s.species,
                   "missing_g": s.missing_g, "remedy": s.remedy} for s in answer.short],
    }  # fmt: skip
    if anew:
        replan = anew.replan
        found["planned_anew"] = {
            "from": answer.day(replan.day).isoformat(), "starts_changed_in_a_week": replan.moved,
            "days_short_before": replan.before, "days_short_after": replan.after,
            "short": [spell_told(spell, answer.day(replan.day)) for spell in anew.spells],
        }  # fmt: skip
    return found


def _write(page: str, file: str) -> None:
    try:
        Path(file).write_text(page, encoding="utf-8")
    except OSError as error:
        reason = error.strerror.lower() if error.strerror else say("it cannot be opened")
        raise BadInput(
            say("The report cannot be written to {file}: {reason}.", file=file, reason=reason)
        ) from None
