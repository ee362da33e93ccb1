"""`protoconch demo`: the invented hatchery, planned, with its season report."""

from pathlib import Path

import click

REPORT = "demo-season.html"


@click.command()
@click.option("--report", metavar="FILE", default=REPORT, show_default=True,
              help="Where the season report goes.")  # fmt: skip
def demo(report: str) -> None:
    """The invented hatchery, planned and reported."""
    from protoconch.cli.plan import SEED, asked_target, described_hatchery, season, write_report
    from protoconch.sheets.season_answer import answer_text

    hatchery = described_hatchery("demo")
    click.echo(f"Planning the season of {hatchery.name} (invented) ...")
    answer = season(hatchery, asked_target(hatchery, None, None, None, None), today=None, seed=SEED)
    write_report(answer, report)
    click.echo()
    click.echo(answer_text(answer))
    click.echo(f"\nSeason report: {Path(report).resolve()}")
