"""`protoconch demo`: the invented hatchery, to look around in or as a printed report."""

from datetime import UTC, datetime
from pathlib import Path

import click

from protoconch.cli.serve import HOST, PORT
from protoconch.cli.telling import command, echo, option
from protoconch.words import joined, say

INVENTED = say("The hatchery, its people and all numbers of its log are invented.")


@command(
    say("The invented hatchery, planned, half a season logged, served."),
    examples=(
        "protoconch demo",
        "protoconch demo --report season.html",
    ),
)
@option("--host", default=HOST, show_default=True, help=say("Where to listen."))
@option("--port", type=click.IntRange(0, 65535), default=PORT, show_default=True)
@option(
    "--data",
    metavar="FOLDER",
    type=click.Path(path_type=Path, file_okay=False),
    help=say("Folder of its records; one beside your own where not said."),
)
@option("--new", is_flag=True, help=say("Begin anew: what was logged in it is deleted."))
@option(
    "--report",
    metavar="FILE",
    help=say("Write the report of its season into a file instead of serving it."),
)
def demo(host: str, port: int, data: Path | None, new: bool, report: str | None) -> None:
    """The invented hatchery, planned, half a season logged, served."""
    if report:
        written_report(report)
    else:
        served(host, port, data or demo_folder(), new=new)


def demo_folder() -> Path:
    """Where the records of the invented hatchery are kept."""
    import platformdirs

    return platformdirs.user_data_path("protoconch") / "demo"


def served(host: str, port: int, data: Path, *, new: bool) -> None:
    """Make the invented hatchery where it is not there yet, and serve it."""
    import os

    from protoconch.cli.serve import run
    from protoconch.operations.opening import open_records

    if new:
        forgotten(data)
    os.environ.pop("DATABASE_URL", None)  # the invented hatchery never goes among real ones
    open_records(data)
    from protoconch.operations.demonstration import begin_demonstration
    from protoconch.operations.starting import started

    echo(INVENTED)
    if started():
        echo(
            say(
                "Its sign-in was told when it was made; protoconch demo --new makes it anew, with"
                " another one."
            )
        )
    else:
        echo(say("This takes one or two minutes, once."))
        name, password = begin_demonstration(datetime.now(UTC), echo)
        echo(
            joined(
                [
                    "",
                    say("Sign in as: {name}", name=name),
                    say("Password: {password}", password=password),
                    say("(This is told only now.)"),
                    "",
                ],
                "\n",
            )
        )
    run(host, port)


def forgotten(data: Path) -> None:
    """Delete the records of the invented hatchery, and nothing else."""
    for file in data.glob("protoconch.sqlite3*"):
        file.unlink()


def written_report(report: str) -> None:
    """Plan the season and write its report."""
    from protoconch.cli.plan import SEED, asked_target, described_hatchery, season, write_report
    from protoconch.sheets.season_answer import answer_text

    hatchery = described_hatchery("demo")
    echo(say("Planning the season of {name} (invented) ...", name=hatchery.name))
    answer = season(hatchery, asked_target(hatchery, None, None, None, None), today=None, seed=SEED)
    write_report(answer, report)
    echo()
    echo(answer_text(answer))
    echo(f"\n{say('Season report: {file}', file=str(Path(report).resolve()))}")
