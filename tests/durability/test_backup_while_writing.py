"""A backup taken while others write is the records of one moment; it restores on any database."""

import os
import subprocess
import sys
import threading
from zipfile import ZipFile

import pytest

from tests.architecture.tree import ROOT, environment
from tests.durability.test_killed_server import Writer, free_port, program
from tests.postgresql import MISSING, programs, server

OWN = ("DATABASE_URL", "PROTOCONCH_DATA", "DJANGO_SETTINGS_MODULE")
pytestmark = pytest.mark.timeout(400)


def settings(**more):
    held = environment() | more
    return {name: value for name, value in held.items() if name not in OWN or name in more}


def protoconch(*words, **more):
    """Run a command; what it said."""
    command = [sys.executable, "-m", "protoconch.cli.main", *map(str, words)]
    done = subprocess.run(
        command, env=settings(**more), capture_output=True, text=True, check=False, timeout=200
    )
    assert done.returncode == 0, done.stdout + done.stderr
    return done.stdout


def rows(file):
    """Every table of a backup, with all its rows."""
    with ZipFile(file) as packed:
        return {name: packed.read(name) for name in packed.namelist() if name.endswith(".jsonl")}


def entries(file):
    return rows(file)["entry.jsonl"].splitlines()


@pytest.fixture(scope="module")
def written(tmp_path_factory):
    """Backups taken one after the other while three phones were writing."""
    folder = tmp_path_factory.mktemp("writing")
    here = settings(PROTOCONCH_DATA=str(folder))
    subprocess.run(program("prepare", folder), cwd=ROOT, env=here, check=True)
    cookie = (folder / "cookie.json").read_text().split('"')[3]
    port = free_port()
    writers = [Writer(port, cookie) for _ in range(3)]
    with subprocess.Popen(
        program(folder, port), cwd=ROOT, env=here, text=True,
        stdin=subprocess.PIPE, stdout=subprocess.PIPE,
    ) as loader:  # fmt: skip
        loader.stdin.write("serve\n")
        loader.stdin.flush()
        pid = int(loader.stdout.readline())
        for writer in writers:
            writer.start()
        files = [folder / f"{number}.zip" for number in range(3)]
        known = []
        for file in files:
            before = [one for writer in writers for one in list(writer.acknowledged)]
            protoconch("backup", file, "--data", folder)
            known.append((before, sum(len(writer.acknowledged) for writer in writers)))
        for writer in writers:
            writer.stop.set()
        for writer in writers:
            writer.join(30)
        os.kill(pid, 15)
        loader.kill()
    assert not any(writer.faults for writer in writers)
    return folder, files, known


def test_writing_went_on_meanwhile_and_what_came_before_is_in_it(written):
    _, files, known = written
    for file, (before, after) in zip(files, known, strict=True):
        held = rows(file)["entry.jsonl"].decode()
        assert [one for one in before if one not in held] == []
        assert len(before) < after, "the writers were kept waiting"
    sizes = [len(entries(file)) for file in files]
    assert sizes == sorted(sizes)
    assert sizes[0] < sizes[-1]


def test_it_restores_to_the_same(written, tmp_path):
    _, files, _ = written
    again = tmp_path / "again.zip"
    protoconch("restore", files[1], "--data", tmp_path / "new")
    assert "are whole" in protoconch("check", "--data", tmp_path / "new")
    protoconch("backup", again, "--data", tmp_path / "new")
    assert rows(again) == rows(files[1])


@pytest.mark.skipif(programs() is None and not os.environ.get("CI"), reason=MISSING)
def test_the_same_file_restores_into_postgresql_and_back(written, tmp_path):
    _, files, _ = written
    there, back = tmp_path / "there.zip", tmp_path / "back.zip"
    with server() as address:
        more = {"DATABASE_URL": address, "PROTOCONCH_DATA": str(tmp_path / "key")}
        protoconch("restore", files[1], **more)
        assert "are whole" in protoconch("check", **more)
        protoconch("backup", there, **more)
    assert rows(there) == rows(files[1])
    protoconch("restore", there, "--data", tmp_path / "third")
    protoconch("backup", back, "--data", tmp_path / "third")
    assert rows(back) == rows(files[1])


def test_two_backups_at_once_do_not_disturb_each_other(written, tmp_path):
    folder, _, _ = written
    said = []

    def one(number):
        said.append(protoconch("backup", tmp_path / f"{number}.zip", "--data", folder))

    threads = [threading.Thread(target=one, args=(number,)) for number in range(2)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join(120)
    assert len(said) == 2
    assert rows(tmp_path / "0.zip") == rows(tmp_path / "1.zip")
