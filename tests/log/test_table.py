"""Entries as rows of a table, and tables of other people as entries."""

import csv
import io
from datetime import UTC, datetime, timedelta, timezone
from uuid import UUID

import pytest
from hypothesis import given, settings

from protoconch.errors import BadFile
from protoconch.log.kinds import KINDS
from protoconch.log.table import columns, columns_of, entries_of, rows
from tests.strategies import HATCHERY, entry, logs

ARRIVED = datetime(2027, 8, 1, tzinfo=UTC)


def _read(table, zone=UTC):
    return entries_of(
        table, HATCHERY, ids=(UUID(int=n) for n in range(1, 99)), arrived=ARRIVED, zone=zone
    )


@settings(max_examples=100, deadline=None)
@given(logs(most=8, pointing=3))
def test_entries_written_to_a_csv_file_come_back_equal(log):
    table = rows(log)
    text = io.StringIO()
    writer = csv.DictWriter(text, columns_of(table))
    writer.writeheader()
    writer.writerows(table)
    text.seek(0)
    assert _read(csv.DictReader(text)) == tuple(log)


def test_every_payload_field_of_a_kind_is_a_column():
    for name, kind in KINDS.items():
        found = columns([name])
        assert found[:8] == (
            "id", "kind", "happened", "arrived", "who", "where", "task", "unasked",
        )  # fmt: skip
        assert len(found) == 8 + len(kind.payload.model_fields)
    assert "new where" in columns(["correction"])


def test_several_foods_and_names_with_commas_keep_apart():
    fed = entry("fed", "tray 1", {"foods": [{"food": "t-iso", "litres": 3}, {"food": "c-muelleri",
                "litres": 1.5}]})  # fmt: skip
    loaded = entry("incubator loaded", "incubator 1", {"batch": "27A", "masses": ["M1, a", "M2"]},
                   number=2)  # fmt: skip
    cells = rows([fed, loaded])
    assert cells[0]["foods.2.food"] == "c-muelleri"
    assert cells[1]["masses.1"] == "M1, a"
    assert _read(cells) == (fed, loaded)


def test_a_spreadsheet_of_other_people_needs_neither_ids_nor_zones():
    zone = timezone(timedelta(hours=-5))
    found = _read(
        [{"kind": "counted", "happened": datetime(2027, 7, 1, 8, 30),  # noqa: DTZ001 - as a spreadsheet gives it
          "who": "crew B", "id": None,
          "where": "large tank 1 ", "aliquots": "12, 15; 9", "aliquot_ml": "5 mL",
          "litres": 400.0, "note": float("nan")},
         {"kind": "", "who": None},
         {"kind": "received", "happened": "2027-07-01 09:00", "who": "crew B", "item": "f/2 stock",
          "amount": 2, "unit": "L", "lot": 1204.0, "expires": datetime(2028, 1, 1)}],  # noqa: DTZ001
        zone,
    )  # fmt: skip
    assert found[0].happened == datetime(2027, 7, 1, 13, 30, tzinfo=UTC)
    assert found[0].payload.aliquots == (12, 15, 9)
    assert (found[0].where, found[0].payload.note) == ("large tank 1", "")
    assert found[1].payload.lot == "1204"
    assert len({e.id for e in found}) == 2


def test_all_faults_of_a_table_are_told_at_once_with_their_rows():
    good = {"kind": "counted", "happened": "2027-07-01T08:30", "who": "crew B",
            "where": "large tank 1", "animals": "30"}  # fmt: skip
    wrong = [
        good | {"kind": "cuonted"},
        good,
        good | {"where": "large tank 81", "animals": "many", "id": "7"},
        good | {"happened": "last Tuesday", "who": ""},
        good | {"aliqots": "3"},
        good | {"id": str(UUID(int=500))},
        good | {"id": str(UUID(int=500))},
    ]
    with pytest.raises(BadFile) as refusal:
        _read(wrong)
    told = [(p.line, p.sentence) for p in refusal.value.problems]
    assert [line for line, _ in told] == [2, 4, 4, 4, 5, 5, 6, 8]
    for part in ("Did you mean counted?", "number of the entry", "Did you mean large tank",
                 "'many', which is not a number", "last Tuesday", "name of the person is missing",
                 "Did you mean aliquots?", "as that of row 7"):  # fmt: skip
        assert any(part in sentence for _, sentence in told), part
