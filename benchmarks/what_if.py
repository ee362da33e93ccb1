"""How fast a season with something changed is answered, and how much common numbers save.

python benchmarks/what_if.py           the demonstration's plan, about a minute
python benchmarks/what_if.py --short   a plan made with fewer futures, about twenty seconds

Server time is the processor's time for the model and the picture, of one answer, with the plan
made ready before; the wall clock stands beside it, as other programs run on the same machine.
"""

import argparse
import os
import statistics
import sys
import time
from pathlib import Path

for threads in ("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS"):
    os.environ.setdefault(threads, "1")
sys.path.insert(0, str(Path(__file__).resolve().parent.parent))

import numpy as np  # noqa: E402

from protoconch.animals.profiles import species  # noqa: E402
from protoconch.hatchery.reading import demo_hatchery  # noqa: E402
from protoconch.pictures.changed import changed_ribbons  # noqa: E402
from protoconch.season.plan.planning import plan_season  # noqa: E402
from protoconch.season.plan.study import Effort  # noqa: E402
from protoconch.season.what_if import QUICK, Change, prepared, what_if  # noqa: E402
from protoconch.sources.reading import load_table  # noqa: E402
from protoconch.work import hours  # noqa: E402

CHANGES = (
    Change(animals=900),
    Change(dying={"veliger": 2.0}),
    Change(dying={"juvenile": 0.5}),
    Change(more_tanks=1),
    Change(tanks={"large": 2}),
    Change(algae_g=0.4),
    Change(nursery_m2=20.0),
    Change(egg_masses=8),
    Change(size_mm=70.0),
)
LIMIT_MS = 200


def main() -> None:
    """Print a line for each change, then the spread."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--short", action="store_true")
    effort = Effort(1500, 3000, 500) if asked.parse_args().short else Effort()
    hatchery = demo_hatchery()
    snail, assumed = species(hatchery.species), load_table("season")
    assert hatchery.target is not None
    plan = plan_season(hatchery, snail, hatchery.target, hours, assumed, 1, effort=effort,
                       compare=False)  # fmt: skip
    begin = time.process_time()
    ready = prepared(plan, snail, assumed)
    print(f"{len(plan.batches)} batches, {QUICK} futures of {plan.odds.draws}; made ready once in "
          f"{1000 * (time.process_time() - begin):.0f} ms")  # fmt: skip
    spent = []
    for change in CHANGES:
        best, wall = np.inf, np.inf
        for _ in range(5):
            start, begin = time.perf_counter(), time.process_time()
            seen = what_if(ready, change)
            changed_ribbons(plan, seen.batches, seen.released, change.by or plan.target.by)
            best = min(best, time.process_time() - begin)
            wall = min(wall, time.perf_counter() - start)
        spent.append(1000 * best)
        apart = float(np.hypot(plan.odds.error, np.sqrt(seen.odds.value * (1 - seen.odds.value)
                                                        / seen.draws)))  # fmt: skip
        saved = (apart / seen.error) ** 2 if seen.error else float("inf")
        print(f"{1000 * best:6.0f} ms processor {1000 * wall:6.0f} ms wall  "
              f"{seen.by:+.3f} ± {seen.error:.3f}, variance {saved:5.1f} times less than drawn "
              f"apart: {', '.join(seen.told)}")  # fmt: skip
    worst = max(spent)
    print(f"median {statistics.median(spent):.0f} ms, worst {worst:.0f} ms of {LIMIT_MS} ms: "
          f"{'kept' if worst <= LIMIT_MS else 'NOT KEPT'}")  # fmt: skip


if __name__ == "__main__":
    main()
