"""The counts of one culture and the growth curve laid through them."""

from collections.abc import Sequence

import numpy as np

from protoconch.algae.growth_fit import GrowthFit
from protoconch.pictures.drawing import Picture, curve, element, line, picture
from protoconch.pictures.lettering import Label
from protoconch.pictures.scales import NumberScale

WIDTH, HEIGHT = 340.0, 210.0
LEFT, RIGHT, TOP, FOOT = 58.0, 328.0, 14.0, 176.0


def algae_curve(
    fit: GrowthFit, days: Sequence[float], counts_per_ml: Sequence[float],
    limits_per_ml: Sequence[tuple[float, float]] = (), name: str = "algae-curve",
) -> Picture:  # fmt: skip
    """Counts as dots, with their limits where given, and the fitted curve; each tenfold alike.

    days, counts_per_ml: what was counted when. limits_per_ml: 95 % limits of each count.
    name: unique within the page.
    """
    along = np.linspace(0, max(days), 80)
    grown = fit.per_ml(along)
    values = np.concatenate([grown, counts_per_ml])
    low, high = np.floor(np.log10(values.min())), np.ceil(np.log10(values.max()))
    up = NumberScale(float(low), float(max(high, low + 1)), FOOT, TOP)
    x = NumberScale(0, max(days), LEFT, RIGHT)
    parts = [line((LEFT, FOOT), (RIGHT, FOOT), "base")]
    labels = [Label("days", RIGHT, FOOT + 30, "small", "end")]
    for power in range(int(low), int(up.high) + 1):
        parts.append(line((LEFT, up.at(power)), (RIGHT, up.at(power)), "rule"))
        labels.append(Label(f"{10.0**power / 1e6:g} M", LEFT - 6, up.at(power) + 4, "small", "end"))
    labels += [Label(f"{t:g}", x.at(t), FOOT + 15, "small", "middle") for t in x.ticks(5)]
    points = [(x.at(d), up.at(float(np.log10(n)))) for d, n in zip(along, grown, strict=True)]
    parts.append(curve(points, "middle"))
    for i, (day, count) in enumerate(zip(days, counts_per_ml, strict=True)):
        if i < len(limits_per_ml):
            ends = [(x.at(day), up.at(float(np.log10(max(n, 1e-9))))) for n in limits_per_ml[i]]
            parts.append(line(ends[0], ends[1], "base"))
        at = {"cx": x.at(day), "cy": up.at(float(np.log10(count)))}
        parts.append(element("circle", r=3.2, class_="missed", **at))
    return picture(name, "Growth of the culture, million cells per mL", curve_meaning(fit),
                   (WIDTH, HEIGHT), parts, labels)  # fmt: skip


def curve_meaning(fit: GrowthFit) -> str:
    """What the picture says, from the fit."""
    low, high = fit.growth_limits.low, fit.growth_limits.high
    said = (
        f"It grows {fit.growth_per_d:.2f} a day ({low:.2f} to {high:.2f}), doubling every"
        f" {24 * np.log(2) / fit.growth_per_d:.0f} hours"
    )
    if fit.curve == "exponential":
        return f"{said}; the counts show no slowing yet."
    peak = f"{said}, and levels off at {fit.peak_per_ml / 1e6:.2g} million cells/mL"
    return f"{peak}, after a lag of {fit.lag_d:.1f} days." if fit.curve == "lag" else f"{peak}."
