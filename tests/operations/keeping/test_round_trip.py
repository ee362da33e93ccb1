"""A backup holds everything, and everything comes back, or nothing does."""

import json
import zipfile
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from hashlib import sha256

import pytest

from protoconch.errors import BadInput, BrokenRecords
from protoconch.operations.keeping.backing_up import back_up
from protoconch.operations.keeping.looking_over import faults
from protoconch.operations.keeping.plain_rows import columns, kept_tables, plain
from protoconch.operations.keeping.restoring import restore
from protoconch.operations.recording import record
from protoconch.records.models import Entry, Photo, Site, WhatIf
from protoconch.records.packing import packed
from protoconch.records.queries.log import state
from protoconch.records.queries.states import keep_snapshots
from tests.records.seasons import DAY_ONE, put, rolling, some_season

pytestmark = pytest.mark.django_db
NOW = DAY_ONE + timedelta(days=200, microseconds=123456)
PICTURE = bytes(range(256)) * 3


def everything():
    return {
        name: [plain(row) for row in model._base_manager.order_by("pk")]
        for name, model in kept_tables().items()
    }


@pytest.fixture
def full(site, manager, crew, viewer):
    """A hatchery with something in every table."""
    put(crew, some_season(rolling(1), 120), NOW)
    name = sha256(PICTURE).hexdigest()
    Photo.objects.create(site=site, name=name, media_type="image/webp", content=PICTURE)
    WhatIf.objects.create(site=site, name="más tanques", change={"n": [1.5]}, answer={}, by="x")
    site.invitation_set.create(code_hash="ab", role="crew", until=NOW)
    return site


@pytest.fixture
def file(full, tmp_path):
    path = tmp_path / "hatchery.zip"
    back_up(path, NOW)
    return path


def changed(file, name, content):
    """The same backup with one member replaced, or left away where content is None."""
    with zipfile.ZipFile(file) as old:
        members = {part: old.read(part) for part in old.namelist()}
    members[name] = content
    with zipfile.ZipFile(file, "w") as new:
        for part, text in members.items():
            if text is not None:
                new.writestr(part, text)


def test_all_that_counts_is_in_a_backup():
    held = set(kept_tables())
    assert {"site", "person", "description", "entry", "photo", "invitation", "whatif"} <= held
    assert not held & {"snapshot", "answer", "tries"}


def test_what_was_backed_up_comes_back_the_same(file, full, crew):
    before, there = everything(), state(full)
    assert all(before[name] for name in ("entry", "photo", "whatif", "invitation", "person"))
    put(crew, some_season(rolling(2), 30), NOW)
    Photo.objects.all().delete()
    restore(file, overwrite=True)
    assert everything() == before
    assert state(Site.objects.get()) == there
    assert list(faults()) == []


def test_the_next_entry_after_a_restore_has_a_new_number(file, crew):
    restore(file, overwrite=True)
    last = Entry.objects.order_by("number").last().number
    put(crew, some_season(rolling(3), 5), NOW)
    assert Entry.objects.order_by("number").last().number == last + 5
    assert Entry.objects.values("uuid").distinct().count() == Entry.objects.count()


def test_the_log_is_guarded_after_a_restore(file):
    restore(file, overwrite=True)
    assert "guard" not in " ".join(faults())


def test_nothing_is_deleted_unless_told(file):
    before = everything()
    with pytest.raises(BadInput, match="records already"):
        restore(file)
    assert everything() == before


def test_a_backup_is_not_written_over_unless_told(file):
    held = file.read_bytes()
    with pytest.raises(BadInput, match="there already"):
        back_up(file, NOW)
    assert file.read_bytes() == held
    back_up(file, NOW + timedelta(days=1), overwrite=True)
    assert file.read_bytes() != held


def test_a_backup_is_for_its_owner_alone_and_leaves_nothing_half(file):
    assert file.stat().st_mode & 0o077 == 0
    assert [path.name for path in file.parent.iterdir()] == [file.name]


def test_a_place_that_cannot_be_written_is_said(full, tmp_path):
    with pytest.raises(BadInput, match="cannot be written"):
        back_up(tmp_path / "nowhere" / "hatchery.zip", NOW)


@pytest.mark.parametrize("part", ["entry.jsonl", "person.jsonl"])
def test_a_changed_or_missing_part_is_noticed_and_nothing_is_done(file, part):
    before = everything()
    with zipfile.ZipFile(file) as packed:
        text = packed.read(part)
    for content in (text.replace(b"27", b"28", 1) if part == "entry.jsonl" else b"", None):
        changed(file, part, content)
        with pytest.raises(BrokenRecords, match=part.partition(".")[0]):
            restore(file, overwrite=True)
        assert everything() == before


def test_a_torn_or_strange_file_is_refused_in_a_sentence(file, tmp_path):
    before = everything()
    torn = tmp_path / "torn.zip"
    held = file.read_bytes()
    strange = tmp_path / "strange.zip"
    with zipfile.ZipFile(strange, "w") as packed:
        packed.writestr("manifest.json", "[]")
    for size in (0, 10, len(held) // 2, len(held) - 5):
        torn.write_bytes(held[:size])
        with pytest.raises(BrokenRecords, match="no backup"):
            restore(torn, overwrite=True)
    with pytest.raises(BrokenRecords, match="no manifest"):
        restore(strange, overwrite=True)
    with pytest.raises(BadInput, match="cannot be read"):
        restore(tmp_path / "nothing.zip", overwrite=True)
    assert everything() == before


def test_a_backup_of_a_newer_version_is_refused(file):
    with zipfile.ZipFile(file) as packed:
        manifest = json.loads(packed.read("manifest.json"))
    for change in (
        {"version": 2},
        {"tables": manifest["tables"] | {"buoy": {"rows": 0, "sha256": ""}}},
    ):
        changed(file, "manifest.json", json.dumps(manifest | change))
        with pytest.raises(BrokenRecords, match="newer"):
            restore(file, overwrite=True)


def test_a_row_that_cannot_be_put_back_leaves_all_as_it_was(file):
    """The manifest agrees, and yet the last row stands twice: the database refuses."""
    before = everything()
    with zipfile.ZipFile(file) as packed:
        text, manifest = packed.read("entry.jsonl"), json.loads(packed.read("manifest.json"))
    text += text.splitlines()[-1] + b"\n"
    manifest["tables"]["entry"] = {"rows": 121, "sha256": sha256(text).hexdigest()}
    changed(file, "entry.jsonl", text)
    changed(file, "manifest.json", json.dumps(manifest))
    with pytest.raises(BrokenRecords):
        restore(file, overwrite=True)
    assert everything() == before


def test_every_kind_of_column_survives():
    kinds = {type(f).__name__ for model in kept_tables().values() for f in columns(model)}
    assert {"UUIDField", "JSONField", "BinaryField", "DateTimeField", "ForeignKey"} <= kinds


def test_what_is_wrong_with_the_records_is_said(full, crew):
    assert list(faults()) == []
    raw = {"id": "6f1c7a52-9b7e-4a6e-8a52-0d6f5b2f9a01", "kind": "photo",
           "happened": NOW.isoformat(), "payload": {"photo": "f" * 64}}  # fmt: skip
    assert record(crew, [raw], NOW)[0].outcome == "added"
    Photo.objects.update(content=PICTURE[1:])
    said = " ".join(faults())
    assert "is not kept" in said
    assert "not as it was taken in" in said
    full.descriptions.create(text="[hatchery]\nname = 3")
    assert "description" in " ".join(faults())


def test_a_wrong_snapshot_is_noticed(full):
    keep_snapshots(full)
    wrong = packed(replace(state(full), dirty=frozenset({"large tank 9"})))
    full.snapshot_set.update(content=wrong)
    assert "snapshot" in " ".join(faults())


def test_an_entry_of_a_kind_that_nobody_knows_is_noticed(full):
    Entry.objects.create(
        site=full, uuid="6f1c7a52-9b7e-4a6e-8a52-0d6f5b2f9a02", kind="sung", payload={},
        happened=datetime.now(UTC), arrived=datetime.now(UTC), who="x",
    )  # fmt: skip
    assert next(iter(faults())).endswith("'sung', cannot be read.")
