"""`protoconch site`: is the seawater system sound; flows, pressures, doses, findings."""

import json
from datetime import date, datetime
from pathlib import Path
from typing import TYPE_CHECKING

import click

from protoconch.cli.telling import as_json, command, echo, option
from protoconch.errors import BadInput
from protoconch.words import say

if TYPE_CHECKING:
    from protoconch.waterworks.description import Waterworks

DEMO_DAY = date(2027, 6, 1)


@command(
    say("Is the seawater system sound: flows, pressures, doses, findings."),
    examples=(
        "protoconch site demo",
        "protoconch site my-hatchery.toml --report site.html",
    ),
)
@click.argument("hatchery", metavar="HATCHERY.toml|demo")
@option("--report", metavar="FILE", help=say("Write the site report, one HTML file."))
@option("--day", help=say("The day from which the store is forecast, as 2027-06-01."))
@as_json()
def site(hatchery: str, report: str | None, day: str | None, as_json: bool) -> None:
    """Is the seawater system sound: flows, pressures, doses, findings."""
    from protoconch.sheets.site_answer import site_json, site_text
    from protoconch.sheets.site_report import site_page
    from protoconch.waterworks.assessment import assessment

    described, name, invented = _described(hatchery)
    first = _day(day, DEMO_DAY if hatchery == "demo" else datetime.now().astimezone().date())
    seen = assessment(described, first=first)
    if report:
        _write(site_page(seen, name, first, invented=invented), report)
    if as_json:
        echo(json.dumps(site_json(seen), ensure_ascii=False, indent=2, allow_nan=False))
    else:
        echo(site_text(seen, name))
    if report:
        echo(say("Report written to {report}.", report=report), err=as_json)


def _described(source: str) -> "tuple[Waterworks, str, bool]":
    """The waterworks, the hatchery's name, and whether it is invented."""
    from protoconch.hatchery.file_text import file_text
    from protoconch.hatchery.waterworks_reading import (
        demo_waterworks,
        hatchery_heading,
        waterworks_in,
    )

    if source == "demo":
        return demo_waterworks(), "Nowhere Cay practice hatchery", True
    text = file_text(source)
    found = waterworks_in(text, source)
    return found, *hatchery_heading(text, source)


def _day(typed: str | None, usual: date) -> date:
    if typed is None:
        return usual
    try:
        return date.fromisoformat(typed.strip())
    except ValueError:
        raise BadInput(
            say(
                "The day {typed!r} is none; write year, month and day as in 2027-06-01.",
                typed=typed,
            )
        ) from None


def _write(page: str, file: str) -> None:
    try:
        Path(file).write_text(page, encoding="utf-8")
    except OSError as error:
        reason = error.strerror.lower() if error.strerror else say("it cannot be opened")
        raise BadInput(
            say("The report cannot be written to {file}: {reason}.", file=file, reason=reason)
        ) from None
