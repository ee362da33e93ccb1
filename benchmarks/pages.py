"""How fast pages are over a log of ten years, how heavy, and how soon the program is there.

python benchmarks/pages.py                     200,000 entries; makes them first, some minutes
python benchmarks/pages.py --data FOLDER       keeps them there, or uses those that are there
python benchmarks/pages.py --entries 20000     another length of the same ten years
"""

import argparse
import http.client
import os
import re
import socket
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path
from typing import Any
from uuid import uuid4

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
sys.path.insert(0, str(Path(__file__).resolve().parent.parent))

ASKED_MS, ASKED_KB, ASKED_FIRST_S, ASKED_HELP_S = 100, 100, 3.0, 0.3
LINKED = re.compile(r'<(?:link|script)[^>]*(?:href|src)="(/[^"]+\.(?:css|js)[^"]*)"')


def main() -> None:
    """Make the log where it is not there, and measure."""
    words = argparse.ArgumentParser(description=__doc__)
    words.add_argument("--data", type=Path)
    words.add_argument("--entries", type=int, default=200_000)
    words.add_argument("--times", type=int, default=40)
    asked = words.parse_args()
    with tempfile.TemporaryDirectory() as passing:
        folder = asked.data or Path(passing)
        opened(folder, asked.entries)
        client = signed_in()
        tell_states(client.person.site)
        pages = addresses(client)
        tell_pages("pages under the test client", pages, client.get, asked.times)
        tell_weights(client, pages)
        tell_after_an_entry(client)
        tell_server(folder, client, pages, asked.times)
        tell_help()


def opened(folder: Path, entries: int) -> None:
    """Open the records of a folder, and fill them where they are empty."""
    os.environ.pop("DATABASE_URL", None)
    from protoconch.operations.opening import open_records

    open_records(folder)
    from benchmarks.ten_years import made
    from protoconch.operations.starting import started
    from protoconch.records.models import Entry

    if not started():
        began = time.perf_counter()
        made(entries, 10.0, datetime.now(UTC))
        print(f"made in {time.perf_counter() - began:.0f} s")
    print(f"{Entry.objects.count():,} entries of the log")


def signed_in() -> Any:
    """A test client of the manager."""
    from django.test import Client

    from protoconch.records.models import Person

    client: Any = Client(SERVER_NAME="127.0.0.1", HTTP_ACCEPT_ENCODING="gzip")
    client.person = Person.objects.get(role="manager")
    client.force_login(client.person)
    return client


def addresses(client: Any) -> list[str]:
    """Every page that a manager sees in the row of pages, and some behind them."""
    from django.urls import NoReverseMatch, reverse

    from protoconch.records.models import Entry
    from protoconch.web.shell.surroundings import PLACES

    found = []
    for place in PLACES:
        try:
            found.append(reverse(place.address))
        except NoReverseMatch:
            print(f"{place.address} is not built")
    entry = Entry.objects.order_by("number").first()
    assert entry is not None
    found += [f"/log/{entry.uuid}", "/log?kind=fed", "/log?words=large+tank"]
    return [at for at in found if client.get(at).status_code == 200]


def tell_states(site: Any) -> None:
    """How long the state takes: from nothing, from snapshots, when nothing is new."""
    from protoconch.records.models import Snapshot
    from protoconch.records.queries import states

    Snapshot.objects.all().delete()
    states.forget()
    print(f"state from the whole log   {seconds(lambda: states.state(site)):8.3f} s")
    print(f"keeping snapshots          {seconds(lambda: states.keep_snapshots(site)):8.3f} s")
    states.forget()
    print(f"state from a snapshot      {seconds(lambda: states.state(site)):8.3f} s")
    print(f"state, nothing new         {seconds(lambda: states.state(site)):8.4f} s")


def tell_pages(title: str, pages: list[str], get: Callable[[str], Any], times: int) -> None:
    """Median and 95th percentile of each page, and the processor time in this program [ms]."""
    print(f"\n{title}, asked p95 {ASKED_MS} ms\n{'':34}{'p50':>8}{'p95':>8}{'cpu':>8}  [ms]")
    for at in pages:
        get(at)
        taken, worked = [], time.process_time()
        for _ in range(times):
            began = time.perf_counter()
            get(at)
            taken.append(1000 * (time.perf_counter() - began))
        cpu = 1000 * (time.process_time() - worked) / times
        taken.sort()
        p95 = taken[min(times - 1, int(0.95 * times))]
        late = "  over" if p95 > ASKED_MS else ""
        print(f"{at[:34]:34}{statistics.median(taken):8.1f}{p95:8.1f}{cpu:8.1f}{late}")


def tell_weights(client: Any, pages: list[str]) -> None:
    """Bytes over the line for a phone that has nothing yet, photos left out."""
    print(
        f"\nweight of a page with all it links to, asked {ASKED_KB} kB\n"
        f"{'':34}{'page':>8}{'all':>8}  [kB]"
    )
    sizes: dict[str, int] = {}
    for at in pages:
        answer = client.get(at)
        links = set(LINKED.findall(text(answer)))
        for link in links - set(sizes):
            part = client.get(link)
            sizes[link] = len(b"".join(part.streaming_content) if part.streaming else part.content)
        own = len(answer.content)
        whole = own + sum(sizes[link] for link in links)
        heavy = "  over" if whole > 1000 * ASKED_KB else ""
        print(f"{at[:34]:34}{own / 1000:8.1f}{whole / 1000:8.1f}{heavy}")


def text(answer: Any) -> str:
    """What a page says, unpacked."""
    import gzip

    packed = answer.headers.get("Content-Encoding") == "gzip"
    return (gzip.decompress(answer.content) if packed else answer.content).decode()


def tell_after_an_entry(client: Any) -> None:
    """How long an entry takes, and the state after it: of now, late, and corrections."""
    from protoconch.operations.recording import record, withdraw
    from protoconch.records.models import Entry
    from protoconch.records.queries.states import keep_snapshots, state

    person, now = client.person, datetime.now(UTC)

    def read(when: datetime) -> Any:
        raw = {
            "id": str(uuid4()), "kind": "read", "happened": when.isoformat(),
            "where": "large tank 1", "payload": {"quantity": "temperature", "value": 28},
        }  # fmt: skip
        return record(person, [raw], now, sure=True)[0]

    rows = Entry.objects.filter(kind="fed").order_by("-happened")
    print(f"\n{'adding an entry, and the state after it':40}{'adding':>10}{'state':>10}  [ms]")
    for name, act in (
        ("an entry of now", lambda: read(now)),
        ("one that happened a week ago", lambda: read(rows[300].happened)),
        ("the last feeding taken back", lambda: withdraw(person, rows[0].uuid, now)),
        ("a feeding of five years ago taken back",
         lambda: withdraw(person, rows[rows.count() // 2].uuid, now, sure=True)),
    ):  # fmt: skip
        took = 1000 * seconds(act)
        after = 1000 * seconds(lambda: state(person.site))
        print(f"{name:40}{took:10.0f}{after:10.0f}")
    keep_snapshots(person.site)


def tell_server(folder: Path, client: Any, pages: list[str], times: int) -> None:
    """The same pages over HTTP, and how soon the first one is there."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = probe.getsockname()[1]
    words = ["serve", "--port", str(port), "--data", str(folder)]
    command = [sys.executable, "-m", "protoconch.cli.main", *words]
    headers = {
        "Cookie": f"sessionid={client.cookies['sessionid'].value}",
        "Accept-Encoding": "gzip",
    }
    began = time.perf_counter()
    with subprocess.Popen(command, stdout=subprocess.DEVNULL) as server:
        try:
            first, line = None, None
            while first is None:
                try:
                    line = http.client.HTTPConnection("127.0.0.1", port, timeout=60)
                    line.request("GET", pages[0], headers=headers)
                    first = line.getresponse().read()
                except ConnectionError:
                    time.sleep(0.02)
            took = time.perf_counter() - began
            print(f"\nfirst page of serve over this log {took:.2f} s, asked {ASKED_FIRST_S} s")

            def get(at: str) -> None:
                line.request("GET", at, headers=headers)
                answer = line.getresponse()
                assert answer.status == 200, (at, answer.status)
                answer.read()

            tell_pages("pages over HTTP", pages, get, times)
        finally:
            server.terminate()


def tell_help() -> None:
    """How soon the help is there, median of nine."""
    command = [sys.executable, "-m", "protoconch.cli.main", "--help"]
    taken = [
        seconds(lambda: subprocess.run(command, stdout=subprocess.DEVNULL, check=True))
        for _ in range(9)
    ]
    print(f"\n--help {statistics.median(taken):.2f} s, asked {ASKED_HELP_S} s")


def seconds(act: Callable[[], Any]) -> float:
    """How long it takes [s]."""
    began = time.perf_counter()
    act()
    return time.perf_counter() - began


if __name__ == "__main__":
    main()
