"""How fast a season is simulated and planned, beside its peers, in one run.

python benchmarks/season.py           everything, about two minutes
python benchmarks/season.py --short   fewer draws for the peers, about half a minute
"""

import argparse
import os
import resource
import sys
import time
from collections.abc import Callable
from dataclasses import replace
from datetime import date
from pathlib import Path

for threads in ("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS"):
    os.environ.setdefault(threads, "1")
sys.path.insert(0, str(Path(__file__).resolve().parent.parent))

import numpy as np  # noqa: E402

from benchmarks.season_peers import plain, run_loop, run_simpy  # noqa: E402
from protoconch.animals.profiles import species  # noqa: E402
from protoconch.hatchery.description import Genetics, Target  # noqa: E402
from protoconch.hatchery.reading import demo_hatchery  # noqa: E402
from protoconch.season.model.beliefs import UNCERTAIN, beliefs  # noqa: E402
from protoconch.season.model.draws import Dice, streams  # noqa: E402
from protoconch.season.model.events import run_events  # noqa: E402
from protoconch.season.model.layout import Layout, Lot, ReservedBatch, futures  # noqa: E402
from protoconch.season.model.simulate import simulate  # noqa: E402
from protoconch.season.plan.planning import plan_season  # noqa: E402
from protoconch.season.plan.proof import prove  # noqa: E402
from protoconch.season.plan.search import Search  # noqa: E402
from protoconch.season.plan.study import Effort, Study, inputs, study  # noqa: E402
from protoconch.sources.reading import load_table  # noqa: E402
from protoconch.work import hours  # noqa: E402

DRAWS, DAYS, BATCHES, TANKS = 10_000, 300, 6, 3


def best(run: Callable[[], object], times: int) -> float:
    """Least seconds of so many runs."""
    seconds = []
    for _ in range(times):
        begin = time.perf_counter()
        run()
        seconds.append(time.perf_counter() - begin)
    return min(seconds)


def season(nursery_m2: float) -> Layout:
    """Six batches, two weeks apart, of three tanks each."""
    starts = range(0, 14 * BATCHES, 14)
    batches = tuple(ReservedBatch(s, 2.4e5, s + 2, s + 40, s + 15, s + 120) for s in starts)
    lots = tuple(Lot(b, 0, t, 400.0, 6000.0) for b in range(BATCHES) for t in range(TANKS))
    return Layout(batches, lots, DAYS, nursery_m2=nursery_m2, size_days=200.0)


def model(peer_draws: int) -> None:
    """The stage model against a plain loop, SimPy and the generator itself."""
    known = beliefs(species("queen-conch"), demo_hatchery(), load_table("season"))
    source = streams(np.random.default_rng(1))
    print(f"{DRAWS:,} draws x {DAYS} days x {BATCHES} batches x {TANKS} tanks, seconds")
    free, tight = season(float("inf")), season(90.0)
    seconds = best(lambda: simulate(free, known, source, DRAWS, 200.0, 100), 5)
    print(f"  this model, random numbers included         {seconds:9.3f}   (aim 0.25)")
    bound = simulate(tight, known, source, DRAWS, 200.0, 100).bound.mean()
    mixed = best(lambda: simulate(tight, known, source, DRAWS, 200.0, 100), 3)
    print(f"  the same, nursery short in {bound:4.0%} of futures    {mixed:9.3f}")
    dice = [Dice(known, source, block, 2000, DAYS, 100) for block in range(DRAWS // 2000)]
    ready_made = [futures(free, one) for one in dice]
    kernel = best(lambda: [run_events(free, one, known) for one in ready_made], 5)
    print(f"  moving the animals alone, numbers drawn     {kernel:9.3f}")
    apart = plain(free, futures(free, Dice(known, source, 0, peer_draws, DAYS, 100)), known)
    share = DRAWS / peer_draws
    for name, peer, aim in (("plain Python loop", run_loop, 250),
                            ("SimPy, a process a lot", run_simpy, 900)):  # fmt: skip
        took = best(lambda peer=peer: peer(apart), 1) * share
        print(f"  {name:24s} (from {peer_draws:5,} draws){took:9.1f}   {took / kernel:6.0f} x the "
              f"moving alone (aim {aim} x), {took / seconds:.0f} x all of it")  # fmt: skip
    numbers = DAYS + len(UNCERTAIN) + BATCHES * 6 + BATCHES * TANKS * 6
    generator = np.random.Generator(np.random.SFC64(1))
    floor = best(lambda: generator.standard_normal((numbers, DRAWS)), 5)
    print(f"  the generator alone, {numbers} numbers a draw     {floor:9.3f}"
          f"   {seconds / floor:6.1f} x the generator (aim 5 x)")  # fmt: skip
    many = best(lambda: simulate(free, known, source, 10 * DRAWS, 200.0, 100), 1)
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    print(f"  {10 * DRAWS:,} draws                              {many:9.2f}"
          f"   peak memory of the whole run {peak:.0f} MB")  # fmt: skip


def plans(seconds: float) -> None:
    """A plan from twelve collecting days, and how near it is to a proven optimum."""
    demo = demo_hatchery()
    hatchery = replace(demo, first_day=date(2027, 4, 1), last_day=date(2027, 6, 25),
                       larval_tanks=demo.larval_tanks[:1], genetics=Genetics(1, 1.0))  # fmt: skip
    animal, assumed = species(hatchery.species), load_table("season")
    target = Target(900, 70.0, date(2028, 10, 31), 0.8)
    rng = np.random.Generator(np.random.SFC64(1))
    given = inputs(hatchery, animal, hours, assumed, rng, Effort(), None)
    begin = time.perf_counter()
    laid_out = study(given, target)
    print(f"\nPlan from {len(laid_out.calendars)} collecting days, {len(laid_out.room.options)} "
          f"options of up to {hatchery.larval_tanks[0].count} tanks, seconds")  # fmt: skip
    print(f"  options with 10,000 common futures          {time.perf_counter() - begin:9.2f}")
    begin = time.perf_counter()
    found = laid_out.search(target.animals).smallest(target.confidence)
    print(f"  smallest choice, {int(found.choice.sum()):2d} tanks, {found.hours:6.0f} h          "
          f"   {time.perf_counter() - begin:9.2f}")  # fmt: skip
    for draws in (200, 400, 1000):
        compare(laid_out, target, draws, seconds)
    begin = time.perf_counter()
    plan_season(demo, animal, demo.target, hours, assumed, 1)
    print(f"  the demo's whole answer, limits included    {time.perf_counter() - begin:9.2f}")


def compare(laid_out: Study, target: Target, draws: int, seconds: float) -> None:
    """The search against the solver on the same few futures."""
    room = replace(laid_out.room, options=tuple(
        replace(o, totals=o.totals[:, :draws], means=o.means) for o in laid_out.room.options
    ), _masses={})  # fmt: skip
    search = Search(room, target.animals)
    begin = time.perf_counter()
    small = search.smallest(target.confidence)
    own = time.perf_counter() - begin
    begin = time.perf_counter()
    proof = prove(search, target.confidence, draws, seconds, small.choice)
    proved = time.perf_counter() - begin
    errands = sum(room.trip_hours + room.mass_hours[s] for s in room.starts(small.choice))
    least = float(room.cost @ small.choice + errands)
    word = "proven optimal" if proof.proved else f"gap {proof.gap:.1%}"
    above = (least - proof.at_least) / proof.at_least
    print(f"  {draws:4d} futures: search {least:.1f} h in {own:.2f} s; solver {proof.hours:.1f} h, "
          f"{word}, in {proved:5.2f} s;")  # fmt: skip
    print(f"        search above the bound {above:.1%}   (aim optimal in 10 s)")


def main() -> None:
    """Run everything."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--short", action="store_true")
    short = parser.parse_args().short
    model(200 if short else 1000)
    plans(10.0)


if __name__ == "__main__":
    main()
