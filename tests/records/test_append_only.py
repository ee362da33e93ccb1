"""The database itself refuses to change or delete what is in the log."""

from datetime import UTC, datetime
from uuid import uuid4

import pytest
from django.core.management import call_command
from django.db import DatabaseError, connection, transaction

from protoconch.operations.recording import record
from protoconch.records.append_only import SENTENCE, lifting
from protoconch.records.models import Entry

pytestmark = pytest.mark.django_db
NOW = datetime(2027, 5, 1, tzinfo=UTC)
CHANGE = "UPDATE records_entry SET who = 'x'"


@pytest.fixture
def row(crew):
    raw = {"id": str(uuid4()), "kind": "note", "happened": NOW.isoformat(),
           "payload": {"text": "as it was"}}  # fmt: skip
    record(crew, [raw], NOW)
    return Entry.objects.get()


def refused(statement):
    with pytest.raises(DatabaseError, match=SENTENCE), transaction.atomic():
        connection.cursor().execute(statement)


def test_an_entry_is_neither_changed_nor_deleted(row):
    row.who = "somebody else"
    with pytest.raises(DatabaseError, match=SENTENCE), transaction.atomic():
        row.save()
    with pytest.raises(DatabaseError, match=SENTENCE), transaction.atomic():
        row.delete()
    refused(CHANGE)
    refused("DELETE FROM records_entry")
    assert Entry.objects.get().who == "crew A"


def test_no_way_round_is_left_open(row):
    if connection.vendor == "postgresql":
        connection.cursor().execute("SET CONSTRAINTS ALL IMMEDIATE")
        refused("TRUNCATE records_entry")
        return
    refused(
        'REPLACE INTO records_entry (number, uuid, kind, happened, arrived, who, "where", task,'
        " batch, payload, site_id) SELECT number, uuid, kind, happened, arrived, 'x', \"where\","
        " task, batch, payload, site_id FROM records_entry"
    )


def test_the_guard_stands_after_the_next_migration_as_well(row):
    for statement in lifting(connection.vendor):
        connection.cursor().execute(statement)
    call_command("migrate", verbosity=0)
    refused(CHANGE)
