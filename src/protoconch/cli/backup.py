"""`protoconch backup`: all records into one file."""

from datetime import UTC, datetime
from pathlib import Path

import click


@click.command()
@click.argument("file", type=click.Path(path_type=Path, dir_okay=False))
@click.option("--data", metavar="FOLDER", type=click.Path(path_type=Path, file_okay=False),
              help="Folder of the records.")  # fmt: skip
@click.option("--overwrite", is_flag=True, help="Also where the file is there already.")
def backup(file: Path, data: Path | None, overwrite: bool) -> None:
    """All records into one file, while the program goes on.

    \b
    protoconch backup hatchery-2027-07-14.zip
    """  # noqa: D301 - click reads the backspace as: keep these lines
    from protoconch.operations.opening import open_records

    open_records(data)
    from protoconch.operations.keeping.backing_up import back_up

    rows = back_up(file, datetime.now(UTC), overwrite=overwrite)
    click.echo(f"Written to {file}: {told(rows)}.")


def told(rows: dict[str, int]) -> str:
    """The numbers that a person looks for."""
    words = {"entry": "entries of the log", "photo": "photos", "person": "people",
             "description": "descriptions"}  # fmt: skip
    return ", ".join(f"{rows.get(name, 0):,} {word}" for name, word in words.items())
