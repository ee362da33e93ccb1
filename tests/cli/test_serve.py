"""The commands that keep the records: serve, backup, restore, check, demo."""

import os
import signal
import socket
import sqlite3
import subprocess
import sys
import time
import urllib.error
import urllib.request
from pathlib import Path

import pytest
from click.testing import CliRunner

from protoconch.cli import demo as demo_command
from protoconch.cli.main import main
from tests.architecture.tree import environment

OWN = ("DATABASE_URL", "PROTOCONCH_DATA", "DJANGO_SETTINGS_MODULE", "PROTOCONCH_SECRET")
SLACK = 5 if os.environ.get("CI") or os.environ.get("PYTEST_XDIST_WORKER") else 2


def settings(**more):
    held = environment() | more
    return {name: value for name, value in held.items() if name not in OWN or name in more}


def command(*words):
    return [sys.executable, "-m", "protoconch.cli.main", *map(str, words)]


def said(*words, **more):
    """What a command that must fail says, in one sentence and without a trace."""
    done = subprocess.run(
        command(*words), env=settings(**more), capture_output=True, text=True, check=False,
        timeout=100,
    )  # fmt: skip
    assert done.returncode == 2, done.stdout + done.stderr
    assert "Traceback" not in done.stderr
    assert done.stdout == ""
    return done.stderr.strip()


def free_port():
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return probe.getsockname()[1]


def page(address, process):
    """The first page as soon as it answers."""
    while True:
        assert process.poll() is None, process.communicate()
        try:
            with urllib.request.urlopen(address, timeout=20) as answer:  # noqa: S310 - our own
                return answer.read().decode()
        except (ConnectionError, urllib.error.URLError):
            time.sleep(0.02)


@pytest.fixture
def interruptible():
    """Ctrl+C ends what the test starts, even where these tests run in the background.

    A shell lets its background jobs ignore it, and what they start inherits that.
    """
    before = signal.signal(signal.SIGINT, signal.default_int_handler)
    yield
    signal.signal(signal.SIGINT, before)


@pytest.mark.parametrize("end", [signal.SIGINT, signal.SIGTERM])
def test_a_new_place_is_served_within_three_seconds(tmp_path, end, interruptible):
    port = free_port()
    began = time.perf_counter()
    words = ("serve", "--port", port, "--data", tmp_path / "new")
    with subprocess.Popen(
        command(*words), env=settings(), text=True, stdout=subprocess.PIPE, stderr=subprocess.PIPE
    ) as process:
        try:
            text = page(f"http://127.0.0.1:{port}/", process)
            seconds = time.perf_counter() - began
            process.send_signal(end)
            told, faults = process.communicate(timeout=30)
        finally:
            process.kill()
    assert "<h1" in text
    assert f"http://127.0.0.1:{port}/" in told
    assert "Nobody is known here yet" in told
    assert faults == ""
    assert process.returncode == 0
    print(f"first page after {seconds:.1f} s, asked 3 s, slack here {SLACK} x")
    assert seconds < 3 * SLACK


def test_the_folder_of_the_records_is_for_its_owner(tmp_path):
    done = subprocess.run(command("check", "--data", tmp_path / "new"), env=settings(), check=True)
    assert done.returncode == 0
    assert (tmp_path / "new" / "secret-key").stat().st_mode & 0o077 == 0


def test_a_damaged_database_is_not_served(tmp_path):
    subprocess.run(command("check", "--data", tmp_path), env=settings(), check=True)
    file = tmp_path / "protoconch.sqlite3"
    whole = file.read_bytes()
    strange = b"no database at all, but long enough to be looked at" * 50
    half, holed = whole[: len(whole) // 2], whole[:8192] + b"\x5a" * 8192 + whole[16384:]
    for torn in (strange, half, holed):
        for rest in tmp_path.glob("protoconch.sqlite3-*"):
            rest.unlink()
        file.write_bytes(torn)
        told = said("serve", "--port", 0, "--data", tmp_path)
        assert "damaged" in told
        assert "restore" in told


def test_records_of_a_newer_version_are_left_alone(tmp_path):
    subprocess.run(command("check", "--data", tmp_path), env=settings(), check=True)
    with sqlite3.connect(tmp_path / "protoconch.sqlite3") as database:
        database.execute(
            "INSERT INTO django_migrations (app, name, applied)"
            " VALUES ('records', '9999_from_the_future', '2030-01-01')"
        )
    assert "newer version" in said("serve", "--port", 0, "--data", tmp_path)


def test_an_address_in_use_is_said(tmp_path):
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        told = said("serve", "--port", taken.getsockname()[1], "--data", tmp_path)
    assert "cannot be used" in told
    assert "--port" in told


def test_a_folder_that_cannot_be_used_is_said(tmp_path):
    (tmp_path / "file").write_text("x")
    assert "cannot be used" in said("serve", "--port", 0, "--data", tmp_path / "file" / "in")


@pytest.mark.parametrize(
    ("address", "word"),
    [
        ("oracle://somewhere/db", "must be like postgresql://"),
        ("postgresql://nobody@127.0.0.1:1/none", "cannot be opened"),
        ("postgresql://nobody@127.0.0.1:nine/none", "cannot be"),
    ],
)
def test_a_database_address_that_is_of_no_use_is_said(tmp_path, address, word):
    assert word in said("check", "--data", tmp_path, DATABASE_URL=address)


def test_postgresql_without_its_package_is_said(tmp_path):
    (tmp_path / "sitecustomize.py").write_text(
        "import sys\nsys.modules['psycopg'] = None\n"
        "import importlib.util as u\nold = u.find_spec\n"
        "u.find_spec = lambda name, *p: None if name == 'psycopg' else old(name, *p)\n"
    )
    path = os.pathsep.join([str(tmp_path), environment()["PYTHONPATH"]])
    told = said("check", DATABASE_URL="postgresql://x@127.0.0.1/y", PYTHONPATH=path)
    assert "protoconch[postgresql]" in told


def test_a_restore_over_records_is_refused_unless_told(tmp_path):
    assert "cannot be read" in said("restore", tmp_path / "none.zip", "--data", tmp_path / "a")


@pytest.mark.parametrize("word", ["serve", "backup", "restore", "check", "demo"])
def test_help_of_each_command_comes_without_the_database(word):
    told = CliRunner().invoke(main, [word, "--help"])
    assert told.exit_code == 0
    assert "--data" in told.stdout
    code = f"import sys, protoconch.cli.{word}; print('django' in sys.modules)"
    done = subprocess.run(
        [sys.executable, "-c", code], env=environment(), capture_output=True, text=True, check=True
    )
    assert done.stdout.strip() == "False"


def test_beginning_anew_deletes_the_invented_records_and_nothing_else(tmp_path):
    names = ("protoconch.sqlite3", "protoconch.sqlite3-wal", "secret-key", "notes.txt")
    for name in names:
        (tmp_path / name).write_text("x")
    demo_command.forgotten(tmp_path)
    assert sorted(path.name for path in tmp_path.iterdir()) == ["notes.txt", "secret-key"]


def test_the_invented_hatchery_is_kept_apart_from_ones_own(monkeypatch):
    monkeypatch.setenv("PROTOCONCH_DATA", "elsewhere")
    assert demo_command.demo_folder().name == "demo"
    assert Path("elsewhere") not in demo_command.demo_folder().parents
