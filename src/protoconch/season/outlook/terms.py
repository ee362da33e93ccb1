"""What stays the same while the particles of a likelihood move: tables, clocks, sums."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.interpolate import CubicSpline
from scipy.sparse import csr_array
from scipy.special import logit, ndtri

from protoconch.season.model.beliefs import Beliefs
from protoconch.season.outlook.clumping import clumping_spline
from protoconch.season.outlook.laid_out import LaidOut, Measures
from protoconch.season.outlook.unknowns import BIAS, CLUMPING, SEEN, Site
from protoconch.season.outlook.water import Water

Numbers = NDArray[np.float64]
SURVIVALS = ("veliger.survival", "post_larva.survival", "small_juvenile.survival",
             "juvenile.survival")  # fmt: skip


@dataclass(frozen=True, slots=True)
class Maps:
    """How ln(number) of every pair is put together, as sparse tables, with their transposes.

    before: from (mortality of each lot and stage, coordinates, ln of the competent share) up to
    the trays; after: from (mortality, ln of the settled share) on. placed: pairs that pass trays.
    """

    before: csr_array
    after: csr_array
    before_t: csr_array
    after_t: csr_array
    placed: NDArray[np.intp]


def _maps(layout: LaidOut, size: int) -> Maps:
    p, lots = layout.pairs, len(layout.keys)
    every = np.arange(p.lot.size)
    nursed = p.until - p.entered
    first = [(every, 4 * p.lot, -p.larval), (every, 4 * lots + p.number, p.base_sd)]
    first.append((every[p.placed], 4 * lots + size + 1 + p.lot[p.placed], np.ones(p.placed.sum())))
    then = [(every, 4 * p.lot + 1, -p.tray), (every, 4 * p.lot + 3, -nursed)]
    then.append((every[p.settled], 4 * lots + p.lot[p.settled], np.ones(p.settled.sum())))

    def table(parts: list[tuple[NDArray[np.intp], NDArray[np.intp], Numbers]],
              width: int) -> csr_array:  # fmt: skip
        rows, columns, values = (np.concatenate(x) for x in zip(*parts, strict=True))
        made = csr_array((values, (rows, columns)), shape=(every.size, width))
        made.eliminate_zeros()
        return made

    before = table(first, 4 * lots + size + 1 + lots)
    after = table(then, 5 * lots)
    return Maps(before, after, before.T.tocsr(), after.T.tocsr(), np.flatnonzero(p.placed))


def _to_batch(layout: LaidOut, batch: NDArray[np.intp]) -> csr_array:
    """Sums over what belongs to each batch, (batches, things)."""
    things = np.arange(batch.size)
    return csr_array((np.ones(batch.size), (batch, things)),
                     shape=(len(layout.codes), batch.size))  # fmt: skip


@dataclass(slots=True)
class Rates:
    """Unknowns as the formulas need them, each (n,) unless said; every one has a gradient."""

    mortality: Numbers  # ln per day, (4, n)
    batch_sd: Numbers
    tank_sd: Numbers
    log_q10: Numbers
    egg_days: Numbers  # ln, and so on
    egg_mortality: Numbers
    larval_days: Numbers
    settle: Numbers  # logit
    growth: Numbers
    spread: Numbers
    log_k: Numbers
    bias: Numbers
    seen: Numbers  # ln


class Terms:
    """All that a likelihood needs and that does not depend on the particles."""

    def __init__(self, layout: LaidOut, site: Site, beliefs: Beliefs, water: Water,
                 measures: Measures) -> None:  # fmt: skip
        """Work out all that does not depend on the particles."""
        self.layout, self.site, self.beliefs, self.water = layout, site, beliefs, water
        self.measures = measures
        self.size = layout.coordinates.size
        self.volume_error = measures.number("count.volume_error")
        self.day_spread = measures.number("hatch.day_spread")
        self.hatch_error = measures.number("hatch.count_error")
        self.start_z = float(ndtri(beliefs.competent_at_induction))
        self.weights = np.ones(len(layout.observations))
        self.middle_clock = (
            water.moments
            @ water.powers(np.log(np.array([beliefs.uncertain["incubation.q10"].number])))[:, 0]
        )
        pairs, n_obs = layout.pairs, len(layout.observations)
        lots = len(layout.keys)
        p = pairs.lot.size
        one = np.ones(p)
        self.to_lot = csr_array((one, (pairs.lot, np.arange(p))), shape=(lots, p))
        self.to_batch = _to_batch(layout, layout.lot_batch[pairs.lot])
        self.maps = _maps(layout, self.size)
        row = np.full(n_obs, -1)
        row[layout.counts.observation] = np.arange(layout.counts.observation.size)
        self.pair_count = row[pairs.observation]
        self.to_count = csr_array(
            (one, (self.pair_count, np.arange(p))), shape=(layout.counts.observation.size, p)
        )
        reached = np.minimum(layout.induced, water.moments.shape[0] - 1)
        hatched = layout.hatched
        self.to_induced = water.between(np.minimum(hatched, reached), reached)
        ends = pairs.until.astype(np.intp)
        self.nursing = np.flatnonzero(pairs.until > pairs.entered)
        grown = (pairs.induced[self.nursing], ends[self.nursing])
        self.to_end = water.between(*grown)
        self.middle = (self.middle_clock[grown[0]], self.middle_clock[grown[1]])
        lengths, shares, hatches = layout.lengths, layout.shares, layout.hatches
        since = np.where(lengths.settled, layout.induced[lengths.lot], hatched[lengths.lot])
        self.to_measured = water.between(since, lengths.day)
        self.to_checked = water.between(hatched[shares.lot], shares.day)
        self.to_hatch = (water.between(hatches.started, np.maximum(hatches.hatched - 1, 0)),
                         water.between(hatches.started, hatches.hatched))  # fmt: skip
        self.length_batch = _to_batch(layout, layout.lot_batch[lengths.lot])
        self.share_batch = _to_batch(layout, layout.lot_batch[shares.lot])
        self.lot_batch = _to_batch(layout, layout.lot_batch)
        self.hatch_batch = _to_batch(layout, hatches.batch)
        self._curve: CubicSpline | None = None

    def rates(self, values: dict[str, Numbers]) -> Rates:
        """From unknowns in the trade's units to what the formulas need."""
        b = self.beliefs
        corners = b.path.days
        days = (b.veliger_survival_days, *(corners[1:] - corners[:-1]))
        log_q10 = np.log(values["incubation.q10"])
        mortality = np.stack([np.log(-np.log(values[name]) / d)
                              for name, d in zip(SURVIVALS, days, strict=True)])  # fmt: skip
        return Rates(
            mortality=mortality,
            batch_sd=values["variation.batch"], tank_sd=values["variation.tank"],
            log_q10=log_q10,
            egg_days=np.log(values["incubation.days"])
            + log_q10 * (b.incubation_c - b.growth_c) / 10,
            egg_mortality=np.log(-np.log(values["incubation.hatch_share"])),
            larval_days=np.log(values["competence_days"])
            + log_q10 * (b.veliger_c - b.growth_c) / 10,
            settle=logit(values["settlement.metamorphosis_share"]),
            growth=np.log(values["variation.growth_site"]),
            spread=np.sqrt(np.log1p(values["growth.size_cv"] ** 2)),
            log_k=np.log(values[CLUMPING]), bias=values[BIAS], seen=np.log(values[SEEN]),
        )  # fmt: skip

    def chained(self, g: Rates, values: dict[str, Numbers], slopes: Numbers,
                rates: Rates) -> Numbers:  # fmt: skip
        """Gradient over the site's coordinates from the gradient over its rates, (site, n)."""
        b, v = self.beliefs, values
        log_q10 = g.log_q10 + g.egg_days * (b.incubation_c - b.growth_c) / 10
        log_q10 = log_q10 + g.larval_days * (b.veliger_c - b.growth_c) / 10
        share, hatch, cv = (v["settlement.metamorphosis_share"], v["incubation.hatch_share"],
                            v["growth.size_cv"])  # fmt: skip
        by_value = {
            "incubation.days": g.egg_days / v["incubation.days"],
            "incubation.q10": log_q10 / v["incubation.q10"],
            "incubation.hatch_share": g.egg_mortality / (hatch * np.log(hatch)),
            "competence_days": g.larval_days / v["competence_days"],
            "settlement.metamorphosis_share": g.settle / (share * (1 - share)),
            "variation.growth_site": g.growth / v["variation.growth_site"],
            "growth.size_cv": g.spread * cv / ((1 + cv**2) * rates.spread),
            "variation.batch": g.batch_sd, "variation.tank": g.tank_sd,
            CLUMPING: g.log_k / v[CLUMPING], BIAS: g.bias, SEEN: g.seen / v[SEEN],
        }  # fmt: skip
        for s, name in enumerate(SURVIVALS):
            by_value[name] = g.mortality[s] / (v[name] * np.log(v[name]))
        return np.stack([by_value[name] for name in self.site.names]) * slopes

    def weigh(self, weights: Numbers) -> None:
        """Let every observation count for so much, (observations,); 1 is in full."""
        self.weights = weights
        self._curve = None

    def curve(self) -> CubicSpline:
        """Clumping's own terms as a spline over ln k, for the weights in force."""
        counts = self.layout.counts
        if self._curve is None:
            self._curve = clumping_spline(counts.curve, self.weights[counts.observation])
        return self._curve
