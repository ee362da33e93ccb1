"""The season report seen in a real Chromium: on a phone, on a desk, by night, on paper."""

import json
import re
import shutil
import subprocess
from datetime import date
from html import unescape
from pathlib import Path

import pytest

from protoconch.animals.profiles import species
from protoconch.sheets.season_report import season_report
from protoconch.work.tasks import season_tasks
from tests.pictures.invented import season, target

CHROMIUM = next(
    filter(None, map(shutil.which, ("chromium", "chromium-browser", "google-chrome"))), None
)
FLAGS = (
    "--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
    "--disable-background-networking", "--disable-component-update", "--disable-sync",
    "--disable-dev-shm-usage", "--hide-scrollbars", "--host-resolver-rules=MAP * ~NOTFOUND",
)  # fmt: skip
NIGHT = "--blink-settings=preferredColorScheme=0"
MEASURE = Path(__file__).with_name("measure.js").read_text(encoding="utf-8")

pytestmark = [
    pytest.mark.browser,
    pytest.mark.skipif(CHROMIUM is None, reason="no Chromium on this machine to look with"),
]


def chromium(folder, *arguments):
    return subprocess.run(
        [CHROMIUM, *FLAGS, f"--user-data-dir={folder / 'profile'}", *arguments],
        capture_output=True, text=True, timeout=100, check=True,
    )  # fmt: skip


def report(batches, animals=None):
    plan = season(batches, asked=target(animals) if animals else None)
    tasks = season_tasks(plan, species("queen-conch")) if batches < 12 else ()
    return season_report(plan, tasks, date(2027, 8, 3))


def looked_at(folder, text, *flags):
    held = json.dumps(text).replace("<", "\\u003c")
    page = folder / "look.html"
    page.write_text(
        '<!doctype html><meta charset="utf-8"><body>'
        f'<script type="application/json" id="report">{held}</script><script>{MEASURE}</script>',
        encoding="utf-8",
    )
    done = chromium(
        folder, "--enable-logging=stderr", "--virtual-time-budget=20000", "--dump-dom",
        "--window-size=1400,1000", *flags, page.as_uri(),
    )  # fmt: skip
    body = re.search(r"<body>(.*)</body>", done.stdout, re.DOTALL).group(1)
    found = json.loads(unescape(body))
    assert "error" not in found, found
    console = [line for line in done.stderr.splitlines() if "CONSOLE" in line]
    return found["360"], found["1280"], console


SEASONS = {"three batches": (3,), "twelve batches": (12,), "an ask too large": (6, 6000)}


@pytest.fixture(scope="module", params=SEASONS)
def seen(request, tmp_path_factory):
    return looked_at(tmp_path_factory.mktemp("look"), report(*SEASONS[request.param]))


def test_nothing_runs_off_the_side_of_a_phone_or_a_desk(seen):
    for width, look in zip((360, 1280), seen[:2], strict=True):
        assert look["wide"] == []
        assert look["closed"] <= width
        assert look["open"] <= width


def test_the_console_stays_silent_and_nothing_is_fetched(seen):
    phone, desk, console = seen
    assert console == []
    assert phone["fetched"] == desk["fetched"] == []


def test_a_phone_is_shown_the_phones_picture_and_a_desk_the_desks(seen):
    phone, desk, _ = seen
    assert (phone["phone"], phone["desk"]) == (True, False)
    assert (desk["phone"], desk["desk"]) == (False, True)


def test_no_drawn_words_touch_or_are_cut_off(seen):
    for look in seen[:2]:
        assert look["touching"] == []
        assert look["outside"] == []


def test_drawn_letters_stay_large_enough_to_read(seen):
    phone, desk, _ = seen
    assert phone["letters"] >= 11
    assert desk["letters"] >= 11


def test_words_stand_out_and_folds_are_large_enough_for_a_thumb(seen):
    for look in seen[:2]:
        assert look["contrast"]["ratio"] >= 4.5, look["contrast"]
        assert look["targets"] >= 44


def test_the_night_is_dark_and_its_words_stand_out(tmp_path):
    phone, desk, console = looked_at(tmp_path, report(3), NIGHT)
    assert console == []
    for look in (phone, desk):
        assert look["sand"] < 0.05
        assert look["contrast"]["ratio"] >= 4.5, look["contrast"]


def test_a_season_without_batches_is_a_page_too(tmp_path):
    phone, desk, console = looked_at(tmp_path, report(0, 1200).replace(
        'class="card" id="season"', 'class="card desk phone" id="season"'
    ))  # fmt: skip
    assert console == []
    assert phone["open"] <= 360
    assert desk["pictures"] == 0


@pytest.mark.skipif(shutil.which("pdftoppm") is None, reason="no pdftoppm here to look at paper")
def test_paper_carries_the_ribbons_in_black_and_white(tmp_path):
    page, sheet = tmp_path / "report.html", tmp_path / "report.pdf"
    page.write_text(report(6), encoding="utf-8")
    chromium(tmp_path, f"--print-to-pdf={sheet}", "--no-pdf-header-footer", page.as_uri())
    subprocess.run(["pdftoppm", "-r", "50", "-l", "2", str(sheet), str(tmp_path / "p")], check=True)
    second = next(iter(sorted(tmp_path.glob("p-*2.ppm")))).read_bytes()
    width, height = map(int, re.match(rb"P6\s(\d+) (\d+)", second).groups())
    pixels = second[-3 * width * height :]
    channels = [pixels[i::3] for i in range(3)]
    assert max(abs(r - g) + abs(g - b) for r, g, b in zip(*channels, strict=True)) <= 6
    dark = sum(value < 100 for value in channels[0]) / (width * height)
    assert 0.01 < dark < 0.5  # the ribbons are on this sheet, and the sheet is no black page
