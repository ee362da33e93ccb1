"""How fast and how well calibrated the outlook is.

python benchmarks/outlook.py                  speed, the next entry, the actions, the peer
python benchmarks/outlook.py --seasons 400    also the calibration and the interval coverage
"""

import argparse
import json
import os
import sys
import time
from dataclasses import replace
from datetime import timedelta
from pathlib import Path

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


def speed() -> None:
    """Time of an outlook from the log alone, and of the next day's entries."""
    made = plan((4, 11, 18, 32, 46), 2, 450)
    basis = replace(small((4, 11, 18, 32, 46), 2, 450), plan=made)
    log, _ = invented_log(basis, np.random.default_rng(5), 200)
    print("entries  seen  log alone [s]  next entries [s]  effective")
    for day in (30, 60, 90, 120, 200):
        begin = time.perf_counter()
        known = outlook(made, CONCH, log, on(day), 1, ASSUMED, COUNTING)
        alone = time.perf_counter() - begin
        later = next(d for d in range(day + 1, day + 60)
                     if any(e.kind == "counted" and (e.happened.date() - FIRST).days == d
                            for e in log))  # fmt: skip
        begin = time.perf_counter()
        outlook(made, CONCH, log, on(later), 1, ASSUMED, COUNTING, before=known)
        more = time.perf_counter() - begin
        entries = sum(e.happened.date() <= on(day) for e in log)
        print(f"{entries:7d} {known.outlook.entries_used:5d} {alone:14.2f} {more:17.2f} "
              f"{known.outlook.effective_sample:10.0f}")  # fmt: skip


def actions() -> None:
    """Time of the next actions, and what common futures save."""
    known = outlook(plan((18, 46), 2, 500, (2200, 40.0)), CONCH, (), on(2), 1, ASSUMED, COUNTING)
    begin = time.perf_counter()
    found = next_actions(known, hours)
    print(f"{len(found.actions)} actions in {time.perf_counter() - begin:.1f} s; variance of the "
          "difference, separate over common futures:")  # fmt: skip
    for action in found.actions:
        print(f"  {(action.independent_error / action.error) ** 2:6.1f}  {action.sentence}")


def peer() -> None:
    """The reduced model beside the general sampler's own record."""
    begin = time.perf_counter()
    updated(small(), reduced_log(), on(40), 3)
    seconds = time.perf_counter() - begin
    told = json.loads((ROOT / "tests/season/outlook/reduced_posterior.json").read_text("utf-8"))
    print(f"reduced model: {seconds:.2f} s for 1,200 particles; general sampler {told['seconds']} "
          f"for {told['draws']} draws with {told['made_with']}")  # fmt: skip


def series() -> None:
    """The published series, each month left out."""
    for seen, each in zip(BY_MONTH, left_out(BY_MONTH), strict=True):
        print(f"  seen {seen:.2f}, expected {each.middle:.2f} ({each.low:.2f} to {each.high:.2f})")


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
    seasons = asked.parse_args().seasons
    series()
    speed()
    peer()
    actions()
    if seasons:
        calibration(seasons)


if __name__ == "__main__":
    main()
