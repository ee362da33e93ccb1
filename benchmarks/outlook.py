"""How fast and how well calibrated the outlook is, printed as tables for docs/outlook.md.

python benchmarks/outlook.py                     the published series, speed, actions
python benchmarks/outlook.py --peer PYTHON       also a compiled general sampler, by a Python that
                                                 has the dependency group `sampler`
python benchmarks/outlook.py --seasons 400       also the calibration and the interval coverage

Times are those of one processor, so that what else a machine does changes them little.
"""

import argparse
import json
import os
import platform
import subprocess
import sys
import time
from collections.abc import Callable
from dataclasses import replace
from datetime import datetime, timedelta
from pathlib import Path
from typing import TypeVar

for threads in ("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS"):
    os.environ.setdefault(threads, "1")
ROOT = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(ROOT))

import numpy as np  # noqa: E402

from protoconch.season.outlook.between_batches import left_out  # noqa: E402
from protoconch.season.outlook.calibration import family_p, fits  # noqa: E402
from protoconch.season.outlook.invented import invented_log  # noqa: E402
from protoconch.season.outlook.next_action import next_actions  # noqa: E402
from protoconch.season.outlook.outlook import outlook  # noqa: E402
from protoconch.season.outlook.update import updated  # noqa: E402
from protoconch.work import hours  # noqa: E402
from tests.season.outlook.constructed import SEASONS  # noqa: E402
from tests.season.outlook.seasons import (  # noqa: E402
    ASSUMED,
    CONCH,
    COUNTING,
    FIRST,
    on,
    plan,
    small,
)
from tests.season.outlook.test_learning import BY_MONTH  # noqa: E402
from tests.season.outlook.test_reduced import reduced_log  # noqa: E402

STARTS = (4, 18, 60, 74)
"""Batches whose trays do not overlap beyond those of the invented hatchery."""
REPEATS, RUNS = 3, 16
MONTHS = ("March", "April", "May", "June", "July", "September")
T = TypeVar("T")


def timed(work: Callable[[], T]) -> tuple[T, float]:
    """What some work gives, and the least seconds of processor of several times."""
    best = float("inf")
    for _ in range(REPEATS):
        begun = time.process_time()
        done = work()
        best = min(best, time.process_time() - begun)
    return done, best


def series() -> None:
    """The published series, each month left out."""
    inside = 0
    print("hatch to settlement, 90 % interval from the other months")
    for month, seen, each in zip(MONTHS, BY_MONTH, left_out(BY_MONTH), strict=True):
        inside += each.low <= seen <= each.high
        print(f"| {month} | {seen:.0%} | {each.middle:.0%} | {each.low:.0%} to {each.high:.0%} |")
    print(f"inside: {inside} of {len(BY_MONTH)}\n")


def speed() -> None:
    """Time of an outlook from the log alone, and of the next day's entries."""
    made = plan(STARTS, 2, 450)
    basis = replace(small(STARTS, 2, 450), plan=made)
    log, _ = invented_log(basis, np.random.default_rng(5), 200)
    by_day = [(e.happened.date() - FIRST).days for e in log]
    print("| entries | seen of animals | particles, log alone | whole outlook | next entries |")
    for entries in (50, 100, 200, 300, 400):
        if entries > len(log):
            continue
        day = sorted(by_day)[entries - 1]
        alone, fit = timed(lambda day=day: updated(basis, log, on(day), 1))  # type: ignore[misc]
        known, whole = timed(lambda day=day: outlook(  # type: ignore[misc]
            made, CONCH, log, on(day), 1, ASSUMED, COUNTING))  # fmt: skip
        later = next((d for d in sorted(by_day) if d > day), None)
        more = "-"
        if later is not None:
            _, seconds = timed(lambda known=known, later=later: updated(  # type: ignore[misc]
                basis, log, on(later), 1, before=known.posterior))  # fmt: skip
            more = f"{seconds:.2f} s"
        print(f"| {sum(d <= day for d in by_day)} | {len(alone.history.observations)} | "
              f"{fit:.2f} s | {whole:.2f} s | {more} | {alone.effective:.0f} effective"
              f"{', widened' if alone.widened > 1 else ''}")  # fmt: skip
    print()


def actions() -> None:
    """Time of the next actions, and what common futures save."""
    for name, make in SEASONS.items():
        known = make(1, 1200)
        found, seconds = timed(lambda known=known: next_actions(known, hours))  # type: ignore[misc]
        print(f"{name}: {len(found.actions)} actions in {seconds:.1f} s; variance of the "
              "difference, separate over common futures:")  # fmt: skip
        for action in found.actions:
            if abs(action.gain) > 0:
                print(f"| {action.key} | {action.gain:+.3f} | {action.variance_saved:.1f} |")
    print()


def ours() -> float:
    """Milliseconds of the reduced model for each effective draw, from the scatter of many runs."""
    basis, log = small(), reduced_log()
    means, spreads = [], []
    begun = time.process_time()
    for seed in range(RUNS):
        told = updated(basis, log, on(40), seed)
        means.append(told.z.mean(axis=1))
        spreads.append(told.z.var(axis=1))
    seconds = (time.process_time() - begun) / RUNS
    names = told.layout.coordinates.names
    touched = [i for i, name in enumerate(names) if name in TOUCHED or "tank" in name]
    part = np.var(means, axis=0, ddof=1) / np.mean(spreads, axis=0)
    worth = 1.0 / float(part[touched].mean())
    print(f"reduced model, particles: {seconds:.3f} s for {worth:.0f} effective draws, "
          f"{1000 * seconds / worth:.3f} ms for each")  # fmt: skip
    return 1000 * seconds / worth


TOUCHED = {"veliger.survival", "variation.batch", "variation.tank", "count.clumping_k",
           "count.aliquot_bias", "27A quality"}  # fmt: skip


def peer(python: str) -> None:
    """The reduced model beside a compiled general sampler."""
    each = ours()
    script = str(ROOT / "benchmarks/outlook_peer.py")
    clean = {key: value for key, value in os.environ.items() if key != "PYTHONPATH"}
    done = subprocess.run([python, script], check=True, capture_output=True, text=True, env=clean)
    told = json.loads(done.stdout)
    best = told["best"]
    print(f"general sampler, its best of several ways ({told['made_with']}): {best['seconds']} s "
          f"for {best['effective']} effective draws, {best['ms_for_each']} ms for each, besides "
          f"{best['compiling_s']} s of compiling")  # fmt: skip
    whole = 1000 * (best["seconds"] + best["compiling_s"]) / best["effective"]
    print(f"ratio: {best['ms_for_each'] / each:.1f}, with its compiling {whole / each:.0f}\n")


def calibration(seasons: int) -> None:
    """Calibration and coverage over so many invented seasons."""
    begin = time.perf_counter()
    done = fits(small(), small(), 75, seasons, int(time.time()) % 100_000, particles=300)
    p, worst = family_p(done, np.random.default_rng(0))
    print(f"{seasons} seasons in {timedelta(seconds=round(time.perf_counter() - begin))}: family p "
          f"{p:.3f} (worst: {worst}); 90 % intervals hold {done.inside.mean():.3f}")  # fmt: skip


def main() -> None:
    """Run what was asked for."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--seasons", type=int, default=0)
    asked.add_argument("--peer", metavar="PYTHON", default="")
    given = asked.parse_args()
    print(f"{datetime.now().astimezone():%Y-%m-%d}, {platform.machine()}, {os.cpu_count()} cores, "
          f"Python {platform.python_version()}, numpy {np.__version__}\n")  # fmt: skip
    series()
    speed()
    actions()
    if given.peer:
        peer(given.peer)
    if given.seasons:
        calibration(given.seasons)


if __name__ == "__main__":
    main()
