"""`protoconch check`: whether the records are whole."""

from pathlib import Path

import click


@click.command()
@click.option("--data", metavar="FOLDER", type=click.Path(path_type=Path, file_okay=False),
              help="Folder of the records.")  # fmt: skip
def check(data: Path | None) -> None:
    """Whether the records are whole: the database, the log, the description, the photos."""
    from protoconch.operations.opening import open_records

    open_records(data)
    from protoconch.operations.keeping.looking_over import faults
    from protoconch.operations.opening import place
    from protoconch.records.models import Entry, Photo

    found = list(faults())
    for sentence in found:
        click.echo(sentence)
    if found:
        raise SystemExit(1)
    click.echo(
        f"The records in {place()} are whole: {Entry.objects.count():,} entries of the log,"
        f" {Photo.objects.count():,} photos."
    )
