"""Which action is best, by trying every one of them in futures of its own.

python benchmarks/next_actions.py              each season of tests/season/outlook/constructed.py
python benchmarks/next_actions.py --futures 100000      more of them

Every candidate, on every day of collecting, is simulated in independent futures that no other
shares. Where nothing is logged yet, the plan's own simulator does it from the first day, which
knows nothing of particles, of seasons taken up half-way or of common futures; where there is a
log, particles of other seeds do. Then it is printed how often the program's quick answer names the
same best action, and what common futures save. Writes tests/season/outlook/best_actions.json.
"""

import argparse
import json
import os
import platform
import sys
import time
from pathlib import Path
from typing import Any

for threads in ("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS"):
    os.environ.setdefault(threads, "1")
ROOT = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(ROOT))

import numpy as np  # noqa: E402

from protoconch.season.model.draws import Streams  # noqa: E402
from protoconch.season.model.simulate import simulate  # noqa: E402
from protoconch.season.outlook.ahead import Standing, onward, totals  # noqa: E402
from protoconch.season.outlook.basis import Basis  # noqa: E402
from protoconch.season.outlook.candidate import Candidate, Room  # noqa: E402
from protoconch.season.outlook.candidates import candidates  # noqa: E402
from protoconch.season.outlook.changes import some  # noqa: E402
from protoconch.season.outlook.next_action import LEAST_HOURS, next_actions  # noqa: E402
from protoconch.season.outlook.outlook import Known  # noqa: E402
from protoconch.work import hours  # noqa: E402
from tests.season.outlook.constructed import SEASONS, Made  # noqa: E402

WRITTEN = ROOT / "tests/season/outlook/best_actions.json"
ALIKE = 2000
"""Futures of one posterior."""


def listed(known: Known, futures: int, seed: int) -> list[Candidate]:
    """All candidates of a season, on every day of collecting."""
    chosen = np.arange(futures, dtype=np.intp)
    room = Room(known, some(known.standing, chosen), hours, Streams(seed))
    return [c for c in candidates(room, chosen, everything=True) if c.kind != "hold release"]


def share_met(season: Standing, rests_on: Basis, futures: int, seed: int) -> float:
    """Share of so many fresh futures that meet the target, by the plan's own simulator."""
    plan, source = rests_on.plan, Streams(seed)
    drawn = simulate(season.layout, rests_on.beliefs, source, futures, rests_on.size_days,
                     rests_on.first_day_of_year)  # fmt: skip
    return float((drawn.total >= plan.target.animals).mean())


def share_met_after_log(make: Made, place: int, futures: int, seed: int) -> float:
    """The same where there is a log, by posteriors of their own; place: -1 for nothing done."""
    met = []
    for part in range(max(futures // ALIKE, 1)):
        own = seed + 1 + part
        known = make(own, ALIKE)
        season = known.standing
        if place >= 0:
            season = listed(known, ALIKE, own)[place].season
        outcome = onward(season, known.basis)
        total = totals(season, known.basis, outcome).sum(axis=0) + season.released
        met.append(float((total >= known.basis.plan.target.animals).mean()))
    return float(np.mean(met))


def tried_one_by_one(make: Made, futures: int) -> dict[str, Any]:
    """The odds with each candidate, each in futures of its own."""
    known = make(1, ALIKE)
    found = listed(known, 200, 1)
    logged = bool(known.posterior.history.observations)

    def odds(place: int) -> float:
        seed = 10_000_000 + 10_000 * (place + 1)
        if logged:
            return share_met_after_log(make, place, futures, seed)
        season = known.standing if place < 0 else found[place].season
        return share_met(season, known.basis, futures, seed)

    base = odds(-1)
    told = []
    for place, candidate in enumerate(found):
        value = odds(place)
        error = float(np.sqrt((value * (1 - value) + base * (1 - base)) / futures))
        spent = max(candidate.hours, LEAST_HOURS)
        told.append({"key": candidate.key, "gain": round(value - base, 4),
                     "error": round(error, 4), "hours": round(candidate.hours, 1),
                     "per_ten_hours": round(10 * (value - base) / spent, 4),
                     "error_per_ten_hours": round(10 * error / spent, 4)})  # fmt: skip
    told.sort(key=lambda one: -one["per_ten_hours"] if one["gain"] >= 0.01 else -one["gain"] / 1e6)
    return {"base": round(base, 4), "candidates": told}


def common_futures(make: Made, blocks: int) -> dict[str, list[float]]:
    """What common futures save, by action: met or not, and smoothed.

    The variance of the difference to another block's futures, over that to the same futures.
    """
    rounds = [next_actions(make(seed, 600), hours) for seed in range(100, 100 + blocks)]
    keys = {action.key for action in rounds[0].actions if not action.changes_target}
    saved: dict[str, list[float]] = {}
    for key in keys:
        of = [next(a for a in r.actions if a.key == key) for r in rounds]
        paired = np.concatenate([a.met - r.met for a, r in zip(of, rounds, strict=True)])
        others = [*rounds[1:], rounds[0]]
        apart = np.concatenate([a.met - r.met for a, r in zip(of, others, strict=True)])
        met = float(np.mean([a.independent_error**2 for a in of])
                    / np.mean([a.error**2 for a in of]))  # fmt: skip
        if paired.std() > 1e-3 * apart.std():  # otherwise nothing differs: there is nothing to save
            saved[key] = [round(met, 1), round(float(apart.var() / paired.var()), 1)]
    return saved


def found_again(make: Made, best: str, seeds: int) -> int:
    """In how many of so many seeds the program's answer names that action first."""
    return sum(next_actions(make(seed, 600), hours).actions[0].key == best
               for seed in range(1, seeds + 1))  # fmt: skip


def main() -> None:
    """Try everything, print it, and keep it."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--futures", type=int, default=20_000)
    asked.add_argument("--logged-futures", type=int, default=8_000)
    asked.add_argument("--seeds", type=int, default=12)
    given = asked.parse_args()
    kept: dict[str, Any] = {
        "made_with": {"python": platform.python_version(), "numpy": np.__version__},
        "least_hours": LEAST_HOURS, "seasons": {},
    }  # fmt: skip
    for name, make in SEASONS.items():
        begun = time.perf_counter()
        logged = bool(make(1, 300).posterior.history.observations)
        futures = given.logged_futures if logged else given.futures
        told = tried_one_by_one(make, futures)
        best = told["candidates"][0]["key"]
        told |= {"futures": futures, "best": best,
                 "seeds": given.seeds, "found": found_again(make, best, given.seeds),
                 "common_futures_save": common_futures(make, given.seeds)}  # fmt: skip
        kept["seasons"][name] = told
        print(f"{name}: odds {told['base']:.3f}; best: {best}; found in {told['found']} of "
              f"{given.seeds} ({time.perf_counter() - begun:.0f} s)")  # fmt: skip
        for one in told["candidates"]:
            save = told["common_futures_save"].get(one["key"])
            print(f"  {one['gain']:+.4f} ± {one['error']:.4f} in {one['hours']:6.1f} h, "
                  f"{one['per_ten_hours']:+.4f} ± {one['error_per_ten_hours']:.4f} for ten; common "
                  f"futures save {f'{save[0]}, smoothed {save[1]}' if save else '-'}: "
                  f"{one['key']}", flush=True)  # fmt: skip
    WRITTEN.write_text(json.dumps(kept, indent=1) + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
