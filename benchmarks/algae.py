"""How near the best the algae schedule is, how fast, and how it fares when cultures are lost.

Run: python -m benchmarks.algae [quick]. Prints four tables:
1. 60 days, 4 species, 40 vessels: work, proven bound, gap, food lacking, seconds.
2. The same simulated losses under four ways of working: blindly by the schedule, by a rule of
   thumb, by the schedule with losses made good, and planned anew on each loss.
3. The largest culture of the demo lost on every day: seconds to plan anew, and who goes short.
4. Limits of growth rates fitted to simulated counts: how often they hold the true rate.
The rooms and demands are invented round numbers.
"""

import sys
import time

import numpy as np

from protoconch.algae.chain.description import Room, VesselKind
from protoconch.algae.chain.formulation import Problem
from protoconch.algae.chain.judge import faults
from protoconch.algae.chain.lines import line_of
from protoconch.algae.chain.loss import after_loss
from protoconch.algae.chain.plan import laid_out
from protoconch.algae.chain.policies import blind, replacing, replanning
from protoconch.algae.chain.running import Order, carried_out, drawn_losses
from protoconch.algae.chain.solving import solved
from protoconch.algae.chain.sureness import dice_for, summed_up
from protoconch.algae.chain.what_if import largest_culture
from protoconch.algae.growth import baranyi_per_ml, exponential_per_ml, logistic_per_ml
from protoconch.algae.growth_fit import fitted
from protoconch.cli.plan import plan_for
from protoconch.cli.season_work import season_algae

DAYS = 60
SPECIES = ("t-iso", "c-muelleri", "tetraselmis", "pavlova")
KINDS = (("flask", 0.25), ("bottle", 2.0), ("carboy", 20.0), ("column", 200.0))
COUNTS = (12, 10, 8, 10)
PEAK_CELLS = (5e11, 2.2e11, 0.45e11, 1.5e11)


def room(spare, counts=COUNTS):
    """Four species in 40 vessels."""
    kinds = tuple(VesselKind(name, litres, count)
                  for (name, litres), count in zip(KINDS, counts, strict=True))  # fmt: skip
    return Room(kinds, tuple(line_of(key, kinds) for key in SPECIES), spare, 0.2)


def demand(fill):
    """Cells a day: nothing for 26 days, then a rise over 12 days, and a fall from day 48."""
    day = np.arange(DAYS)
    rising = np.clip((day - 26) / 12, 0, 1) * (1 - 0.6 * np.clip((day - 48) / 12, 0, 1))
    shape = rising + 0.05 * (day >= 26)
    return fill * np.array(PEAK_CELLS)[:, None] * shape


def schedules(quick):
    """Gap and time at several demands."""
    print(f"\n1. {DAYS} days x {len(SPECIES)} species x {sum(COUNTS)} vessels, one thread")
    print("   spare                    fill   work  bound    gap  short  seconds  faults")
    spares = [{"flask": 1}] if quick else [{}, {"flask": 1}, {"flask": 1, "carboy": 1}]
    for spare in spares:
        for fill in (0.6,) if quick else (0.5, 0.6, 0.7, 0.8):
            problem = Problem(room(spare), demand(fill))
            start = time.perf_counter()
            counts = solved(problem)
            seconds = time.perf_counter() - start
            plan = laid_out(problem, counts)
            print(
                f"   {spare!s:24} {fill:4.1f} {counts.cost:6.0f} {counts.bound:6.0f}"
                f" {counts.gap:6.2%} {plan.short.sum():6.2f} {seconds:8.1f} {len(faults(plan)):7}",
                flush=True,
            )


def rule_of_thumb(problem):
    """Keep so many cultures of each step on the way that the demand a growth later is met.

    The peer: no look ahead beyond the growing days, one culture more than the peak needs.
    """
    lines = problem.room.lines
    ahead = [np.cumsum([0, *(s.grow_days for s in reversed(line.steps))])[::-1] for line in lines]

    def wanted(line, step, day):
        last = lines[line].steps[-1]
        until = day + int(ahead[line][step])
        span = slice(until, until + lines[line].steps[step].use_days)
        loads = problem.loads(line)[span]
        if not loads.size or loads.max() <= 0:
            return 0
        need = loads.max() if last.drawn else loads.sum()
        return int(np.ceil(need)) + 1

    def order(day, present, lost):
        del lost
        start = {}
        for line, species in enumerate(lines):
            for step in range(len(species.steps)):
                there = sum(c.species == species.species and c.step == step and c.last > day
                            for c in present.cultures)  # fmt: skip
                start[line, step] = max(0, wanted(line, step, day) - there)
        return Order(start, {})

    return order


def losses(quick):
    """Days short of food under the same losses."""
    seasons = 4 if quick else 20
    print(f"\n2. The same losses in {seasons} simulated seasons, fill 0.45")
    print("   spare                                  way              fed  lacking  in 9 of 10"
          "  days short  work h  slowest day s")  # fmt: skip
    spares = (
        [{"flask": 1, "carboy": 1}]
        if quick
        else [{"flask": 1}, {"flask": 1, "carboy": 1}, {"flask": 1, "carboy": 1, "column": 1}]
    )
    counts = (16, 14, 14, 12)
    for spare in spares:
        _four_ways(Problem(room(spare, counts), demand(0.45)), seasons)


def timed(policy, slowest):
    """The same policy; the seconds of its slowest day are kept in slowest[0]."""

    def order(day, present, lost):
        start = time.perf_counter()
        found = policy(day, present, lost)
        slowest[0] = max(slowest[0], time.perf_counter() - start)
        return found

    return order


def _four_ways(problem, seasons):
    plan = solved(problem)
    dice = dice_for(problem.room, DAYS, seasons, np.random.default_rng(7))
    ways = {
        "blind": lambda: blind(problem, plan),
        "rule of thumb": lambda: rule_of_thumb(problem),
        "made good": lambda: replacing(problem, plan),
        "planned anew": lambda: replanning(problem, plan, 0.4, 45),
    }
    for name, way in ways.items():
        slowest = [0.0]
        runs = [
            carried_out(problem, timed(way(), slowest), drawn_losses(problem.room, season))
            for season in dice
        ]
        found = summed_up(runs, problem.demand)
        days = np.mean([run.days_short() for run in runs])
        work = np.mean([run.work_min for run in runs]) / 60
        spare = str(dict(problem.room.spare))
        print(
            f"   {spare:38} {name:14} {found.met:5.1%} {found.unmet:7.1%}"
            f" {found.unmet_90:10.1%} {days:11.1f} {work:7.0f} {slowest[0]:10.1f}",
            flush=True,
        )


def any_day(quick):
    """A crash of the largest culture on every day of the demo's schedule."""
    print("\n3. The largest culture of the demo lost, on every day: planned anew")
    season = plan_for("demo", None, None, None, None)
    answer = season_algae(season, season.hatchery.algae_room)
    found = []
    for day in range(1, answer.demand.days, 10 if quick else 1):
        lost = largest_culture(answer.plan, day)
        start = time.perf_counter()
        loss = after_loss(answer, day, lost=(lost,))
        seconds = time.perf_counter() - start
        found.append((seconds, day, lost, loss))
        if faults(loss.replan.plan):
            print(f"   day {day}: {faults(loss.replan.plan)}")
    seconds, day, lost, _ = max(found, key=lambda entry: entry[0])
    print(f"   {len(found)} days, mean {np.mean([entry[0] for entry in found]):.2f} s;"
          f" slowest {seconds:.2f} s, on {answer.day(day)}, {lost[0]} {lost[1]}")  # fmt: skip
    before, after = (sum(getattr(entry[3].replan, name) for entry in found)
                     for name in ("before", "after"))  # fmt: skip
    moved = np.mean([entry[3].replan.moved for entry in found])
    print(f"   species-days short: {before:.0f} if nothing is done, {after:.0f} planned anew;"
          f" {moved:.1f} starts changed in the first week")  # fmt: skip
    worst = max(found, key=lambda entry: sum(spell.missing_g for spell in entry[3].spells))
    print("   The worst day:")
    for sentence in worst[3].sentences:
        print(f"   {sentence}")


def coverage(quick):
    """Share of 95 % limits that hold the true growth rate."""
    print("\n4. 95 % limits of growth rates, counts with 10 % error")
    curves = {
        "exponential": (np.arange(7.0), lambda d: exponential_per_ml(
            d, start_per_ml=2e5, growth_per_d=0.7)),
        "logistic": (np.arange(11.0), lambda d: logistic_per_ml(
            d, start_per_ml=2e5, growth_per_d=0.7, peak_per_ml=1e7)),
        "lag": (np.arange(13.0), lambda d: baranyi_per_ml(
            d, start_per_ml=2e5, growth_per_d=0.7, peak_per_ml=1e7, lag_d=1.5)),
    }  # fmt: skip
    times = 100 if quick else 1000
    rng = np.random.default_rng(11)
    for name, (days, cells) in curves.items():
        held = 0
        for _ in range(times):
            counts = cells(days) * np.exp(rng.normal(0, 0.1, len(days)))
            limits = fitted(days.tolist(), counts.tolist(), name).growth_limits
            held += limits.low <= 0.7 <= limits.high
        print(f"   {name:12} {held / times:.1%} of {times}", flush=True)


if __name__ == "__main__":
    SHORT = "quick" in sys.argv[1:]
    schedules(SHORT)
    losses(SHORT)
    any_day(SHORT)
    coverage(SHORT)
