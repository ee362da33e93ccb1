"""`protoconch restore`: the records of a backup into an empty place."""

from pathlib import Path

import click

from protoconch.cli.telling import command, echo, option
from protoconch.words import say


@command(
    say("The records of a backup into an empty place."),
    examples=("protoconch restore hatchery-2027-07-14.zip --data new-folder",),
)
@click.argument("file", type=click.Path(path_type=Path, dir_okay=False))
@option(
    "--data",
    metavar="FOLDER",
    type=click.Path(path_type=Path, file_okay=False),
    help=say("Folder of the records, new or empty."),
)
@option("--overwrite", is_flag=True, help=say("Delete the records that are there first."))
def restore(file: Path, data: Path | None, overwrite: bool) -> None:
    """The records of a backup into an empty place."""
    from protoconch.cli.backup import told
    from protoconch.operations.opening import open_records

    open_records(data)
    from protoconch.operations.keeping.restoring import restore as restored

    rows = restored(file, overwrite=overwrite)
    echo(say("Restored from {file}: {what}. Everybody signs in anew.", file=file, what=told(rows)))
