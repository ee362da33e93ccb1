"""Small rooms with round numbers, and the exhaustive search that the scheduler must match."""

import itertools
from functools import cache

import numpy as np

from protoconch.algae.chain.description import Line, Room, Step, VesselKind
from protoconch.algae.chain.formulation import SHORT_MIN, Problem


def small_room(
    counts=(2, 2), grow=(1, 2), use=(2, 2), *, drawn=False, clean=0, donors=1, starts=1,
    species=1, spare=None,
):  # fmt: skip
    """Two kinds, small and large; the large one feeds 2 cells a load."""
    kinds = (VesselKind("small", 1, counts[0], clean), VesselKind("large", 10, counts[1], clean))
    lines = tuple(
        Line(f"alga {n}", (
            Step("small", grow[0], use[0], 1.0, start_min=3.0, care_min=1.0, crash_per_d=0.02),
            Step("large", grow[1], use[1], 2.0, drawn=drawn, donors=donors, starts=starts,
                 start_min=7.0, care_min=2.0, crash_per_d=0.04),
        ))
        for n in range(species)
    )  # fmt: skip
    return Room(kinds, lines, spare or {})


def least_cost(problem: Problem) -> float:  # noqa: C901 - one search, read as a whole
    """Least cost of a problem with one line by trying everything, without the solver.

    A state is, for each step, the cultures by (age, left in tenths) and the vessels in cleaning.
    Every number of starts, of emptied cultures and every amount fed in tenths of a load is tried.
    """
    steps = problem.room.lines[0].steps
    counts = [kind.count for kind in problem.room.kinds]
    wait = [kind.clean_days for kind in problem.room.kinds]
    loads = [round(10 * x) for x in problem.loads(0)]

    @cache
    def best(day: int, state: tuple) -> float:
        if day == problem.days:
            return 0.0
        low, high, cleaning = state
        least = np.inf
        free = [counts[i] - len(part) - len(cleaning[i]) for i, part in enumerate((low, high))]
        donors_ready = [i for i, age in enumerate(low) if age >= steps[0].grow_days]
        for n0, n1 in itertools.product(range(free[0] + 1), range(free[1] + 1)):
            poured = -(-n1 * steps[1].donors // steps[1].starts)
            if poured > len(donors_ready) or (day in problem.closed and n0 + n1):
                continue
            work = n0 * steps[0].start_min + n1 * steps[1].start_min
            work += steps[0].care_min * (len(low) + n0) + steps[1].care_min * (len(high) + n1)
            kept_low = [age for i, age in enumerate(low) if i not in donors_ready[:poured]]
            for given, after in fed_ways(high, loads[day]):
                unmet = (loads[day] - given) / loads[day] if loads[day] else 0.0
                for ended in itertools.product((0, 1), repeat=len(after)):
                    cost = work + SHORT_MIN * unmet
                    if cost >= least:
                        continue
                    least = min(least, cost + following(
                        day, kept_low, after, ended, (n0, n1), cleaning, poured))  # fmt: skip
        return least

    def following(day, kept_low, after, ended, new, cleaning, poured):
        next_low, over0 = [], poured
        for age in kept_low:
            if age + 1 < steps[0].grow_days + steps[0].use_days:
                next_low.append(age + 1)
            else:
                over0 += 1
        next_high, over1 = [], 0
        for (age, left), gone in zip(after, ended, strict=True):
            ready = age >= steps[1].grow_days
            last = age + 1 >= steps[1].grow_days + steps[1].use_days
            if gone and not ready:
                return np.inf
            if gone or last or left <= 0:
                over1 += 1
            else:
                next_high.append((age + 1, left))
        low = tuple(sorted([*next_low, *[1] * new[0]], reverse=True))
        high = tuple(sorted([*next_high, *[(1, 10)] * new[1]], reverse=True))
        rest = tuple(
            tuple(sorted([left - 1 for left in cleaning[i] if left > 1] + [wait[i]] * over
                         if wait[i] else []))
            for i, over in enumerate((over0, over1))
        )  # fmt: skip
        return best(day + 1, (low, high, rest))

    def fed_ways(high, wanted):
        """Amounts fed in tenths, oldest first, and the cultures after it."""
        ready = [i for i, (age, _) in enumerate(high) if age >= steps[1].grow_days]
        room = sum(10 if steps[1].drawn else high[i][1] for i in ready)
        for given in range(min(wanted, room) + 1):
            left, after = given, list(high)
            for i in ready:
                taken = min(left, 10 if steps[1].drawn else high[i][1])
                left -= taken
                if not steps[1].drawn:
                    after[i] = (high[i][0], high[i][1] - taken)
            yield given, after

    return best(0, ((), (), ((), ())))
