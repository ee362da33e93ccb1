"""The log-posterior in coordinates in which its ridges are straight.

Counts tell the mortality of a lot directly, not how much of it is the site's, the batch's or the
tank's. So where a lot was counted as larvae or on trays, its tank effect is replaced by the ln of
its mortality itself; the posterior is the same, by the rule for a change of variables.
"""

import numpy as np
from numpy.typing import NDArray

from protoconch.season.outlook.likelihood import SURVIVALS, Likelihood
from protoconch.season.outlook.unknowns import Looked

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
        self.days = np.array([likelihood.beliefs.veliger_survival_days,
                              *np.diff(likelihood.beliefs.path.days)])[:, None]  # fmt: skip
        level, _, _, tank_sd = self._rates(site.look(np.zeros((len(site.names), 1))))
        self.level, self.scale = level[:, 0], float(tank_sd[0])

    def _rates(self, looked: Looked) -> tuple[Numbers, Numbers, Numbers, Numbers]:
        """Ln of the site's mortality (4, n), its change, and the spreads of batch and tank."""
        values, slopes = looked.at[self.survival], looked.slopes[self.survival]
        ln = np.log(values)
        return (np.log(-ln / self.days), slopes / (values * ln), looked.at[self.batch_sd],
                looked.at[self.tank_sd])  # fmt: skip

    def _look(self, y: Numbers) -> Looked:
        """The site's unknowns: their coordinates are the same in z and y."""
        return self.of.site.look(y[: len(self.of.site.names)])

    def straight(self, z: Numbers) -> Numbers:
        """Centred coordinates of z, (d, n)."""
        y = z.copy()
        level, _, batch_sd, tank_sd = self._rates(self._look(z))
        log_h = level[self.stage] + batch_sd * z[self.quality] + tank_sd * z[self.tank]
        y[self.tank] = (log_h - self.level[self.stage][:, None]) / self.scale
        return y

    def plain(self, y: Numbers) -> Numbers:
        """Coordinates z of centred ones, (d, n)."""
        level, _, batch_sd, tank_sd = self._rates(self._look(y))
        return self._plain(y, level, batch_sd, tank_sd)

    def _plain(self, y: Numbers, level: Numbers, batch_sd: Numbers, tank_sd: Numbers) -> Numbers:
        z = y.copy()
        log_h = self.level[self.stage][:, None] + self.scale * y[self.tank]
        z[self.tank] = (log_h - level[self.stage] - batch_sd * z[self.quality]) / tank_sd
        return z

    def guessed(self, y: Numbers) -> tuple[Numbers, Numbers]:
        """The log-posterior as it is over z, at these y: its top lies in no narrow funnel."""
        looked = self._look(y)
        value, slope = self._valued(y, looked)
        tank_sd = looked.at[self.tank_sd]
        value -= self.tank.size * np.log(self.scale / tank_sd)
        slope[self.tank_sd] += self.tank.size / tank_sd * looked.slopes[self.tank_sd]
        return value, slope

    def __call__(self, y: Numbers) -> tuple[Numbers, Numbers]:
        """Log-posterior (n,) and its gradient over y, (d, n)."""
        return self._valued(y, self._look(y))

    def _valued(self, y: Numbers, looked: Looked) -> tuple[Numbers, Numbers]:
        site = len(self.of.site.names)
        level, d_level, batch_sd, tank_sd = self._rates(looked)
        z = self._plain(y, level, batch_sd, tank_sd)
        value, slope = self.of.with_slope(z, looked)
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
        np.add.at(slope, self.quality, -at * batch_sd)
        by_batch = (at * z[self.quality]).sum(axis=0)
        slope[self.batch_sd] -= by_batch * looked.slopes[self.batch_sd]
        by_tank = (at * z[self.tank]).sum(axis=0) + self.tank.size / tank_sd
        slope[self.tank_sd] -= by_tank * looked.slopes[self.tank_sd]
        return value, slope
