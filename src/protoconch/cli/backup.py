"""`protoconch backup`: all records into one file."""

from datetime import UTC, datetime
from pathlib import Path

import click

from protoconch.cli.telling import command, echo, option
from protoconch.words import joined, phrase, say


@command(
    say("All records into one file, while the program goes on."),
    examples=("protoconch backup hatchery-2027-07-14.zip",),
)
@click.argument("file", type=click.Path(path_type=Path, dir_okay=False))
@option(
    "--data",
    metavar="FOLDER",
    type=click.Path(path_type=Path, file_okay=False),
    help=say("Folder of the records."),
)
@option("--overwrite", is_flag=True, help=say("Also where the file is there already."))
def backup(file: Path, data: Path | None, overwrite: bool) -> None:
    """All records into one file, while the program goes on."""
    from protoconch.operations.opening import open_records

    open_records(data)
    from protoconch.operations.keeping.backing_up import back_up

    rows = back_up(file, datetime.now(UTC), overwrite=overwrite)
    echo(say("Written to {file}: {what}.", file=file, what=told(rows)))


def told(rows: dict[str, int]) -> str:
    """The numbers that a person looks for."""
    templates = {
        "entry": phrase("{number:,} entries of the log"),
        "photo": phrase("{number:,} photos"),
        "person": phrase("{number:,} people"),
        "description": phrase("{number:,} descriptions"),
    }
    return joined(
        [say(template, number=rows.get(name, 0)) for name, template in templates.items()], ", "
    )
