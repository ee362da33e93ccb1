"""`protoconch restore`: the records of a backup into an empty place."""

from pathlib import Path

import click


@click.command()
@click.argument("file", type=click.Path(path_type=Path, dir_okay=False))
@click.option("--data", metavar="FOLDER", type=click.Path(path_type=Path, file_okay=False),
              help="Folder of the records, new or empty.")  # fmt: skip
@click.option("--overwrite", is_flag=True, help="Delete the records that are there first.")
def restore(file: Path, data: Path | None, overwrite: bool) -> None:
    """The records of a backup into an empty place.

    \b
    protoconch restore hatchery-2027-07-14.zip --data new-folder
    """  # noqa: D301 - click reads the backspace as: keep these lines
    from protoconch.cli.backup import told
    from protoconch.operations.opening import open_records

    open_records(data)
    from protoconch.operations.keeping.restoring import restore as restored

    rows = restored(file, overwrite=overwrite)
    click.echo(f"Restored from {file}: {told(rows)}. Everybody signs in anew.")
