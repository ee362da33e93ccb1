"""One comparison of particles with a log: each term with its derivative beside it."""

import numpy as np
from numpy.typing import NDArray
from scipy.special import expit, log_expit, log_ndtr, ndtr

from protoconch.season.outlook.clumping import LOG_K, effective_size
from protoconch.season.outlook.terms import Rates, Terms
from protoconch.season.outlook.unknowns import Looked

Numbers = NDArray[np.float64]
SURE = 6.0
"""Standard deviations beyond which a share is taken as all or none but one in a milliard."""


def _log_density(x: Numbers) -> Numbers:
    """Ln of the standard normal density."""
    return np.asarray(-0.5 * x * x - 0.5 * np.log(2 * np.pi))


class Evaluation:
    """One evaluation: the values on the way are kept for the way back."""

    def __init__(self, of: Terms, z: Numbers, looked: Looked | None = None) -> None:
        """Take up particles z of shape (coordinates, n). looked: the site's unknowns at z."""
        self.of, self.z = of, z
        self.looked = looked or of.site.look(z[: len(of.site.names)])
        self.slots: dict[str, Numbers] = {}
        self.log_mean = self.count_size = np.zeros((0, z.shape[1]))

    def value(self) -> Numbers:
        """Log-likelihood, (n,)."""
        of, layout = self.of, self.of.layout
        n = self.z.shape[1]
        self.padded = np.concatenate([self.z, np.zeros((1, n))])
        self.values_ = self.looked.by_name
        r = self.rates = of.rates(self.values_)
        self.powers = of.water.powers(r.log_q10)
        effects = self.padded[layout.effects]
        b = of.beliefs
        self.quality = effects[:, 0]
        self.log_growth = r.growth + b.growth_batch_sd * effects[:, 1]
        self.log_period = r.larval_days + b.period_batch_sd * effects[:, 2]
        self.settle = r.settle + b.metamorphosis_sd * effects[:, 3]
        own = layout.lot_batch
        self.v = self.padded[layout.stages]
        log_h = r.mortality[None] + (r.batch_sd * self.quality[own])[:, None]
        self.h = np.exp(log_h + r.tank_sd * self.v)
        total = self._numbers() + self._lengths() + self._shares() + self._hatches()
        return np.asarray(total)

    def _numbers(self) -> Numbers:
        of, p, r = self.of, self.of.layout.pairs, self.rates
        counts, n = of.layout.counts, self.z.shape[1]
        if not counts.total.size:
            return np.zeros(n)
        own = of.layout.lot_batch
        progress = of.to_induced @ self.powers
        self.ahead = np.log(np.maximum(progress, 1e-9)) - self.log_period[own]
        self.ahead = self.ahead / of.beliefs.competence_spread + of.start_z
        self.progress = progress
        competent, settled = log_ndtr(self.ahead), log_expit(self.settle)[own]
        h = self.h.reshape(-1, n)
        log_n = of.maps.before @ np.concatenate([h, self.padded, competent])
        log_n += p.base[:, None]
        at = of.maps.placed
        reached, cap = log_n[at], p.cap[at][:, None]
        self.full = reached > cap
        log_n[at] = np.where(self.full, cap, reached)
        log_n += of.maps.after @ np.concatenate([h, settled])
        at = of.nursing
        if at.size:
            self._small_days()
            small, large = self.h[:, 2], self.h[:, 3]
            log_n[at] -= (small - large)[p.lot[at]] * self.small
        self.n_each = np.exp(log_n)
        self.n_each *= p.sign[:, None]
        self.number = np.maximum(of.to_count @ self.n_each, 1e-9)
        part = np.exp(counts.log_part)[:, None]
        factor = np.where(counts.aliquots[:, None] > 0, np.exp(r.bias), 1.0)
        factor = np.where(counts.dead[:, None], np.exp(r.seen), factor)
        mean = self.number * part * factor
        log_mean = np.log(mean)
        k = np.exp(r.log_k)
        m = np.maximum(counts.aliquots, 1.0)[:, None]
        estimated = counts.aliquots[:, None] > 0
        size = np.where(estimated, effective_size(k, m, of.volume_error), counts.size[:, None])
        self.log_mean, self.count_size = log_mean, size
        both = np.log(mean + size)
        y, w = counts.total[:, None], of.weights[counts.observation][:, None]
        log_size, ratio = np.log(size), 1.0 / (mean + size)
        fixed = size * log_size - (y + size) * both + y * log_mean
        self.g_count = w * size * (y - mean) * ratio
        some = counts.aliquots > 0
        d_size = (log_size + 1 - both - (y + size) * ratio)[some]
        self.g_log_k = (w[some] * d_size * size[some] ** 2 / (m[some] * k)).sum(axis=0)
        curve = of.curve()
        at_k = np.clip(r.log_k, LOG_K[0], LOG_K[-1])
        self.g_log_k += curve(at_k, 1)
        return np.asarray((w * fixed).sum(axis=0) + curve(at_k))

    def _small_days(self) -> None:
        """Days in the small and in the large class of the nursery, and the change of the first."""
        of, p, at = self.of, self.of.layout.pairs, self.of.nursing
        grown = of.to_end @ self.powers
        own = of.layout.lot_batch[p.lot[at]]
        needed = of.beliefs.small_juvenile_days * np.exp(-self.log_growth[own])
        first, last = of.middle[0][:, None], of.middle[1][:, None]
        part = needed / np.maximum(grown, 1e-9)
        days = np.arange(of.middle_clock.size, dtype=np.float64)
        goal = first + part * (last - first)
        turn = np.interp(goal, of.middle_clock, days)
        entered, until = p.entered[at][:, None], p.until[at][:, None]
        self.small = np.clip(turn - entered, 0.0, until - entered)
        inside = (turn > entered) & (turn < until)
        piece = np.clip(turn.astype(np.intp), 0, days.size - 2)
        rate = np.diff(of.middle_clock)[piece]
        self.g_turn = np.where(inside, part * (last - first) / rate, 0.0)
        self.grown_end = grown

    def _lengths(self) -> Numbers:
        of, t, r = self.of, self.of.layout.lengths, self.rates
        if not t.lot.size:
            return np.zeros(self.z.shape[1])
        grown = np.maximum(of.to_measured @ self.powers, 1e-6)
        own = of.layout.lot_batch[t.lot]
        settled = t.settled[:, None]
        young, old = of.measures.hatch_mm, of.measures.competent_mm
        share = grown / np.exp(self.log_period[own])
        length = young + (old - young) * share
        mean = np.where(settled, np.log(grown) + self.log_growth[own], np.log(length))
        scale = np.where(settled, r.spread, of.beliefs.competence_spread * np.minimum(share, 1.3))
        still = (np.exp(t.mean)[:, None] - young) / (old - young)
        fixed = of.beliefs.competence_spread * np.clip(still, 0.05, 1.3)
        scale = np.where(settled, r.spread, fixed)
        animals = t.animals[:, None]
        variance = scale**2 / animals + t.error[:, None] ** 2
        off = t.mean[:, None] - mean
        w = of.weights[t.observation][:, None]
        told = settled & np.isfinite(t.squares)[:, None]
        squares = np.nan_to_num(t.squares)[:, None]
        value = -0.5 * off**2 / variance - np.where(settled, 0.5 * np.log(variance), 0.0)
        value += np.where(told, -(animals - 1) * np.log(r.spread) - squares / 2 / r.spread**2, 0.0)
        g_mean = w * off / variance
        g_var = np.where(settled, 0.5 * off**2 / variance**2 - 0.5 / variance, 0.0)
        g_spread = g_var * 2 * r.spread / animals
        g_spread += np.where(told, -(animals - 1) / r.spread + squares / r.spread**3, 0.0)
        larval = (old - young) * share / length
        self.slots["length.grown"] = g_mean * np.where(settled, 1.0, larval) / grown
        self.slots["length.growth"] = np.where(settled, g_mean, 0.0)
        self.slots["length.period"] = np.where(settled, 0.0, -g_mean * larval)
        self.slots["length.spread"] = (w * np.where(settled, g_spread, 0.0)).sum(axis=0)
        return np.asarray((w * value).sum(axis=0))

    def _shares(self) -> Numbers:
        of, t = self.of, self.of.layout.shares
        if not t.lot.size:
            return np.zeros(self.z.shape[1])
        own = of.layout.lot_batch[t.lot]
        grown = np.maximum(of.to_checked @ self.powers, 1e-6)
        spread = of.beliefs.competence_spread
        u = (np.log(grown) - self.log_period[own]) / spread + of.start_z
        y, m = t.found[:, None], t.looked_at[:, None]
        w = of.weights[t.observation][:, None]
        chosen, settling = self.settle[own], t.settling[:, None]
        share = ndtr(np.clip(u, -SURE, SURE))
        share[t.settling] = expit(chosen[t.settling])
        density = np.exp(-0.5 * u * u) / np.sqrt(2 * np.pi)
        g_u = density * (y / share - (m - y) / (1.0 - share))
        g_u = np.where(settling, 0.0, w * g_u / spread)
        self.slots["share.grown"], self.slots["share.period"] = g_u / grown, -g_u
        self.slots["share.settle"] = np.where(settling, w * (y - m * expit(chosen)), 0.0)
        return np.asarray((w * (y * np.log(share) + (m - y) * np.log1p(-share))).sum(axis=0))

    def _hatches(self) -> Numbers:
        of, t, r = self.of, self.of.layout.hatches, self.rates
        if not t.batch.size:
            return np.zeros(self.z.shape[1])
        mornings = np.isnan(t.log_share)[:, None]
        w, sd = of.weights[t.observation][:, None], of.day_spread
        before, after = (np.maximum(c @ self.powers, 1e-12) for c in of.to_hatch)
        a, b = ((np.log(x) - r.egg_days) / sd for x in (before, after))
        mirrored = (a + b) > 0
        low, high = np.where(mirrored, -b, a), np.where(mirrored, -a, b)
        top = log_ndtr(high)
        inside = top + np.log1p(-np.exp(np.minimum(log_ndtr(low) - top, -1e-12)))
        up, down = np.exp(_log_density(b) - inside), np.exp(_log_density(a) - inside)
        self.slots["hatch.after"] = np.where(mornings, w * up / sd / after, 0.0)
        self.slots["hatch.before"] = np.where(mornings, -w * down / sd / before, 0.0)
        self.slots["hatch.days"] = np.where(mornings, -w * (up - down) / sd, 0.0).sum(axis=0)
        dying = np.exp(r.egg_mortality + r.batch_sd * self.quality[t.batch])
        off = (np.nan_to_num(t.log_share)[:, None] + dying) / of.hatch_error
        self.slots["hatch.dying"] = np.where(mornings, 0.0, -w * off / of.hatch_error * dying)
        return np.asarray((w * np.where(mornings, inside, -0.5 * off**2)).sum(axis=0))

    def gradient(self) -> Numbers:
        """Gradient over all coordinates, (coordinates, n); call `value` first."""
        of, layout, r = self.of, self.of.layout, self.rates
        n, batches = self.z.shape[1], len(layout.codes)
        zero = np.zeros(n)
        g = Rates(np.zeros((4, n)), *(zero.copy() for _ in range(12)))
        padded = np.zeros((of.size + 1, n))
        growth, period, settle, quality = (np.zeros((batches, n)) for _ in range(4))
        slope = of.water.slopes(self.powers)
        if layout.counts.total.size:
            self._back_numbers(g, padded, growth, period, settle, quality, slope)
        t = layout.lengths
        if t.lot.size:
            growth += of.length_batch @ self.slots["length.growth"]
            period += of.length_batch @ self.slots["length.period"]
            g.log_q10 += (self.slots["length.grown"] * (of.to_measured @ slope)).sum(axis=0)
            g.spread += self.slots["length.spread"]
        s = layout.shares
        if s.lot.size:
            period += of.share_batch @ self.slots["share.period"]
            settle += of.share_batch @ self.slots["share.settle"]
            g.log_q10 += (self.slots["share.grown"] * (of.to_checked @ slope)).sum(axis=0)
        if layout.hatches.batch.size:
            g.egg_days += self.slots["hatch.days"]
            for when, to in zip(("hatch.before", "hatch.after"), of.to_hatch, strict=True):
                g.log_q10 += (self.slots[when] * (to @ slope)).sum(axis=0)
            dying = self.slots["hatch.dying"]
            g.egg_mortality += dying.sum(axis=0)
            which = layout.hatches.batch
            g.batch_sd += (dying * self.quality[which]).sum(axis=0)
            quality += of.hatch_batch @ (dying * r.batch_sd)
        g.growth, g.larval_days, g.settle = (x.sum(axis=0) for x in (growth, period, settle))
        b = of.beliefs
        scaled = (quality, b.growth_batch_sd * growth, b.period_batch_sd * period,
                  b.metamorphosis_sd * settle)  # fmt: skip
        for column, part in enumerate(scaled):
            padded[layout.effects[:, column]] += part
        padded[: len(of.site.names)] += of.chained(g, self.values_, self.looked.slopes, r)
        return padded[:-1]

    def _back_numbers(self, g: Rates, padded: Numbers, growth: Numbers, period: Numbers,
                      settle: Numbers, quality: Numbers, slope: Numbers) -> None:  # fmt: skip
        of, layout, p, r = self.of, self.of.layout, self.of.layout.pairs, self.rates
        own, counts = layout.lot_batch, layout.counts
        g.log_k += self.g_log_k
        estimated = counts.aliquots[:, None] > 0
        g.bias += np.where(estimated, self.g_count, 0.0).sum(axis=0)
        g.seen += np.where(counts.dead[:, None], self.g_count, 0.0).sum(axis=0)
        each = (self.g_count / self.number)[of.pair_count] * self.n_each
        free = each.copy()
        free[of.maps.placed] = np.where(self.full, 0.0, each[of.maps.placed])
        lots, n = len(layout.keys), self.z.shape[1]
        back = of.maps.before_t @ free
        on = of.maps.after_t @ each
        padded += back[4 * lots : 4 * lots + of.size + 1]
        placed, settled = back[4 * lots + of.size + 1 :], on[4 * lots :]
        g_h = (back[: 4 * lots] + on[: 4 * lots]).reshape(lots, 4, n)
        at = of.nursing
        if at.size:
            by_lot = of.to_lot[:, at] @ (each[at] * self.small)
            g_h[:, 2] -= by_lot
            g_h[:, 3] += by_lot
            difference = (self.h[:, 2] - self.h[:, 3])[p.lot[at]]
            turn = -each[at] * difference * self.g_turn
            growth += of.to_batch[:, at] @ -turn
            g.log_q10 -= (turn * (of.to_end @ slope) / np.maximum(self.grown_end, 1e-9)).sum(axis=0)
        ahead = placed * np.exp(_log_density(self.ahead) - log_ndtr(self.ahead))
        ahead /= of.beliefs.competence_spread
        period -= of.lot_batch @ ahead
        g.log_q10 += (ahead * (of.to_induced @ slope) / np.maximum(self.progress, 1e-9)).sum(axis=0)
        settle += of.lot_batch @ (settled * expit(-self.settle[own]))
        g_log_h = g_h * self.h
        g.mortality += g_log_h.sum(axis=0)
        g.tank_sd += (g_log_h * self.v).sum(axis=(0, 1))
        by_stage = g_log_h.sum(axis=1)
        g.batch_sd += (by_stage * self.quality[own]).sum(axis=0)
        quality += of.lot_batch @ (by_stage * r.batch_sd)
        there = layout.stages < of.size
        padded[layout.stages[there]] += g_log_h[there] * r.tank_sd
