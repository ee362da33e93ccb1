"""`protoconch check`: whether the records are whole."""

from pathlib import Path

import click

from protoconch.cli.telling import command, echo, option
from protoconch.words import say


@command(
    say("Whether the records are whole: the database, the log, the description, the photos."),
)
@option(
    "--data",
    metavar="FOLDER",
    type=click.Path(path_type=Path, file_okay=False),
    help=say("Folder of the records."),
)
def check(data: Path | None) -> None:
    """Whether the records are whole: the database, the log, the description, the photos."""
    from protoconch.operations.opening import open_records

    open_records(data)
    from protoconch.operations.keeping.looking_over import faults
    from protoconch.operations.opening import place
    from protoconch.records.models import Entry, Photo

    found = list(faults())
    for sentence in found:
        echo(sentence)
    if found:
        raise SystemExit(1)
    echo(
        say(
            "The records in {place} are whole: {entries:,} entries of the log, {photos:,} photos.",
            place=place(),
            entries=Entry.objects.count(),
            photos=Photo.objects.count(),
        )
    )
