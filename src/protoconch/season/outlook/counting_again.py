"""What a further count is worth: how much better the best action could be chosen with it.

The value of sample information by regression (Strong, Oakley, Brennan & Breeze 2015, Med Decis
Making 35:570): each action's success is regressed on the count that would be seen, over the
futures, half of them to learn from and half to judge on, and the other way about.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from protoconch.season.outlook.ahead import numbers_on
from protoconch.season.outlook.next_action import Choices
from protoconch.season.outlook.outlook import Known
from protoconch.words import say

Numbers = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class CountAgain:
    """A count that pays. gain: expected odds from a better choice; error: its standard error."""

    lot: str
    sentence: str
    gain: float
    error: float
    hours: float
    worth: float


def worth_of_knowing(
    success: Numbers, signal: Numbers, rng: np.random.Generator
) -> tuple[float, float]:
    """Expected gain from choosing by a signal, and its standard error.

    success: worth of every action in every future, (actions, n); signal: (n,).
    """
    n = signal.size
    order = rng.permutation(n)
    halves = order[: n // 2], order[n // 2 :]
    gains = np.zeros(n)
    for learn, judge in (halves, halves[::-1]):
        blind = int(success[:, learn].mean(axis=1).argmax())
        table = _bends(signal, learn)
        fitted = np.linalg.lstsq(table[learn], success[:, learn].T, rcond=None)[0]
        chosen = (table[judge] @ fitted).argmax(axis=1)
        gains[judge] = success[chosen, judge] - success[blind, judge]
    return float(gains.mean()), float(gains.std(ddof=1) / np.sqrt(n))


def _bends(signal: Numbers, learn: NDArray[np.intp]) -> Numbers:
    """A cubic of the signal in standard units, (n, 4)."""
    x = (signal - signal[learn].mean()) / max(float(signal[learn].std()), 1e-12)
    x = np.clip(x, -3.0, 3.0)
    return np.stack([np.ones_like(x), x, x**2, x**3], axis=1)


def counts_that_pay(
    known: Known, choices: Choices, rng: np.random.Generator
) -> tuple[CountAgain, ...]:
    """Counts whose expected information changes a decision by more than their hours are worth."""
    now, rests_on, told = known.standing, known.basis, known.posterior.history
    n = choices.met.size
    open_ = [a for a in choices.actions if not a.changes_target]
    if not open_:
        return ()
    success = np.stack([choices.met, *(a.met - choices.hour * a.hours for a in open_)])
    sd = float(
        np.hypot(0.1, 1.0 / np.sqrt(5 * rests_on.measures.counting["count.clumping_k"].number))
    )
    hours = rests_on.measures.number("action.count_hours")
    alive = [course for course in told.courses if course.ended is None]
    if not alive:
        return ()
    z = known.posterior.z[:, :n]
    counted = numbers_on(rests_on, known.posterior, now.day, tuple(alive), z,
                         lambda _: np.asarray(rng.standard_normal(n)))  # fmt: skip
    paying = []
    for course, number in zip(alive, counted, strict=True):
        signal = np.log(np.maximum(number, 1.0)) + sd * rng.standard_normal(n)
        gain, error = worth_of_knowing(success, signal, rng)
        worth = gain - choices.hour * hours
        if worth > 0.0 and gain > 2.0 * error:
            sentence = say(
                "Count {tank} of batch {batch} again: knowing its number would change what is "
                "best, worth {points:.1f} in a hundred.",
                tank=course.tank, batch=course.batch, points=gain * 100,
            )  # fmt: skip
            paying.append(CountAgain(course.key, sentence, gain, error, hours, worth))
    return tuple(sorted(paying, key=lambda count: -count.worth))
