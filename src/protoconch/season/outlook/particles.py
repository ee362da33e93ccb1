"""Particles that stand for what is believed, moved from a first guess to the posterior.

A Laplace approximation gives the start. From there the particles are tempered to the posterior
(Del Moral, Doucet & Jasra 2006, J R Stat Soc B 68:411), and at every step each is moved by
Hamiltonian trajectories scaled with the particles' own covariance, until they have forgotten
where they came from. The particles of a season are many unknowns at once, of which plain
reweighting keeps two or three.
"""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Numbers = NDArray[np.float64]
Slope = Callable[[Numbers], tuple[Numbers, Numbers]]
"""From z (d, n) to a log-density (n,) and its gradient (d, n)."""
KEEP = 0.25
"""Share of the particles that a tempering step must leave effective."""
STEPS = 6
MOST_MOVES = 14
FORGOTTEN, SURELY = 0.5, 0.02
"""Squared correlation of a coordinate with where it came from, at which moving stops: on the way,
and at its end, where an error of the start is left over by the root of it."""
WORTH = 0.88
"""Share of the particles that must be worth an independent one at the end."""
FEW = 320
"""Particles that find the way from a Laplace start; they are multiplied at its end."""
WIDER = 1.07
"""Standard deviations of the start over those of the Laplace approximation."""
FAR = 5.5
"""Standard deviations from its prior beyond which no coordinate is looked for."""
DAMPINGS = (0.0, 1.0, 10.0, 100.0, 1e3, 1e4, 1e5)


@dataclass(frozen=True, slots=True)
class Moved:
    """Particles of equal weight, (d, n), and how many independent ones they are worth.

    temperings, moves: steps taken; accepted: share of trajectories in the last move.
    """

    z: Numbers
    effective: float
    temperings: int
    moves: int
    accepted: float


@dataclass(frozen=True, slots=True)
class Laplace:
    """A normal approximation: the mode (d,) and the covariance (d, d)."""

    mode: Numbers
    covariance: Numbers


def laplace(posterior: Slope, start: Numbers, steps: int = 60) -> Laplace:
    """Mode and curvature of a log-posterior, by damped Newton steps with differenced gradients."""
    x, d, h = start.copy(), start.size, 1e-4
    value, slope = (part[..., 0] for part in posterior(x[:, None]))
    vectors, curve = np.eye(d), np.ones(d)
    for _ in range(steps):
        vectors, curve = _curvature(posterior, x, h)
        along = vectors.T @ slope
        tries = x[:, None] + np.stack(
            [vectors @ (along / (np.abs(curve) + damping)) for damping in DAMPINGS], axis=1
        )
        with np.errstate(all="ignore"):
            values, slopes = posterior(np.clip(tries, -FAR, FAR))
        best = int(np.argmax(np.where(np.isfinite(values), values, -np.inf)))
        gain = float(values[best] - value)
        if not gain > 1e-7:
            break
        x, value, slope = np.clip(tries[:, best], -FAR, FAR), values[best], slopes[:, best]
        if gain < 1e-3 and best == 0:
            break
    vectors, curve = _curvature(posterior, x, h)
    return Laplace(x, (vectors / np.maximum(curve, 0.8)) @ vectors.T)


def _curvature(posterior: Slope, x: Numbers, h: float) -> tuple[Numbers, Numbers]:
    """Eigenvectors and eigenvalues of minus the second derivative."""
    d = x.size
    moved = np.concatenate([x[:, None] + h * np.eye(d), x[:, None] - h * np.eye(d)], axis=1)
    _, slopes = posterior(moved)
    hessian = (slopes[:, :d] - slopes[:, d:]) / (2 * h)
    curve, vectors = np.linalg.eigh(-(hessian + hessian.T) / 2)
    return vectors, curve


def systematic(weights: Numbers, rng: np.random.Generator, n: int) -> NDArray[np.intp]:
    """Ancestors of n particles, drawn in proportion to weights that sum to 1, (n,)."""
    edges = np.cumsum(weights)
    edges[-1] = 1.0
    return np.asarray(np.searchsorted(edges, (rng.random() + np.arange(n)) / n))


def effective(log_weights: Numbers) -> float:
    """Effective number of particles with these log-weights (Kong, Liu & Wong 1994)."""
    w = np.exp(log_weights - log_weights.max())
    return float(w.sum() ** 2 / (w * w).sum())


def _next(at: float, gain: Numbers) -> float:
    """How far tempering may go on from `at` so that enough particles stay effective."""
    n = gain.size
    if effective((1.0 - at) * gain) >= KEEP * n:
        return 1.0
    low, high = at, 1.0
    for _ in range(40):
        middle = 0.5 * (low + high)
        if effective((middle - at) * gain) < KEEP * n:
            high = middle
        else:
            low = middle
    return max(low, at + 1e-6)


@dataclass(slots=True)
class _Cloud:
    """Particles on their way, with the values and slopes of both ends of the path."""

    z: Numbers
    first: tuple[Numbers, Numbers]
    last: tuple[Numbers, Numbers]

    def chosen(self, which: NDArray[np.intp]) -> "_Cloud":
        """These particles."""
        return _Cloud(self.z[:, which], (self.first[0][which], self.first[1][:, which]),
                      (self.last[0][which], self.last[1][:, which]))  # fmt: skip


def tempered(
    first: Slope, last: Slope, z: Numbers, rng: np.random.Generator, most: int | None = None
) -> Moved:
    """Particles of the density `last` from particles z of the density `first`.

    most: how many are wanted; where z has fewer, they are multiplied at the end of the path and
    moved until they have parted. Without it, z are particles of an earlier posterior, which are
    moved only until those that were doubled have parted. Returns as many particles as wanted.
    """
    cloud = _Cloud(z, first(z), last(z))
    way = _Way(first, last, rng, most or z.shape[1], going_on=most is None)
    at, temperings = 0.0, 0
    while at < 1.0:
        gain = cloud.last[0] - cloud.first[0]
        gain = np.where(np.isfinite(gain), gain, -1e12)
        new = _next(at, gain)
        log_w = (new - at) * gain
        w = np.exp(log_w - log_w.max())
        cloud, at, temperings = way.on(cloud, w / w.sum(), new), new, temperings + 1
    return Moved(cloud.z, way.worth, temperings, way.moves, way.accepted)


@dataclass(slots=True)
class _Way:
    """The way of the particles from one density to the other, and what it cost."""

    first: Slope
    last: Slope
    rng: np.random.Generator
    most: int
    going_on: bool
    moves: int = 0
    accepted: float = 1.0
    size: float = 0.35
    worth: float = 0.0

    def on(self, cloud: _Cloud, weights: Numbers, at: float) -> _Cloud:
        """Resample to the density `at` and move there."""
        end = at >= 1.0
        n = self.most if end else cloud.z.shape[1]
        scale = _scale(cloud.z, weights)
        ancestors = systematic(weights, self.rng, n)
        siblings = float((np.bincount(ancestors) ** 2.0).sum() / n)
        cloud = cloud.chosen(ancestors)
        begun = cloud.z.copy()
        for move in range(MOST_MOVES):
            cloud, self.accepted, self.size = _trajectory(
                cloud, self.first, self.last, at, scale, self.size, self.rng
            )
            self.moves += 1
            kept = _kept(begun, cloud.z)
            self.worth = n / (1.0 + kept * (siblings - 1.0))
            if not end and kept < FORGOTTEN:
                break
            if end and self.going_on and self.worth > WORTH * n:
                break
            if end and move >= 2 and kept < SURELY and self.worth > WORTH * n:
                break
        return cloud


def _scale(z: Numbers, weights: Numbers) -> Numbers:
    """Lower triangle that scales the trajectories, from the particles' own covariance."""
    d = z.shape[0]
    covariance = np.atleast_2d(np.cov(z, aweights=weights))
    spread = np.sqrt(np.maximum(np.diag(covariance), 1e-8))
    shrunk = 0.95 * covariance + 0.05 * np.diag(spread**2)
    return np.asarray(np.linalg.cholesky(shrunk + 1e-10 * np.eye(d)), dtype=np.float64)


def _kept(before: Numbers, after: Numbers) -> float:
    """Squared correlation with where the particles came from: the 90 % point over coordinates."""
    a = before - before.mean(axis=1, keepdims=True)
    b = after - after.mean(axis=1, keepdims=True)
    both = (a * b).mean(axis=1) / np.sqrt((a * a).mean(axis=1) * (b * b).mean(axis=1) + 1e-12)
    return float(np.quantile(both**2, 0.9))


def _trajectory(
    cloud: _Cloud, first: Slope, last: Slope, at: float, scale: Numbers, size: float,
    rng: np.random.Generator,
) -> tuple[_Cloud, float, float]:  # fmt: skip
    """One Hamiltonian trajectory of every particle (Duane et al. 1987, Phys Lett B 195:216).

    Returns the cloud, the share accepted, and the step for the next one.
    """
    n = cloud.z.shape[1]
    step = size * float(rng.uniform(0.8, 1.2))
    push = rng.standard_normal(cloud.z.shape)
    blind = at >= 1.0
    now, z = cloud, cloud.z
    energy = _mixed(cloud, at)[0] - 0.5 * (push * push).sum(axis=0)
    p = push + 0.5 * step * (scale.T @ _mixed(cloud, at)[1])
    with np.errstate(all="ignore"):
        for i in range(STEPS):
            z = np.clip(z + step * (scale @ p), -30.0, 30.0)
            now = _Cloud(z, cloud.first if blind else first(z), last(z))
            half = 0.5 if i == STEPS - 1 else 1.0
            p = p + half * step * (scale.T @ _mixed(now, at)[1])
        after = _mixed(now, at)[0] - 0.5 * (p * p).sum(axis=0)
        taken = np.log(rng.random(n)) < after - energy
    taken &= np.isfinite(after)
    share = float(taken.mean())

    def pick(new: tuple[Numbers, Numbers], old: tuple[Numbers, Numbers]) -> tuple[Numbers, Numbers]:
        return np.where(taken, new[0], old[0]), np.where(taken, new[1], old[1])

    merged = _Cloud(np.where(taken, z, cloud.z), pick(now.first, cloud.first),
                    pick(now.last, cloud.last))  # fmt: skip
    return merged, share, float(np.clip(size * np.exp(1.2 * (share - 0.75)), 0.02, 0.8))


def _mixed(cloud: _Cloud, at: float) -> tuple[Numbers, Numbers]:
    """Value and slope on the path between the two densities."""
    if at >= 1.0:
        return cloud.last
    return ((1 - at) * cloud.first[0] + at * cloud.last[0],
            (1 - at) * cloud.first[1] + at * cloud.last[1])  # fmt: skip


def normal(guess: Laplace, wider: float = WIDER) -> tuple[Slope, Numbers]:
    """A widened normal about a Laplace mode: its log-density with slope, and its square root."""
    widened = wider**2 * guess.covariance + 1e-10 * np.eye(guess.mode.size)
    root = np.asarray(np.linalg.cholesky(widened), dtype=np.float64)
    inverse = np.linalg.inv(root)
    precision = inverse.T @ inverse

    def density(z: Numbers) -> tuple[Numbers, Numbers]:
        off = z - guess.mode[:, None]
        slope = -precision @ off
        return 0.5 * (off * slope).sum(axis=0), slope

    return density, root


def started(guess: Slope, size: int, n: int, rng: np.random.Generator) -> tuple[Slope, Numbers]:
    """A start: a density and particles of it, from the Laplace approximation of a guess."""
    found = laplace(guess, np.zeros(size))
    density, root = normal(found)
    return density, found.mode[:, None] + root @ rng.standard_normal((size, n))
