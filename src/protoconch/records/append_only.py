"""The log only grows: the database itself refuses to change or delete an entry.

The triggers are made after every migration, as SQLite loses them when a migration remakes the
table.
"""

from typing import Any

from django.db import connections
from django.db.backends.base.base import BaseDatabaseWrapper

from protoconch.records.models import Entry

TABLE = Entry._meta.db_table  # noqa: SLF001 - Django's own name for what it tells
SENTENCE = "The log is never changed: add a correction that points at the entry."

_REFUSED = (
    f"{TABLE}_refused() RETURNS trigger LANGUAGE plpgsql AS"
    f" $$ BEGIN RAISE EXCEPTION '{SENTENCE}' USING ERRCODE = 'restrict_violation'; END $$"
)
_MADE = {
    "sqlite": tuple(
        f"CREATE TRIGGER IF NOT EXISTS {TABLE}_no_{verb.lower()} BEFORE {verb} ON {TABLE}"
        f" BEGIN SELECT RAISE(ABORT, '{SENTENCE}'); END"
        for verb in ("UPDATE", "DELETE")
    ),
    "postgresql": (
        f"CREATE OR REPLACE FUNCTION {_REFUSED}",
        *(
            f"CREATE OR REPLACE TRIGGER {TABLE}_no_{verb.lower()} BEFORE {verb} ON {TABLE}"
            f" FOR EACH {each} EXECUTE FUNCTION {TABLE}_refused()"
            for verb, each in (("UPDATE", "ROW"), ("DELETE", "ROW"), ("TRUNCATE", "STATEMENT"))
        ),
    ),
}
_LIFTED = {
    "sqlite": tuple(f"DROP TRIGGER IF EXISTS {TABLE}_no_{verb}" for verb in ("update", "delete")),
    "postgresql": tuple(
        f"DROP TRIGGER IF EXISTS {TABLE}_no_{verb} ON {TABLE}"
        for verb in ("update", "delete", "truncate")
    ),
}


def guarding(vendor: str) -> tuple[str, ...]:
    """The statements that make the database refuse."""
    return _MADE[vendor]


def lifting(vendor: str) -> tuple[str, ...]:
    """The statements that make it willing again, for the emptying of a whole database."""
    return _LIFTED[vendor]


def guard(using: str = "default", **_parts: Any) -> None:
    """Make the database refuse; answers the signal that follows a migration."""
    _run(connections[using], guarding(connections[using].vendor))


def guards(connection: BaseDatabaseWrapper) -> bool:
    """Whether the database refuses now."""
    table = {"sqlite": "sqlite_master", "postgresql": "pg_trigger"}[connection.vendor]
    column = {"sqlite": "name", "postgresql": "tgname"}[connection.vendor]
    with connection.cursor() as cursor:
        cursor.execute(
            f"SELECT count(*) FROM {table} WHERE {column} LIKE '{TABLE}_no_%'"  # noqa: S608 - ours
        )
        return bool(cursor.fetchone()[0] == len(_LIFTED[connection.vendor]))


def _run(connection: BaseDatabaseWrapper, statements: tuple[str, ...]) -> None:
    if TABLE not in connection.introspection.table_names():
        return
    with connection.cursor() as cursor:
        for statement in statements:
            cursor.execute(statement)
