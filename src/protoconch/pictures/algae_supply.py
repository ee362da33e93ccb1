"""Food that the algae room gives against what is asked, one strip for each species."""

from datetime import timedelta

import numpy as np

from protoconch.algae.chain.answer import AlgaeAnswer
from protoconch.algae.species import alga
from protoconch.pictures.drawing import Picture, Point, curve, line, picture, shape, simplified
from protoconch.pictures.lettering import Label
from protoconch.pictures.scales import NumberScale, TimeScale
from protoconch.pictures.words import day_short, measured, month_short
from protoconch.words import counted, say

WIDTH, STRIP = 340.0, 112.0
LEFT, RIGHT, HEAD = 44.0, 332.0, 30.0
"""Small enough that a phone shows it without making its letters smaller [px]."""


def algae_supply(answer: AlgaeAnswer, name: str = "algae-supply") -> Picture:
    """Demand as an area; what is fed when cultures are lost by chance as two lines.

    The full line is what half of the simulated seasons give at least, the dashed one what nine in
    ten give. name: unique within the page.
    """
    parts: list[str] = []
    labels: list[Label] = []
    for row, species in enumerate(answer.demand.species):
        _strip(answer, row, species, HEAD + row * STRIP, parts, labels)
    height = HEAD + len(answer.demand.species) * STRIP + 8
    return picture(
        name, say("Algae asked for and fed"), supply_meaning(answer), (WIDTH, height), parts, labels
    )


def _strip(
    answer: AlgaeAnswer, row: int, species: str, top: float, parts: list[str], labels: list[Label]
) -> None:
    grams = answer.demand.grams[row]
    most = max(float(grams.max(initial=0)), 1e-3)
    base = top + STRIP - 44
    up = NumberScale(0, most * 1.08, base, top + 8)
    time = TimeScale(answer.first, answer.day(answer.demand.days - 1), LEFT, RIGHT)
    xs = [time.at(answer.day(number)) for number in range(answer.demand.days)]

    def edge(values: np.ndarray) -> list[Point]:
        return simplified([(x, up.at(float(v))) for x, v in zip(xs, values, strict=True)])

    fed = answer.sure.sureness.fed[:, row] * grams
    parts += [
        shape([(xs[0], base), *edge(grams), (xs[-1], base)], "used"),
        curve(edge(fed[1]), "middle"),
        curve(edge(fed[0]), "seldom"),
        line((LEFT, base), (RIGHT, base), "base"),
    ]
    labels += [
        Label(alga(species).name, 0, top - 6, "strong"),
        Label(measured(most, "g"), LEFT - 5, up.at(most) + 4, "small", "end"),
        Label("0", LEFT - 5, base, "small", "end"),
    ]
    room = 0.0
    for month in time.months():
        x = time.at(month)
        if x >= room and x < RIGHT - 40:
            labels.append(Label(month_short(month), x + 2, base + 16, "small"))
            parts.append(line((x, base), (x, base + 6), "rule"))
            room = x + 34


def supply_meaning(answer: AlgaeAnswer) -> str:
    """What the picture says, from its numbers."""
    odds, plan = answer.sure.sureness, answer.plan
    if not plan.days_short:
        whole = say("If no culture is lost, every day is fed.")
    else:
        first = int(np.argmax((plan.short > 1e-6).any(axis=0)))
        whole = counted(
            plan.days_short,
            "Even if no culture is lost, {number} species-day goes short, on {day}.",
            "Even if no culture is lost, {number} species-days go short, the first on {day}.",
            day=day_short(answer.first + timedelta(days=first)),
        )
    return say(
        "{whole} With losses by chance, {met:.0%} of all days are fed and "
        "{unmet:.0%} of the food is lacking; the dashed line is what nine seasons "
        "in ten give.",
        whole=whole,
        met=odds.met,
        unmet=odds.unmet,
    )
