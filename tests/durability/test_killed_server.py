"""kill -9 in the middle of writing: what was acknowledged is there, once, and the rest is whole.

200 times in every run; PROTOCONCH_KILLS=2000 asks for more.
"""

import http.client
import json
import os
import signal
import socket
import sqlite3
import subprocess
import sys
import threading
import time
from collections import Counter
from datetime import UTC, datetime
from pathlib import Path
from random import Random
from uuid import uuid4

import pytest

from tests.architecture.tree import ROOT, environment

KILLS = int(os.environ.get("PROTOCONCH_KILLS", "200"))
WRITERS = 3
pytestmark = [
    pytest.mark.timeout(120 + KILLS * 2),
    pytest.mark.skipif(not hasattr(os, "fork"), reason="this system cannot fork a process"),
]


class Writer(threading.Thread):
    """A phone that sends entry after entry, and each again until it is acknowledged."""

    def __init__(self, port: int, cookie: str) -> None:
        super().__init__(daemon=True)
        self.port, self.cookie = port, cookie
        self.acknowledged: list[str] = []
        self.faults: list[str] = []
        self.sent_again = 0
        self.stop = threading.Event()

    def run(self) -> None:
        raw = self.entry()
        while not self.stop.is_set():
            try:
                answer = self.answer(raw)
            except (OSError, http.client.HTTPException):
                self.sent_again += 1
                time.sleep(0.005)
                continue
            if answer not in ("added", "there already"):
                self.faults.append(answer)
                return
            self.acknowledged.append(raw["id"])
            raw = self.entry()

    def entry(self) -> dict:
        happened = datetime.now(UTC).isoformat()
        payload = {"quantity": "temperature", "value": 28}
        return {"id": str(uuid4()), "kind": "read", "happened": happened, "payload": payload,
                "where": "large tank 1"}  # fmt: skip

    def answer(self, raw: dict) -> str:
        token = "a" * 32
        headers = {"Cookie": f"sessionid={self.cookie}; csrftoken={token}", "X-CSRFToken": token,
                   "Content-Type": "application/json"}  # fmt: skip
        line = http.client.HTTPConnection("127.0.0.1", self.port, timeout=20)
        try:
            line.request(
                "POST", "/log/entries", json.dumps({"entries": [raw], "sure": True}), headers
            )
            response = line.getresponse()
            said = response.read()
        finally:
            line.close()
        if response.status != 200:
            return f"{response.status} {said[:300]!r}"
        return json.loads(said)["answers"][0]["outcome"]


def program(*words: object) -> list[str]:
    return [sys.executable, "-m", "tests.durability.killable", *map(str, words)]


def free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return probe.getsockname()[1]


@pytest.fixture(scope="module")
def killed(tmp_path_factory):
    """The records after all the killing, and what the writers were told."""
    folder = tmp_path_factory.mktemp("killed")
    settings = environment(
        PROTOCONCH_DATA=str(folder), DJANGO_SETTINGS_MODULE="protoconch.web.settings"
    )
    settings.pop("DATABASE_URL", None)
    subprocess.run(program("prepare", folder), cwd=ROOT, env=settings, check=True)
    cookie = json.loads((folder / "cookie.json").read_text())["sessionid"]
    port = free_port()
    writers = [Writer(port, cookie) for _ in range(WRITERS)]
    began = time.monotonic()
    with subprocess.Popen(
        program(folder, port), cwd=ROOT, env=settings, text=True,
        stdin=subprocess.PIPE, stdout=subprocess.PIPE,
    ) as loader:  # fmt: skip
        try:
            kills = kill_again_and_again(loader, writers)
        finally:
            loader.kill()
    for writer in writers:
        writer.join(30)
    seconds = time.monotonic() - began
    acknowledged = sum(len(writer.acknowledged) for writer in writers)
    print(f"killed {kills} times in {seconds:.0f} s, {acknowledged} entries acknowledged,"
          f" {sum(w.sent_again for w in writers)} sendings cut off")  # fmt: skip
    return folder, writers


def kill_again_and_again(loader, writers) -> int:
    dice = Random(1)  # noqa: S311 - nothing secret
    for kill in range(KILLS + 1):
        loader.stdin.write("serve\n")
        loader.stdin.flush()
        server = int(loader.stdout.readline())
        if kill == 0:
            for writer in writers:
                writer.start()
        before = sum(len(writer.acknowledged) for writer in writers)
        until = time.monotonic() + 20
        while sum(len(w.acknowledged) for w in writers) <= before and time.monotonic() < until:
            assert not any(writer.faults for writer in writers), writers[0].faults
            time.sleep(0.002)
        time.sleep(dice.uniform(0, 0.06))
        if kill == KILLS:  # the last one ends after the writers did
            for writer in writers:
                writer.stop.set()
                writer.join(30)
        os.kill(server, signal.SIGKILL)
    return KILLS


def rows(folder: Path) -> list[str]:
    with sqlite3.connect(folder / "protoconch.sqlite3") as database:
        assert database.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
        return [one for (one,) in database.execute("SELECT uuid FROM records_entry")]


def test_every_acknowledged_entry_is_there_and_none_twice(killed):
    folder, writers = killed
    kept = Counter(rows(folder))
    acknowledged = [one.replace("-", "") for writer in writers for one in writer.acknowledged]
    assert len(acknowledged) > KILLS, "entries were written between the kills"
    assert sum(writer.sent_again for writer in writers) > KILLS / 4, "writing was cut off"
    assert [one for one in acknowledged if one not in kept] == []
    assert set(kept.values()) == {1}
    assert len(kept) - len(acknowledged) <= WRITERS, "nothing is there that nobody sent"


def test_the_writers_met_no_fault_besides(killed):
    assert [fault for writer in killed[1] for fault in writer.faults] == []


def test_the_records_are_whole(killed):
    command = [sys.executable, "-m", "protoconch.cli.main", "check", "--data", str(killed[0])]
    settings = environment()
    for name in ("DATABASE_URL", "PROTOCONCH_DATA", "DJANGO_SETTINGS_MODULE"):
        settings.pop(name, None)
    done = subprocess.run(command, env=settings, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout + done.stderr
    assert "are whole" in done.stdout
