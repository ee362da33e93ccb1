"""Rows that every whole schedule keeps anyway, and that make the bound of the program sharp."""

import math

import numpy as np
from numpy.typing import NDArray

from protoconch.algae.chain.description import Step
from protoconch.algae.chain.program import Program, Term

LONGEST_SPAN_USES = 2
"""Spans of days that are looked at, in times of the days of use."""
SMALL = 1e-3


def feeding_rows(
    program: Program, line: int, place: int, step: Step, loads: NDArray[np.float64],
    ready: NDArray[np.float64],
) -> None:  # fmt: skip
    """Adds them for one line.

    On the days from `first` to `last`, the cultures at hand must cover the loads asked for; their
    number is whole, so it must cover the loads rounded up, unless a part of the demand stays
    unmet: mixed-integer rounding. loads, ready: shape (days,), see `formulation`.
    Source: Nemhauser & Wolsey 1990, Math Program 46:379 (mixed-integer rounding).
    """
    spans = 1 if step.drawn else LONGEST_SPAN_USES * step.use_days
    for first in range(len(loads)):
        for last in range(first, min(len(loads), first + spans)):
            need = float(loads[first : last + 1].sum())
            part = need - math.floor(need)
            if part < SMALL or part > 1 - SMALL:
                continue
            terms: list[Term] = []
            if last - step.grow_days >= 0:
                terms.append((("N", line, place, last - step.grow_days), 1.0))
            if first >= 1:
                terms.append((("X", line, place, first - 1), -1.0))
            terms += [(("short", line, day), float(loads[day]) / part)
                      for day in range(first, last + 1) if loads[day] > 0]  # fmt: skip
            program.row(terms, low=math.ceil(need) - float(ready[last]))
