"""What an outlook does not know, each as a standard normal with a name.

A coordinate z has the prior N(0, 1); its value in the trade's unit is read from a table of the
prior's quantiles, so every prior shape (pert, beta, lognormal) is handled the same way.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray
from scipy.special import betaincinv, ndtr

from protoconch.season.model.beliefs import UNCERTAIN, Beliefs, spread_parameters
from protoconch.sources.values import SourcedValue

Numbers = NDArray[np.float64]
NODES = np.linspace(-6.0, 6.0, 2401)
CLUMPING, BIAS, SEEN = "count.clumping_k", "count.aliquot_bias", "count.dead_seen_share"
BATCH_EFFECTS = ("quality", "growth", "period", "settle")
STAGE_EFFECTS = ("veliger", "post-larva", "small juvenile", "juvenile")


@dataclass(frozen=True, slots=True)
class Table:
    """Value and slope of one unknown over NODES; spread False where it is known exactly."""

    values: Numbers
    slopes: Numbers
    spread: bool

    def at(self, z: Numbers) -> Numbers:
        """Value at z [unit], same shape."""
        return np.asarray(np.interp(z, NODES, self.values))

    def slope(self, z: Numbers) -> Numbers:
        """Change of the value with z, same shape: that of the straight piece z lies in."""
        step = NODES[1] - NODES[0]
        piece = np.clip(((z - NODES[0]) / step).astype(np.intp), 0, NODES.size - 2)
        inside = (z >= NODES[0]) & (z < NODES[-1])
        return np.asarray(np.where(inside, self.slopes[piece], 0.0))


def table(value: SourcedValue) -> Table:
    """Quantiles of a sourced value's belief."""
    a, b, low, width = spread_parameters(value)
    if width == 0.0:
        values = np.full(NODES.size, low)
    elif value.shape == "lognormal" and value.low and value.high:
        sd = np.log(value.high / value.low) / (2 * 1.6449)
        values = value.number * np.exp(sd * NODES)
    else:
        values = low + width * betaincinv(a, b, ndtr(NODES))
    return Table(values, np.diff(values) / np.diff(NODES), width > 0.0)


@dataclass(frozen=True, slots=True)
class Looked:
    """Values and slopes of all of a site's unknowns at some z, (names, n) each."""

    names: tuple[str, ...]
    at: Numbers
    slopes: Numbers

    @property
    def by_name(self) -> dict[str, Numbers]:
        """The values by name, (n,) each."""
        return dict(zip(self.names, self.at, strict=True))


@dataclass(frozen=True)
class Site:
    """The site's unknowns: names in order and their tables, counting's own included."""

    names: tuple[str, ...]
    tables: tuple[Table, ...]

    @cached_property
    def _stacked(self) -> tuple[Numbers, Numbers, NDArray[np.intp]]:
        """All tables one after the other, their slopes with none after the last, their starts."""
        values = np.stack([table.values for table in self.tables])
        slopes = np.stack([np.append(table.slopes, 0.0) for table in self.tables])
        starts = np.arange(len(self.tables), dtype=np.intp)[:, None] * NODES.size
        return values.ravel(), slopes.ravel(), starts

    def look(self, z: Numbers) -> Looked:
        """Every unknown's value and slope; z: (len(names), n)."""
        values, slopes, starts = self._stacked
        step = NODES[1] - NODES[0]
        along = np.clip((z - NODES[0]) / step, 0.0, NODES.size - 1.0)
        piece = along.astype(np.intp)
        at = piece + starts
        slope = slopes.take(at)
        found = values.take(at) + slope * ((along - piece) * step)
        slope[z < NODES[0]] = 0.0
        return Looked(self.names, found, slope)

    def values(self, z: Numbers) -> dict[str, Numbers]:
        """Every unknown's value; z: (len(names), n)."""
        return self.look(z).by_name


def site(beliefs: Beliefs, counting: Mapping[str, SourcedValue]) -> Site:
    """The unknowns of a site. counting: sources/tables/outlook.toml."""
    names = (*UNCERTAIN, CLUMPING, SEEN, BIAS)
    made = [table(beliefs.uncertain[name]) for name in UNCERTAIN]
    made += [table(counting[CLUMPING]), table(counting[SEEN])]
    sd = counting[BIAS].number
    made.append(Table(sd * NODES, np.full(NODES.size - 1, sd), spread=True))
    return Site(names, tuple(made))


@dataclass(frozen=True, slots=True)
class Coordinates:
    """Names of all coordinates of a fit, in order: the site's, then batches', tanks', numbers'."""

    names: tuple[str, ...]
    site: int

    @property
    def size(self) -> int:
        """Number of coordinates."""
        return len(self.names)

    def index(self) -> dict[str, int]:
        """Place of each name."""
        return {name: i for i, name in enumerate(self.names)}


def carried(
    z: Numbers, old: Sequence[str], new: Sequence[str], rng: np.random.Generator
) -> Numbers:
    """Particles laid out for other coordinates: known names keep their values, new are drawn.

    z: (len(old), n). Returns (len(new), n). Exact, since a coordinate that no observation had
    touched still has its prior.
    """
    place = {name: i for i, name in enumerate(old)}
    laid = rng.standard_normal((len(new), z.shape[1]))
    for i, name in enumerate(new):
        if name in place:
            laid[i] = z[place[name]]
    return laid
