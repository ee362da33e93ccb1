"""The smallest choice of lots whose odds reach what is asked, on common futures.

Greedy: add what gains most per hour of work. Then remove, move and swap lots while that makes the
season smaller at no loss. A smooth score guides (how nearly each future meets the target), the
exact share of futures decides. The optimum is proved apart, see proof.py.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from protoconch.season.plan.room import Choice, Numbers, Room

SOFTNESS = 0.3
"""The score of a future rises from 0 to 1 while its number rises from 0.7 to 1.3 of the target."""
HOPE = 1e-3
"""Weight of the mean in the score: it leads on where no future comes near the target."""
WORTH_MOVING = 1e-4
SAVED_HOURS, TRIES = 0.1, 3
NEW_DATE = 1e-6
GUIDE_DRAWS = 2000
GUIDE_SLACK = 0.03
"""A choice that the first common futures find this much too unsure is not looked at further."""


@dataclass(frozen=True, slots=True)
class Found:
    """A choice, the share of common futures in which it meets the target, and its hours [h]."""

    choice: Choice
    odds: float
    hours: float
    reaches: bool


class Search:
    """One search for a target number of animals in one room."""

    def __init__(self, room: Room, animals: float) -> None:
        """Take the running totals of the options: no lot, one, two, and so on."""
        self.room, self.animals = room, animals
        self.totals = [option.totals for option in room.options]
        self.guide = [table[:, :GUIDE_DRAWS] for table in self.totals]
        self.draws = self.totals[0].shape[1] if self.totals else 1

    def total(self, choice: Choice) -> Numbers:
        """Animals of the size asked in each common future, (draws,)."""
        total = np.zeros(self.draws)
        for i in np.flatnonzero(choice):
            total += self.totals[i][choice[i]]
        return total

    def odds(self, choice: Choice) -> float:
        """Share of the common futures that meet the target."""
        return float(np.mean(self.total(choice) >= self.animals))

    def scores(self, totals: NDArray[np.float32]) -> Numbers:
        """How nearly the target is met, averaged over futures (..., n) -> (...), 0 to 1."""
        ramp = (totals - self.animals) / (2.0 * SOFTNESS * self.animals) + 0.5
        nearer = np.minimum(totals, self.animals).mean(axis=-1) / self.animals
        return np.asarray(np.clip(ramp, 0.0, 1.0).mean(axis=-1) + HOPE * nearer)

    def _guided(self, choice: Choice) -> NDArray[np.float32]:
        total = np.zeros(self.guide[0].shape[1] if self.guide else 1, dtype=np.float32)
        for i in np.flatnonzero(choice):
            total = total + self.guide[i][choice[i]]
        return total

    def smallest(self, ask: float) -> Found:
        """The choice with fewest hours whose odds on the common futures reach `ask`.

        Looked for from below, adding what gains most per hour, and from the fullest room, taking
        away; the fullest room itself where nothing reaches `ask`.
        """
        full = self.fullest()
        begins = [
            choice
            for choice in (self._grown(ask), full.choice)
            if choice is not None and self._meets(choice, ask)
        ]
        if not begins:
            return full
        ends = [self._shrunk(choice, ask) for choice in begins]
        return self._found(min(ends, key=self.room.cost_of), reaches=True)

    def _grown(self, ask: float) -> Choice | None:
        """A choice that reaches `ask`, grown by the best additions; None where they run out."""
        choice: Choice | None = np.zeros(len(self.room.options), dtype=np.int64)
        while choice is not None and not self._meets(choice, ask):
            choice = self._best_addition(choice)
        return choice

    def _shrunk(self, choice: Choice, ask: float) -> Choice:
        """The choice after all moves that save hours and keep the odds.

        Where none is left, a move that betters the odds for no more hours may open a new one, or
        the way may lead through a choice that is not sure enough.
        """
        while True:
            while (smaller := self._smaller(choice, ask)) is not None:
                choice = smaller
            steadier = self._likelier(choice, at_most_hours=self.room.cost_of(choice))
            if steadier is None or not self._meets(steadier, ask):
                steadier = self._through_less(choice, ask)
            if steadier is None:
                return choice
            choice = steadier

    def _through_less(self, choice: Choice, ask: float) -> Choice | None:
        """A smaller choice that is sure enough, reached by way of one with a lot too few, or None.

        Looked for from the choices that lose least by one lot less.
        """
        hours = self.room.cost_of(choice) - SAVED_HOURS
        begins = []
        for i in np.flatnonzero(choice):
            fewer = choice.copy()
            fewer[i] -= 1
            begins.append(fewer)
        begins.sort(key=lambda fewer: -float(self.scores(self._guided(fewer))))
        for at in begins[:TRIES]:
            climbed: Choice | None = at
            while climbed is not None:
                if self._meets(climbed, ask):
                    return climbed
                climbed = self._likelier(climbed, at_most_hours=hours)
        return None

    def fullest(self, start: Choice | None = None) -> Found:
        """The choice with the best odds that the room allows, looked for from `start` on."""
        choice = np.zeros(len(self.room.options), dtype=np.int64) if start is None else start
        while (better := self._best_addition(choice, per_hour=False)) is not None:
            choice = better
        improved: Choice | None = choice
        while improved is not None:
            choice, improved = improved, self._likelier(improved)
        return self._found(choice, reaches=False)

    def _found(self, choice: Choice, *, reaches: bool) -> Found:
        return Found(choice, self.odds(choice), self.room.cost_of(choice), reaches)

    def _meets(self, choice: Choice, ask: float) -> bool:
        return self.odds(choice) >= ask and self.room.masses(choice).wide_enough

    def _best_addition(self, choice: Choice, *, per_hour: bool = True) -> Choice | None:
        """The choice with more of one option that gains most, per hour or in all, or None."""
        base = self._guided(choice)
        more, gained = self._more(choice, at_most=max(o.most for o in self.room.options))
        larger = choice + more
        gains = self.scores(base + gained) - float(self.scores(base))
        if not self.room.masses(choice).wide_enough:
            gains += NEW_DATE * (larger @ (choice == 0) > 0)
        useful = (gains > 1e-9) & self.room.fit_daily(larger)
        found = [i for i in np.flatnonzero(useful) if self.room.errands_fit(larger[i])]
        if not found:
            return None
        hours = self.room.cost_of(choice)
        costs = [self.room.cost_of(larger[i]) - hours if per_hour else 1.0 for i in found]
        return np.asarray(larger[found[int(np.argmax(gains[found] / costs))]])

    def _more(self, choice: Choice, at_most: int) -> tuple[Choice, NDArray[np.float32]]:
        """Up to so many lots more of one option: (m, options), and what they add: (m, n)."""
        more, gained = [], []
        for j, option in enumerate(self.room.options):
            for count in range(1, min(at_most, option.most - int(choice[j])) + 1):
                row = np.zeros_like(choice)
                row[j] = count
                more.append(row)
                gained.append(self.guide[j][choice[j] + count] - self.guide[j][choice[j]])
        if not more:
            return np.zeros((0, choice.size), np.int64), self.guide[0][:0]
        return np.array(more), np.array(gained)

    def _moves(self, choice: Choice) -> Iterator[tuple[Choice, NDArray[np.float32]]]:
        """Choices with lots of one or two options out and of another in, and their totals."""
        base = self._guided(choice)
        held = [int(i) for i in np.flatnonzero(choice)]
        more, gained = self._more(choice, at_most=2)
        outs: list[dict[int, int]] = [{i: n} for i in held for n in range(1, choice[i] + 1)]
        outs += [{i: 1, j: 1} for i, j in combinations(held, 2)]
        for out in outs:
            left, without = base, choice.copy()
            for i, fewer in out.items():
                without[i] -= fewer
                left = left - self.guide[i][choice[i]] + self.guide[i][without[i]]
            yield without[None], left[None]
            others = more[:, list(out)].sum(axis=1) == 0
            yield without + more[others], left + gained[others]

    def _that_fit(self, choices: Choice, wanted: NDArray[np.bool_]) -> list[int]:
        """Which of the wanted choices keep every daily limit."""
        among = np.flatnonzero(wanted)
        return [int(i) for i in among[self.room.fit_daily(choices[among])]]

    def _smaller(self, choice: Choice, ask: float) -> Choice | None:
        """The move to fewest hours that keeps the odds, or None."""
        hours, bare = self.room.cost_of(choice), self.room.bare_cost(choice)
        ranked: list[tuple[float, int, Choice]] = []
        for moved, totals in self._moves(choice):
            cheaper = self.room.bare_cost(moved) < bare
            near = (totals >= self.animals).mean(axis=-1) >= ask - GUIDE_SLACK
            for i in self._that_fit(moved, cheaper & near):
                ranked.append((self.room.cost_of(moved[i]), len(ranked), moved[i]))
        for cost, _, moved_one in sorted(ranked, key=lambda entry: entry[:2]):
            if cost >= hours - 1e-9:
                return None
            if self.room.errands_fit(moved_one) and self._meets(moved_one, ask):
                return moved_one
        return None

    def _likelier(self, choice: Choice, at_most_hours: float = float("inf")) -> Choice | None:
        """The move to the best odds, or None; at_most_hours: what it may cost [h]."""
        now = float(self.scores(self._guided(choice)))
        better: list[tuple[float, int, Choice]] = []
        for moved, totals in self._moves(choice):
            scores = self.scores(totals)
            fitting = self._that_fit(moved, scores > now + WORTH_MOVING)
            better += [(-float(scores[i]), len(better), moved[i]) for i in fitting]
        for _, _, moved_one in sorted(better, key=lambda entry: entry[:2]):
            if self.room.cost_of(moved_one) <= at_most_hours and self.room.errands_fit(moved_one):
                return moved_one
        return None
