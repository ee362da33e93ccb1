"""The reservoir's level in the days ahead, with the tenth below and above, and its reserve."""

from protoconch.pictures.drawing import Picture, box, curve, line, picture, shape
from protoconch.pictures.lettering import Label
from protoconch.pictures.words import day_short, measured
from protoconch.waterworks.assessment import StoreOutlook
from protoconch.waterworks.description import StoreKeeping
from protoconch.words import joined, say

WIDTH, HEIGHT = 310.0, 190.0
"""Small enough that a phone shows it without making its letters smaller [px]."""
LEFT, RIGHT, TOP, FOOT = 64.0, 78.0, 12.0, 156.0


def store_level(keeping: StoreKeeping, outlook: StoreOutlook, name: str = "store-level") -> Picture:
    """The level drawn against the days, full and reserve as lines.

    name: unique within the page.
    """
    days, full = outlook.levels, keeping.store.full_l
    right = WIDTH - RIGHT

    def x(index: float) -> float:
        return LEFT + (right - LEFT) * index / max(1, len(days) - 1)

    def y(litres: float) -> float:
        return FOOT - (FOOT - TOP) * litres / full

    band = [(x(i), y(day.high_l)) for i, day in enumerate(days)]
    band += [(x(i), y(day.low_l)) for i, day in reversed(list(enumerate(days)))]
    parts = [
        box(LEFT, TOP, right - LEFT, FOOT - TOP, "frame"),
        shape(band, "might"),
        line((LEFT, y(keeping.reserve_l)), (right, y(keeping.reserve_l)), "limit"),
        curve([(x(i), y(day.middle_l)) for i, day in enumerate(days)], "middle"),
    ]
    labels = [
        Label(measured(round(full), "L"), LEFT - 6, y(full) + 9, "small", "end"),
        Label("0", LEFT - 6, FOOT, "small", "end"),
        Label(say("reserve"), right + 8, y(keeping.reserve_l) + 4, "small"),
        Label(day_short(days[0].day), LEFT, FOOT + 20, "small"),
        Label(day_short(days[-1].day), right, FOOT + 20, "small", "end"),
    ]
    end = y(days[-1].middle_l) + 4
    if abs(end - labels[2].y) < 16:
        end = labels[2].y - 16
    labels.append(Label(measured(round(days[-1].middle_l), "L"), right + 8, end))
    return picture(
        name,
        say("The reservoir in the days ahead"),
        _meaning(keeping, outlook),
        (WIDTH, HEIGHT),
        parts,
        labels,
    )


def _meaning(keeping: StoreKeeping, outlook: StoreOutlook) -> str:
    fill = outlook.fill
    lowest = min(outlook.levels, key=lambda day: day.low_l)
    if fill.by is None:
        return say(
            "{place} is hardly drawn on: no fill is needed in the time looked at.",
            place=keeping.place,
        )
    by = say(
        "Fill by {day}: {water}, the fill pump moves nothing."
        if fill.pump_hours is None
        else "Fill by {day}: {water}, {hours:.1f} pump hours.",
        day=day_short(fill.by),
        water=measured(round(fill.litres), "L"),
        hours=fill.pump_hours,
    )
    late = [say("That day is past: fill at the next chance.")] if fill.overdue else []
    stays = say(
        "In nine cases of ten the level stays above {water} when it is filled then and at every "
        "chance after.",
        water=measured(round(lowest.low_l), "L"),
    )
    return joined([by, *late, stays])
