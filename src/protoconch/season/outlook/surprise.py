"""When what was seen contradicts the model: said in words, and the belief widened.

Each count is compared with what the other entries would have led one to expect (leave one out, by
weights inverse to its own likelihood). A count in the outer 0.1 % is named. Where all counts
together are further off than chance allows, the likelihood of the whole log is taken to the power
1/c, c being the mean square of the counts' normal scores: the errors are then as large as they
look (quasi-likelihood, McCullagh & Nelder 1989, from memory).
"""

from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np
from numpy.typing import NDArray
from scipy.special import betainc, gammaincc, gammaln, logsumexp, ndtri

from protoconch.season.outlook.likelihood import Likelihood
from protoconch.season.outlook.names import trade_name
from protoconch.season.outlook.seen import Observation
from protoconch.words import phrase, say

Numbers = NDArray[np.float64]
LOOKED_AT = 400
"""Particles that are enough to judge a count by."""
FEWEST = 8
"""Counts below which no common widening is worked out."""
FAR_SD = 3.0
"""Standard deviations of its prior beyond which a mean belief is called out of its range."""
COUNTED_AS = {
    "counted": (
        phrase("The count of {day:%-d %b %Y} in {tank}, batch {batch}, is higher"),
        phrase("The count of {day:%-d %b %Y} in {tank}, batch {batch}, is lower"),
    ),
    "thinned": (
        phrase("The number kept at the thinning of {day:%-d %b %Y} in {tank}, batch {batch}, is "
               "higher"),
        phrase("The number kept at the thinning of {day:%-d %b %Y} in {tank}, batch {batch}, is "
               "lower"),
    ),
    "lost": (
        phrase("The number found dead up to {day:%-d %b %Y} in {tank}, batch {batch}, is higher"),
        phrase("The number found dead up to {day:%-d %b %Y} in {tank}, batch {batch}, is lower"),
    ),
}  # fmt: skip
"""What was more, and what was fewer, than expected, by the kind of entry; any other is a count."""


@dataclass(frozen=True, slots=True)
class Surprises:
    """Sentences, and c: how much larger the errors look than they were believed, 1 or more.

    scores: normal score of each count given the others, (counts,).
    """

    sentences: tuple[str, ...]
    widened: float
    scores: Numbers


def surprises(of: Likelihood, z: Numbers, chance: float, first_day: date) -> Surprises:
    """What contradicts the model in a fitted log.

    z: particles; chance: of a false alarm; first_day: day 0 of the season.
    """
    layout = of.layout
    scores = count_scores(of, z[:, :: max(z.shape[1] // LOOKED_AT, 1)])
    limit = -float(ndtri(chance / 2))
    told = [
        say("{seen} than everything else in the log leads to expect (a chance below {percent:g} "
            "%): look again at the vessel, the volume and the entry.", percent=chance * 100,
            seen=_seen(layout.observations[int(layout.counts.observation[row])], first_day,
                       more=bool(scores[row] > 0)))
        for row in np.flatnonzero(np.abs(scores) > limit)
    ]  # fmt: skip
    widened = 1.0
    if scores.size >= FEWEST:
        square = float((scores**2).sum())
        if gammaincc(scores.size / 2, square / 2) < chance:
            widened = square / scores.size
            told.append(say(
                "The counts scatter more than the errors of counting allow: all errors are taken "
                "to be {times:.1f} times as large, and the outlook is wider for it.",
                times=float(np.sqrt(widened)),
            ))  # fmt: skip
    return Surprises((*told, *_out_of_range(of, z)), widened, scores)


def _seen(seen: Observation, first_day: date, *, more: bool) -> str:
    higher, lower = COUNTED_AS.get(seen.words, COUNTED_AS["counted"])
    return say(higher if more else lower, day=first_day + timedelta(days=seen.day),
               tank=seen.tank, batch=seen.batch)  # fmt: skip


def _out_of_range(of: Likelihood, z: Numbers) -> tuple[str, ...]:
    """Beliefs that the log has driven to the edge of what was thought possible."""
    mean = z.mean(axis=1)
    told = []
    for i, name in enumerate(of.layout.coordinates.names):
        if mean[i] > FAR_SD:
            told.append(say(
                "The log puts this above nearly all that was believed before: {name}. The range it "
                "started from may be wrong, and the odds are then too sure.", name=trade_name(name),
            ))  # fmt: skip
        elif mean[i] < -FAR_SD:
            told.append(say(
                "The log puts this below nearly all that was believed before: {name}. The range it "
                "started from may be wrong, and the odds are then too sure.", name=trade_name(name),
            ))  # fmt: skip
    return tuple(told)


def count_scores(of: Likelihood, z: Numbers) -> Numbers:
    """Normal score of each count given all other entries, (counts,)."""
    total, mean, variance = of.seen_and_expected(z)
    if not total.size:
        return np.zeros(0)
    y = total[:, None]
    size = mean**2 / np.maximum(variance - mean, 1e-12)
    own = gammaln(y + size) - gammaln(size) + size * np.log(size / (size + mean))
    own = own + y * np.log(mean / (size + mean)) - gammaln(y + 1)
    log_w = -own
    log_w = np.minimum(log_w, logsumexp(log_w, axis=1, keepdims=True) - 0.5 * np.log(z.shape[1]))
    w = np.exp(log_w - logsumexp(log_w, axis=1, keepdims=True))
    below = np.where(y > 0, 1.0 - betainc(np.maximum(y, 1e-9), size, mean / (size + mean)), 0.0)
    middle = (w * (below + 0.5 * np.exp(own))).sum(axis=1)
    return np.asarray(ndtri(np.clip(middle, 1e-12, 1 - 1e-12)))
