"""The database itself refuses to change or delete what is in the log."""

from datetime import UTC, datetime
from uuid import uuid4

import pytest
from django.core.management import call_command
from django.db import DatabaseError, connection, transaction

from protoconch.operations.recording import record
from protoconch.records.append_only import SENTENCE, TABLE
from protoconch.records.models import Entry

pytestmark = pytest.mark.django_db
NOW = datetime(2027, 5, 1, tzinfo=UTC)


@pytest.fixture
def row(crew):
    raw = {"id": str(uuid4()), "kind": "note", "happened": NOW.isoformat(),
           "payload": {"text": "as it was"}}  # fmt: skip
    record(crew, [raw], NOW)
    return Entry.objects.get()


def refused(*statements, values=()):
    with pytest.raises(DatabaseError, match=SENTENCE), transaction.atomic():
        for statement in statements:
            with connection.cursor() as cursor:
                cursor.execute(statement, values)


def test_an_entry_is_neither_changed_nor_deleted(row):
    row.who = "somebody else"
    with pytest.raises(DatabaseError, match=SENTENCE), transaction.atomic():
        row.save()
    with pytest.raises(DatabaseError, match=SENTENCE), transaction.atomic():
        row.delete()
    refused(f"UPDATE {TABLE} SET who = 'x'")
    refused(f"DELETE FROM {TABLE}")
    assert Entry.objects.get().who == "crew A"


def test_no_way_round_is_left_open(row):
    if connection.vendor == "postgresql":
        refused(f"TRUNCATE {TABLE}")
        return
    columns = 'number, uuid, kind, happened, arrived, who, "where", task, batch, payload, site_id'
    refused(
        f"REPLACE INTO {TABLE} ({columns}) SELECT number, uuid, kind, happened, arrived, 'x',"
        f' "where", task, batch, payload, site_id FROM {TABLE}'
    )


def test_the_guard_stands_after_the_next_migration_as_well(row):
    verb = "DROP TRIGGER records_entry_no_update"
    with connection.cursor() as cursor:
        cursor.execute(verb + (f" ON {TABLE}" if connection.vendor == "postgresql" else ""))
    call_command("migrate", verbosity=0)
    refused(f"UPDATE {TABLE} SET who = 'x'")
