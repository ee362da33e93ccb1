"""The counts of one culture, its curve with limits, and when it is dense enough."""

import numpy as np

from protoconch.algae.chain.culture_curve import CultureCurve
from protoconch.pictures.drawing import Picture, curve, element, line, picture, shape
from protoconch.pictures.lettering import Label
from protoconch.pictures.scales import NumberScale
from protoconch.words import say

WIDTH, HEIGHT = 340.0, 210.0
LEFT, RIGHT, TOP, FOOT = 58.0, 328.0, 14.0, 176.0
WIDEST = 100.0
"""Times the usual density, and its inverse, beyond which limits are not drawn on."""


def algae_curve(grown: CultureCurve, name: str = "algae-curve") -> Picture:
    """Counts as dots with their limits, the curve in its band of limits; each tenfold alike.

    The dashed line is the density at which it is used, the upright one is now.
    name: unique within the page. It is drawn with no counts as with many.
    """
    usual = grown.usual_per_ml
    seen = np.array([part for _, *numbers in grown.counts for part in numbers])
    drawn = np.concatenate([grown.middle, [usual], seen])
    drawn = drawn[(drawn > usual / WIDEST) & (drawn < usual * WIDEST)]
    low, high = np.floor(np.log10(drawn.min())), np.ceil(np.log10(drawn.max()))
    up = NumberScale(float(low), float(max(high, low + 1)), FOOT, TOP)
    x = NumberScale(0, float(grown.days[-1]), LEFT, RIGHT)

    def at(cells: float) -> float:
        return up.at(float(np.clip(np.log10(max(cells, 1e-9)), low, up.high)))

    parts: list[str] = []
    labels = [Label(say("days"), RIGHT, FOOT + 30, "small", "end")]
    for power in range(int(low), int(up.high) + 1):
        parts.append(line((LEFT, up.at(power)), (RIGHT, up.at(power)), "rule"))
        labels.append(Label(f"{10.0**power / 1e6:g} M", LEFT - 6, up.at(power) + 4, "small", "end"))
    labels += [Label(f"{t:g}", x.at(t), FOOT + 15, "small", "middle") for t in x.ticks(5)]
    upper, lower, middle = (
        [(x.at(float(day)), at(float(n))) for day, n in zip(grown.days, cells, strict=True)]
        for cells in (grown.high, grown.low, grown.middle)
    )
    parts += [
        shape([*upper, *reversed(lower)], "used"),
        curve(middle, "middle"),
        curve([(LEFT, at(usual)), (RIGHT, at(usual))], "seldom"),
        line((x.at(grown.age_d), FOOT), (x.at(grown.age_d), TOP), "rule"),
        line((LEFT, FOOT), (RIGHT, FOOT), "base"),
    ]
    for day, count, least, most in grown.counts:
        parts.append(line((x.at(day), at(least)), (x.at(day), at(most)), "base"))
        parts.append(element("circle", r=3.2, class_="missed", cx=x.at(day), cy=at(count)))
    return picture(
        name,
        say("Growth of the culture, million cells per mL"),
        grown.sentence,
        (WIDTH, HEIGHT),
        parts,
        labels,
    )
