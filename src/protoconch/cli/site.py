"""`protoconch site`: is the seawater system sound; flows, pressures, doses, findings."""

import json
from datetime import date, datetime
from pathlib import Path
from typing import TYPE_CHECKING

import click

from protoconch.errors import BadInput

if TYPE_CHECKING:
    from protoconch.waterworks.description import Waterworks

DEMO_DAY = date(2027, 6, 1)


@click.command()
@click.argument("hatchery", metavar="HATCHERY.toml|demo")
@click.option("--report", metavar="FILE", help="Write the site report, one HTML file.")
@click.option("--day", help="The day from which the store is forecast, as 2027-06-01.")
@click.option("--json", "as_json", is_flag=True, help="The answer as JSON.")
def site(hatchery: str, report: str | None, day: str | None, as_json: bool) -> None:
    """Is the seawater system sound: flows, pressures, doses, findings.

    \b
    protoconch site demo
    protoconch site my-hatchery.toml --report site.html
    """  # noqa: D301 - click reads the backspace as: keep these lines
    from protoconch.sheets.site_answer import site_json, site_text
    from protoconch.sheets.site_report import site_page
    from protoconch.waterworks.assessment import assessment

    described, name, invented = _described(hatchery)
    first = _day(day, DEMO_DAY if hatchery == "demo" else datetime.now().astimezone().date())
    seen = assessment(described, first=first)
    if report:
        _write(site_page(seen, name, first, invented=invented), report)
    if as_json:
        click.echo(json.dumps(site_json(seen), ensure_ascii=False, indent=2, allow_nan=False))
    else:
        click.echo(site_text(seen, name))
    if report:
        click.echo(f"Report written to {report}.", err=as_json)


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
            f"The day {typed!r} is none; write year, month and day as in 2027-06-01."
        ) from None


def _write(page: str, file: str) -> None:
    try:
        Path(file).write_text(page, encoding="utf-8")
    except OSError as error:
        reason = (error.strerror or "it cannot be opened").lower()
        raise BadInput(f"The report cannot be written to {file}: {reason}.") from None
