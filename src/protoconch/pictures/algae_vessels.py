"""Which vessel holds what on which day: growing, ready, or being cleaned."""

import numpy as np

from protoconch.algae.chain.answer import AlgaeAnswer
from protoconch.algae.chain.plan import Life
from protoconch.algae.chain.solving import vessels_held
from protoconch.algae.species import alga
from protoconch.pictures.drawing import Picture, box, line, picture
from protoconch.pictures.lettering import Label
from protoconch.pictures.scales import TimeScale
from protoconch.pictures.words import month_short
from protoconch.words import joined, say

WIDTH, ROW, GAP, HEAD = 340.0, 10.0, 24.0, 22.0
LEFT, RIGHT = 62.0, 334.0
SHADES = (("f-tide", "1"), ("f-ink", ".28"), ("f-ink", ".8"), ("f-tide", ".5"),
          ("f-foam", "1"), ("f-ink", ".55"))  # fmt: skip
GROWING = 0.45
"""A growing culture is drawn lower than a ready one, as a share of the row."""


def algae_vessels(answer: AlgaeAnswer, name: str = "algae-vessels") -> Picture:
    """One row for each vessel, one bar for each culture: low while it grows, full when ready."""
    plan = answer.plan
    time = TimeScale(answer.first, answer.day(plan.problem.days), LEFT, RIGHT)
    parts: list[str] = []
    labels: list[Label] = []
    y = _key(answer, parts, labels)
    for kind in plan.problem.room.kinds:
        labels.append(Label(say("{name}s", name=say(kind.name)), 0, y + 11, "small"))
        for number in range(1, kind.count + 1):
            parts.append(line((LEFT, y + ROW), (RIGHT, y + ROW), "rule"))
            for life in plan.lives:
                if life.vessel == (kind.name, number):
                    parts += _bar(answer, life, y, time)
            y += ROW
        y += GAP - ROW
    for month in time.months():
        x = time.at(month)
        if x < RIGHT - 26:
            parts.append(line((x, HEAD + 6), (x, y), "rule"))
            labels.append(Label(month_short(month), x + 2, y + 12, "small"))
    return picture(
        name,
        say("Vessels of the algae room"),
        vessels_meaning(answer),
        (WIDTH, y + 20),
        parts,
        labels,
    )


def _key(answer: AlgaeAnswer, parts: list[str], labels: list[Label]) -> float:
    y = 4.0
    for row, species in enumerate(answer.demand.species):
        class_, opacity = SHADES[row % len(SHADES)]
        parts += [
            box(
                0,
                y,
                22,
                12,
                class_,
                style=f"fill-opacity:{opacity};stroke:none",
            ),
            box(0, y, 22, 12, "frame"),
        ]
        labels.append(Label(alga(species).name, 28, y + 11, "small"))
        y += 19
    return y + 10


def _bar(answer: AlgaeAnswer, life: Life, y: float, time: TimeScale) -> list[str]:
    row = answer.demand.species.index(life.species)
    class_, opacity = SHADES[row % len(SHADES)]
    last = answer.plan.problem.days - 1 if life.ended is None else life.ended
    start = time.at(answer.day(max(0, life.started)))
    end = max(start + 1, time.at(answer.day(last + 1)))
    ready = min(end, max(start, time.at(answer.day(max(0, life.ready)))))
    style = f"fill-opacity:{opacity};stroke:none"
    low = ROW * GROWING
    bars = []
    if ready > start:
        bars.append(box(start, y + ROW - low, ready - start, low, class_, style=style))
    if end > ready:
        bars.append(box(ready, y + 1, end - ready, ROW - 1, class_, style=style))
    return bars


def vessels_meaning(answer: AlgaeAnswer) -> str:
    """What the picture says, from its numbers."""
    plan = answer.plan
    held = vessels_held(plan.problem, plan.counts)
    words = []
    for row, kind in enumerate(plan.problem.room.kinds):
        words.append(
            say(
                "{used} of {count} {name}s",
                used=int(held[row].max(initial=0)),
                count=kind.count,
                name=say(kind.name),
            )
        )
    full = [b for b in answer.bindings if b.full_days]
    said = say(
        "At most {vessels} are in use or being cleaned at once.", vessels=joined(words, ", ")
    )
    if not full:
        return joined([said, say("None of them holds the room back.")])
    days = int(np.max([b.full_days for b in full]))
    bind = say(
        "The {kind}s bind: all are in use on up to {days} days.",
        kind=say(full[0].kind),
        days=days,
    )
    return joined([said, bind])
