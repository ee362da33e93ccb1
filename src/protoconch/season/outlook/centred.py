"""The log-posterior in coordinates in which its ridges are straight.

Counts tell the mortality of a lot directly, not how much of it is the site's, the batch's or the
tank's. So where a lot was counted as larvae or on trays, its tank effect is replaced by the ln of
its mortality itself; the posterior is the same, by the rule for a change of variables.
"""

import numpy as np
from numpy.typing import NDArray

from protoconch.season.outlook.likelihood import SURVIVALS, Likelihood

Numbers = NDArray[np.float64]
CENTRED = (0, 1)
"""Stages of which counts tell much: larvae and trays."""
EDGE = 5.9


class Centred:
    """Log-posterior over centred coordinates y, one for each coordinate z."""

    def __init__(self, likelihood: Likelihood) -> None:
        """Find the tank effects that are to be replaced."""
        self.of = likelihood
        layout, site = likelihood.layout, likelihood.site
        names = {name: i for i, name in enumerate(site.names)}
        self.survival = [names[name] for name in SURVIVALS]
        self.batch_sd, self.tank_sd = names["variation.batch"], names["variation.tank"]
        found = [
            (int(layout.stages[lot, stage]), stage, int(layout.effects[batch, 0]))
            for lot, batch in enumerate(layout.lot_batch) for stage in CENTRED
            if layout.stages[lot, stage] < likelihood.size
        ]  # fmt: skip
        table = np.array(found, dtype=np.intp).reshape(-1, 3)
        self.tank, self.stage, self.quality = table.T
        middle = np.zeros((len(site.names), 1))
        level, _, _, tank_sd = self._rates(middle)
        self.level, self.scale = level[:, 0], float(tank_sd[0])

    def _rates(self, site_z: Numbers) -> tuple[Numbers, Numbers, Numbers, Numbers]:
        """Ln of the site's mortality (4, n), its change, and the spreads of batch and tank."""
        tables = self.of.site.tables
        values = np.stack([tables[i].at(site_z[i]) for i in self.survival])
        slopes = np.stack([tables[i].slope(site_z[i]) for i in self.survival])
        days = np.array([self.of.beliefs.veliger_survival_days,
                         *np.diff(self.of.beliefs.path.days)])[:, None]  # fmt: skip
        return (np.log(-np.log(values) / days), slopes / (values * np.log(values)),
                tables[self.batch_sd].at(site_z[self.batch_sd]),
                tables[self.tank_sd].at(site_z[self.tank_sd]))  # fmt: skip

    def straight(self, z: Numbers) -> Numbers:
        """Centred coordinates of z, (d, n)."""
        y = z.copy()
        level, _, batch_sd, tank_sd = self._rates(z[: len(self.of.site.names)])
        log_h = level[self.stage] + batch_sd * z[self.quality] + tank_sd * z[self.tank]
        y[self.tank] = (log_h - self.level[self.stage][:, None]) / self.scale
        return y

    def plain(self, y: Numbers) -> Numbers:
        """Coordinates z of centred ones, (d, n)."""
        level, _, batch_sd, tank_sd = self._rates(y[: len(self.of.site.names)])
        return self._plain(y, level, batch_sd, tank_sd)

    def _plain(self, y: Numbers, level: Numbers, batch_sd: Numbers, tank_sd: Numbers) -> Numbers:
        z = y.copy()
        log_h = self.level[self.stage][:, None] + self.scale * y[self.tank]
        z[self.tank] = (log_h - level[self.stage] - batch_sd * z[self.quality]) / tank_sd
        return z

    def guessed(self, y: Numbers) -> tuple[Numbers, Numbers]:
        """The log-posterior as it is over z, at these y: its top lies in no narrow funnel."""
        value, slope = self(y)
        table = self.of.site.tables[self.tank_sd]
        tank_sd = table.at(y[self.tank_sd])
        value -= self.tank.size * np.log(self.scale / tank_sd)
        slope[self.tank_sd] += self.tank.size / tank_sd * table.slope(y[self.tank_sd])
        return value, slope

    def __call__(self, y: Numbers) -> tuple[Numbers, Numbers]:
        """Log-posterior (n,) and its gradient over y, (d, n)."""
        site = len(self.of.site.names)
        level, d_level, batch_sd, tank_sd = self._rates(y[:site])
        z = self._plain(y, level, batch_sd, tank_sd)
        value, slope = self.of.with_slope(z)
        outside = np.maximum(np.abs(y[:site]) - EDGE, 0.0)
        value = value - 0.5 * (z * z).sum(axis=0) - 1e3 * (outside**2).sum(axis=0)
        value = value + self.tank.size * np.log(self.scale / tank_sd)
        slope -= z
        slope[:site] -= 2e3 * outside * np.sign(y[:site])
        at = slope[self.tank] / tank_sd
        slope[self.tank] = at * self.scale
        for stage in CENTRED:
            mine = self.stage == stage
            slope[self.survival[stage]] -= at[mine].sum(axis=0) * d_level[stage]
        tables = self.of.site.tables
        np.add.at(slope, self.quality, -at * batch_sd)
        by_batch = (at * z[self.quality]).sum(axis=0)
        slope[self.batch_sd] -= by_batch * tables[self.batch_sd].slope(y[self.batch_sd])
        by_tank = (at * z[self.tank]).sum(axis=0) + self.tank.size / tank_sd
        slope[self.tank_sd] -= by_tank * tables[self.tank_sd].slope(y[self.tank_sd])
        return value, slope
