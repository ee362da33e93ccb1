"""All records into one file, as they were at one moment, while the program goes on writing.

The file is a zip: for each table a file of JSON lines, and a manifest with the number of rows and
the SHA-256 of each. It is the same whatever database it came from.
"""

import json
import os
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import datetime
from hashlib import sha256
from pathlib import Path
from typing import Any
from zipfile import ZIP_DEFLATED, ZipFile

from django.db import connection, transaction
from django.db.models import Model

from protoconch import __version__
from protoconch.errors import BadInput
from protoconch.operations.keeping.plain_rows import kept_tables, plain
from protoconch.words import say

FORMAT, VERSION = "protoconch backup", 1
MANIFEST = "manifest.json"


def back_up(file: Path, now: datetime, *, overwrite: bool = False) -> dict[str, int]:
    """Write all records into a file; the rows of each table.

    Raises: BadInput, where the file is there already or cannot be written.
    """
    if file.exists() and not overwrite:
        raise BadInput(
            say("The file {file} is there already: name another, or say --overwrite.", file=file)
        )
    half = file.with_name(f"{file.name}.part")
    try:
        # only for its owner: it holds the hashes of people's passwords
        private = os.open(half, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600)
        with os.fdopen(private, "wb") as out:
            rows = _written(out, now)
            out.flush()
            os.fsync(out.fileno())
        half.replace(file)
    except OSError as fault:
        raise BadInput(
            say("The file {file} cannot be written: {why}.", file=file, why=fault.strerror)
        ) from None
    finally:
        half.unlink(missing_ok=True)
    return rows


def _written(out: Any, now: datetime) -> dict[str, int]:
    rows: dict[str, int] = {}
    sums: dict[str, str] = {}
    with ZipFile(out, "w", ZIP_DEFLATED) as packed, _one_moment():
        for name, model in kept_tables().items():
            rows[name], sums[name] = _table(packed, name, model)
        manifest = {
            "format": FORMAT, "version": VERSION, "program": __version__, "made": now.isoformat(),
            "tables": {name: {"rows": rows[name], "sha256": sums[name]} for name in rows},
        }  # fmt: skip
        packed.writestr(MANIFEST, json.dumps(manifest, indent=1))
    return rows


def _table(packed: ZipFile, name: str, model: type[Model]) -> tuple[int, str]:
    seen, count = sha256(), 0
    with packed.open(f"{name}.jsonl", "w", force_zip64=True) as lines:
        for row in model._base_manager.order_by("pk").iterator(2000):  # noqa: SLF001
            line = _line(plain(row))
            lines.write(line)
            seen.update(line)
            count += 1
    return count, seen.hexdigest()


def _line(values: dict[str, Any]) -> bytes:
    """The same for the same row, in whatever order a database gives the parts of a payload."""
    text = json.dumps(values, ensure_ascii=False, separators=(",", ":"), sort_keys=True)
    return f"{text}\n".encode()


@contextmanager
def _one_moment() -> Iterator[None]:
    """All that is read within it is as at one moment, and nobody waits for it."""
    here: Any = connection
    if connection.vendor == "sqlite":
        usual, here.transaction_mode = here.transaction_mode, "DEFERRED"
        try:
            with transaction.atomic():
                yield
        finally:
            here.transaction_mode = usual
        return
    outermost = not connection.in_atomic_block
    with transaction.atomic():
        if outermost:
            with connection.cursor() as cursor:
                cursor.execute("SET TRANSACTION ISOLATION LEVEL REPEATABLE READ, READ ONLY")
        yield
