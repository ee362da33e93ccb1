"""The records of a backup brought back, whole or not at all."""

import json
from collections.abc import Iterator
from hashlib import sha256
from itertools import islice
from pathlib import Path
from typing import Any
from zipfile import BadZipFile, ZipFile

from django.contrib.sessions.models import Session
from django.core.management.color import no_style
from django.db import DatabaseError, connection, transaction
from django.db.models import Model

from protoconch.errors import BadInput, BrokenRecords
from protoconch.operations.keeping.backing_up import FORMAT, MANIFEST, VERSION
from protoconch.operations.keeping.plain_rows import columns, kept_tables, row
from protoconch.records.append_only import guarding, lifting
from protoconch.records.models import Answer, Snapshot
from protoconch.records.queries.states import forget
from protoconch.words import phrase, say

AT_ONCE = 500
NOT_ONE = phrase("The file {file} is no backup of Protoconch, or it is torn: {why}.")


def restore(file: Path, *, overwrite: bool = False) -> dict[str, int]:
    """Put the records of a backup into the database; the rows of each table.

    overwrite: also where there are records already, which are deleted then.
    Raises: BadInput, where there are records already or the file cannot be read; BrokenRecords,
    where it is no whole backup. Nothing is changed then.
    """
    tables = kept_tables()
    if not overwrite and any(model._base_manager.exists() for model in tables.values()):  # noqa: SLF001
        raise BadInput(
            say(
                "There are records already: restore into a new folder with --data FOLDER, or say"
                " --overwrite to delete them first."
            )
        )
    try:
        with ZipFile(file) as packed:
            manifest = _manifest(packed, file)
            _check(packed, manifest, file)
            with transaction.atomic():
                if overwrite:
                    _empty(tables)
                for name in tables:
                    if name in manifest:
                        _fill(packed, name, tables[name])
                _count_on(list(tables.values()))
    except (BadZipFile, EOFError) as fault:
        raise BrokenRecords(say(NOT_ONE, file=file, why=fault)) from None
    except OSError as fault:
        raise BadInput(
            say("The file {file} cannot be read: {why}.", file=file, why=fault.strerror or fault)
        ) from None
    except DatabaseError as fault:
        raise BrokenRecords(say(NOT_ONE, file=file, why=str(fault).splitlines()[0])) from None
    forget()
    return {name: int(said["rows"]) for name, said in manifest.items()}


def _manifest(packed: ZipFile, file: Path) -> dict[str, Any]:
    """What the backup says that it holds, by table."""
    try:
        said = json.loads(packed.read(MANIFEST))
        form, version, tables = said["format"], said["version"], said["tables"]
        whole = {name: {"rows": int(t["rows"]), "sha256": str(t["sha256"])}
                 for name, t in tables.items()}  # fmt: skip
    except (KeyError, TypeError, ValueError, AttributeError):
        raise BrokenRecords(say(NOT_ONE, file=file, why=say("it has no manifest"))) from None
    if form != FORMAT:
        raise BrokenRecords(say(NOT_ONE, file=file, why=say("its manifest is another program's")))
    strange = sorted(set(whole) - set(kept_tables()))
    if version != VERSION or strange:
        raise BrokenRecords(
            say(
                "The backup {file} was made by Protoconch {version}, which is newer than this one: "
                "restore it with that version.",
                file=file,
                version=said.get("program"),
            )
        )
    return whole


def _check(packed: ZipFile, manifest: dict[str, Any], file: Path) -> None:
    """Refuse a backup of which anything is missing or changed."""
    for name, said in manifest.items():
        seen, rows = sha256(), 0
        try:
            with packed.open(f"{name}.jsonl") as lines:
                for line in lines:
                    seen.update(line)
                    rows += 1
        except KeyError:
            raise BrokenRecords(
                say(NOT_ONE, file=file, why=say("{name} is missing", name=name))
            ) from None
        if (seen.hexdigest(), rows) != (said["sha256"], said["rows"]):
            raise BrokenRecords(say(NOT_ONE, file=file, why=say("{name} was changed", name=name)))


def _rows(packed: ZipFile, name: str, model: type[Model]) -> Iterator[Model]:
    with packed.open(f"{name}.jsonl") as lines:
        for line in lines:
            yield row(model, json.loads(line))


def _fill(packed: ZipFile, name: str, model: type[Model]) -> None:
    rows = _rows(packed, name, model)
    while batch := list(islice(rows, AT_ONCE)):
        # raw: the columns as they are kept, also those that are filled in at saving
        model._base_manager._insert(  # type: ignore[attr-defined] # noqa: SLF001
            batch, fields=columns(model), using=connection.alias, raw=True
        )


def _empty(tables: dict[str, type[Model]]) -> None:
    with connection.cursor() as cursor:
        for statement in lifting(connection.vendor):
            cursor.execute(statement)
        for model in (Session, Snapshot, Answer, *reversed(tables.values())):
            model._base_manager.all()._raw_delete(connection.alias)  # type: ignore[attr-defined] # noqa: SLF001
        for statement in guarding(connection.vendor):
            cursor.execute(statement)


def _count_on(models: list[type[Model]]) -> None:
    """Let the next row of each table have a number of its own."""
    with connection.cursor() as cursor:
        for statement in connection.ops.sequence_reset_sql(no_style(), models):
            cursor.execute(statement)
