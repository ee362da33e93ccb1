"""How soon Today is there on a slow phone, and how much is sent for it.

python benchmarks/first_paint.py                 the invented hatchery; makes it first, minutes
python benchmarks/first_paint.py --data FOLDER   keeps it there, or uses the one that is there

The processor is slowed six times and the network held to slow 3G and to 4G by the browser itself,
with nothing kept from before. The figures of the networks are an assumption of this program.
"""

import argparse
import os
import shutil
import statistics
import sys
import tempfile
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
os.environ["DJANGO_ALLOW_ASYNC_UNSAFE"] = "true"  # the browser's driver runs a loop here
sys.path.insert(0, str(Path(__file__).resolve().parent.parent))

ASKED_KB, SLOWER = 100, 6
PHONE = {"width": 390, "height": 844}
TIMES = """() => {
  const [page] = performance.getEntriesByType('navigation');
  const paint = performance.getEntriesByName('first-contentful-paint')[0];
  return {paint: paint?.startTime, dom: page.domContentLoadedEventEnd, raw: page.decodedBodySize};
}"""

PAINTED = "performance.getEntriesByName('first-contentful-paint').length > 0"
BEHIND = "performance.getEntriesByType('resource').some((one) => one.name.endsWith('/ways'))"
"""Something is drawn; the other ways of the lines are there, which are fetched behind the page."""


@dataclass(frozen=True)
class Network:
    """A network: its name, bits in a second both ways [kbit/s], time there and back [ms]."""

    name: str
    down_kbit_s: float
    up_kbit_s: float
    there_and_back_ms: float


NETWORKS = (Network("slow 3G", 400, 400, 400), Network("4G", 9000, 4500, 85))


def main() -> None:
    """Make the hatchery where it is not there, and measure."""
    words = argparse.ArgumentParser(description=__doc__)
    words.add_argument("--data", type=Path)
    words.add_argument("--times", type=int, default=5)
    asked = words.parse_args()
    found = shutil.which("chromium") or shutil.which("chromium-browser")
    if found is None:
        sys.exit("There is no Chromium on this machine to look with.")
    with tempfile.TemporaryDirectory() as passing:
        cookie = opened(asked.data or Path(passing))
        with served() as address:
            measured(found, address, cookie, asked.times)


def opened(folder: Path) -> dict[str, str]:
    """The cookie of a crew member of the invented hatchery in a folder."""
    os.environ.pop("DATABASE_URL", None)
    from protoconch.operations.opening import open_records

    folder.mkdir(parents=True, exist_ok=True)
    open_records(folder)
    from protoconch.operations.starting import started

    if not started():
        from protoconch.operations.demonstration import begin_demonstration

        begin_demonstration(datetime.now(UTC), print)
    from django.conf import settings
    from django.test import Client

    from protoconch.records.models import Person

    client = Client()
    client.force_login(Person.objects.filter(role="crew")[0])
    name = settings.SESSION_COOKIE_NAME
    return {"name": name, "value": client.cookies[name].value}


@contextmanager
def served() -> Iterator[str]:
    """The program on a free port of this machine."""
    from waitress.server import create_server

    from protoconch.web.wsgi import application

    server: Any = create_server(application, host="127.0.0.1", port=0, threads=4)
    threading.Thread(target=server.run, daemon=True).start()
    yield f"http://127.0.0.1:{server.effective_port}"


def measured(browser: str, address: str, cookie: dict[str, str], times: int) -> None:
    """Print what each network makes of Today."""
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright:
        chromium = playwright.chromium.launch(executable_path=browser, args=["--no-sandbox"])
        look(chromium, address, cookie, None)  # the server has seen the page once
        for network in NETWORKS:
            seen = [look(chromium, address, cookie, network) for _ in range(times)]
            tell(network, seen)
        chromium.close()


def look(
    chromium: Any, address: str, cookie: dict[str, str], network: Network | None
) -> dict[str, float]:
    """One look at Today by a phone that never saw it: milliseconds and bytes."""
    context = chromium.new_context(viewport=PHONE, has_touch=True, is_mobile=True)
    context.add_cookies([{**cookie, "url": address}])
    page = context.new_page()
    sent: list[float] = []
    wire = context.new_cdp_session(page)
    wire.send("Network.enable")
    wire.on("Network.loadingFinished", lambda told: sent.append(told["encodedDataLength"]))
    if network is not None:
        wire.send("Emulation.setCPUThrottlingRate", {"rate": SLOWER})
        wire.send("Network.emulateNetworkConditions", {
            "offline": False, "latency": network.there_and_back_ms,
            "downloadThroughput": network.down_kbit_s * 1000 / 8,
            "uploadThroughput": network.up_kbit_s * 1000 / 8,
        })  # fmt: skip
    page.goto(address, wait_until="load", timeout=120_000)
    until(page, PAINTED)
    at_load = sum(sent)
    until(page, BEHIND)
    page.wait_for_load_state("networkidle", timeout=120_000)
    times: dict[str, float] = page.evaluate(TIMES)
    lines = page.locator(".task").count()
    context.close()
    return {**times, "load": at_load, "all": sum(sent), "lines": lines}


def until(page: Any, so: str, most: int = 1200) -> None:
    """Wait until that is so on a page that runs no words as a script, two minutes at most."""
    for _ in range(most):
        if page.evaluate(so):
            return
        page.wait_for_timeout(100)
    sys.exit(f"Today did not come as far as this in two minutes: {so}")


def tell(network: Network, seen: list[dict[str, float]]) -> None:
    """Print the middle of several looks."""
    middle = {key: statistics.median(one[key] for one in seen) for key in seen[0]}
    within = "within" if middle["all"] < ASKED_KB * 1000 else "OVER"
    print(
        f"{network.name} ({network.down_kbit_s:g} kbit/s, {network.there_and_back_ms:g} ms there"
        f" and back), processor {SLOWER} times slower, {len(seen)} looks:"
        f" first paint {middle['paint'] / 1000:.2f} s, page ready {middle['dom'] / 1000:.2f} s"
    )
    print(
        f"  {middle['lines']:g} lines of work; page {middle['raw'] / 1000:.0f} kB unpacked;"
        f" sent until drawn {middle['load'] / 1000:.0f} kB, with what comes behind it"
        f" {middle['all'] / 1000:.0f} kB: {within} {ASKED_KB} kB"
    )


if __name__ == "__main__":
    main()
