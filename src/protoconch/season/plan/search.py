"""The smallest choice of lots whose odds reach what is asked, on common futures.

Greedy: add what gains most per hour of work. Then remove, move and swap lots while that makes the
season smaller at no loss. A smooth score guides (how nearly each future meets the target), the
exact share of futures decides. The optimum is proved apart, see proof.py.
"""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from protoconch.season.plan.room import Choice, Numbers, Room

SOFTNESS = 0.3
"""The score of a future rises from 0 to 1 while its number rises from 0.7 to 1.3 of the target."""
HOPE = 1e-3
"""Weight of the mean in the score: it leads on where no future comes near the target."""
WORTH_MOVING = 1e-4
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

    def score(self, total: NDArray[np.float32]) -> float:
        """How nearly the target is met, averaged over futures (0 to 1)."""
        ramp = (total - self.animals) / (2.0 * SOFTNESS * self.animals) + 0.5
        nearer = HOPE * float(np.mean(np.minimum(total, self.animals))) / self.animals
        return float(np.mean(np.clip(ramp, 0.0, 1.0))) + nearer

    def _guided(self, choice: Choice) -> NDArray[np.float32]:
        total = np.zeros(self.guide[0].shape[1] if self.guide else 1, dtype=np.float32)
        for i in np.flatnonzero(choice):
            total = total + self.guide[i][choice[i]]
        return total

    def smallest(self, ask: float) -> Found:
        """The choice with fewest hours whose odds on the common futures reach `ask`."""
        choice = np.zeros(len(self.room.options), dtype=np.int64)
        while not self._meets(choice, ask):
            better = self._best_addition(choice)
            if better is None:
                return self.fullest()
            choice = better
        improved: Choice | None = choice
        while improved is not None:
            choice, improved = improved, self._smaller(improved, ask)
        return self._found(choice, reaches=True)

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

    def _additions(self, choice: Choice) -> Iterator[tuple[int, Choice]]:
        """Choices with one or more lots more of one option, that fit the room."""
        for i, option in enumerate(self.room.options):
            for more in range(1, option.most - int(choice[i]) + 1):
                larger = choice.copy()
                larger[i] += more
                if not self.room.fits(larger):
                    break
                yield i, larger

    def _best_addition(self, choice: Choice, *, per_hour: bool = True) -> Choice | None:
        base, now, hours = self._guided(choice), 0.0, self.room.cost_of(choice)
        now = self.score(base)
        narrow = not self.room.masses(choice).wide_enough
        best: tuple[float, Choice] | None = None
        for i, larger in self._additions(choice):
            total = base + self.guide[i][larger[i]] - self.guide[i][choice[i]]
            gain = self.score(total) - now
            if narrow and choice[i] == 0:
                gain += 1e-6
            if gain <= 1e-9:
                continue
            worth = gain / (self.room.cost_of(larger) - hours) if per_hour else gain
            if best is None or worth > best[0]:
                best = (worth, larger)
        return best[1] if best else None

    def _moves(self, choice: Choice) -> Iterator[tuple[Choice, NDArray[np.float32]]]:
        """Choices with lots of one option out and lots of another in, and their totals."""
        base = self._guided(choice)
        for i in np.flatnonzero(choice):
            for fewer in range(1, int(choice[i]) + 1):
                without = choice.copy()
                without[i] -= fewer
                left = base - self.guide[i][choice[i]] + self.guide[i][without[i]]
                yield without, left
                for j, option in enumerate(self.room.options):
                    if j == i:
                        continue
                    for more in range(1, option.most - int(choice[j]) + 1):
                        moved = without.copy()
                        moved[j] += more
                        yield moved, left + self.guide[j][moved[j]] - self.guide[j][choice[j]]

    def _smaller(self, choice: Choice, ask: float) -> Choice | None:
        """The best move to fewer hours that keeps the odds, or None."""
        hours = self.room.cost_of(choice)
        ranked: list[tuple[float, int, Choice]] = []
        for number, (moved, total) in enumerate(self._moves(choice)):
            if self.room.cost @ (moved - choice) > 0.0 and not self._fewer_starts(moved, choice):
                continue
            if np.mean(total >= self.animals) >= ask - GUIDE_SLACK:
                ranked.append((self.room.cost_of(moved), number, moved))
        for cost, _, moved in sorted(ranked, key=lambda entry: entry[:2]):
            if cost >= hours - 1e-9:
                return None
            if self.room.fits(moved) and self._meets(moved, ask):
                return moved
        return None

    def _fewer_starts(self, moved: Choice, choice: Choice) -> bool:
        return len(self.room.starts(moved)) < len(self.room.starts(choice))

    def _likelier(self, choice: Choice) -> Choice | None:
        """The best move to better odds, or None."""
        now = self.score(self._guided(choice))
        better = [
            (score, moved)
            for moved, total in self._moves(choice)
            if (score := self.score(total)) > now + WORTH_MOVING
        ]
        if not better:
            return None
        fit = self.room.fit_daily(np.array([moved for _, moved in better]))
        ranked = sorted(np.flatnonzero(fit), key=lambda i: -better[i][0])
        return next((better[i][1] for i in ranked if self.room.errands_fit(better[i][1])), None)
