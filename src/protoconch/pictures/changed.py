"""A season with something changed: each batch as it would be, beside what the plan has."""

from collections.abc import Sequence
from datetime import date, timedelta

import numpy as np

from protoconch.pictures.drawing import Picture, curve, line, picture, shape, simplified
from protoconch.pictures.lettering import Label, Lettering
from protoconch.pictures.months import months_under
from protoconch.pictures.ribbon import Along
from protoconch.pictures.scales import Thickness, TimeScale
from protoconch.pictures.season_words import axis_days
from protoconch.pictures.words import about, day_short
from protoconch.season.answer import SeasonPlan
from protoconch.words import phrase, say

GAINS = phrase("Batch {code} gains most: {now} at {day} in the middle future, {plan} in the plan.")
LOSES = phrase("Batch {code} loses most: {now} at {day} in the middle future, {plan} in the plan.")

WIDTH, LEFT, RIGHT = 340.0, 38.0, 280.0
TOP = 26.0
_STEP_PX, _GAP = 7.0, 9.0


def changed_ribbons(
    plan: SeasonPlan, batches: Sequence[Along], released: Sequence[float], by: date,
    name: str = "changed",
) -> Picture:  # fmt: skip
    """Each batch as a ribbon of what could be, its middle as a line, and dashed that of the plan.

    released: middle number of each batch at the date `by`. name: unique within the page.
    """
    thickness = Thickness(_STEP_PX)
    most = max((float(b.alive_p90.max(initial=0.0)) for b in batches), default=0.0)
    most = max(most, *(float(b.alive_p90.max()) for b in plan.forecast.batches), 1e4)
    pitch = thickness.of(most) + _GAP
    first = axis_days(plan)[0]
    time = TimeScale(first, max(by, plan.target.by), LEFT, RIGHT)
    bottom = TOP + pitch * len(batches)
    letters = Lettering(0, 0, WIDTH, bottom + 42)
    parts = _frame(time, bottom, by, letters)
    start = plan.forecast.first_day
    longest = max(batch.alive_p50.size for batch in (*batches, *plan.forecast.batches))
    along = [time.at(start + timedelta(days=day)) for day in range(longest)]
    for i, (batch, number) in enumerate(zip(batches, released, strict=True)):
        base = TOP + pitch * (i + 1) - 2
        planned = plan.forecast.batches[i]

        def edge(
            alive: np.ndarray, where: np.ndarray, base: float = base
        ) -> list[tuple[float, float]]:
            days = np.flatnonzero(where > 0)
            outs = thickness.step * np.log10(np.maximum(alive[days] / thickness.least, 1.0))
            return simplified(
                [(along[d], base - float(out)) for d, out in zip(days, outs, strict=True)], 0.6
            )

        high = edge(batch.alive_p90, batch.alive_p90)
        parts.append(line((LEFT, base), (RIGHT, base), "rule"))
        if high:
            low = edge(batch.alive_p10, batch.alive_p90)
            parts.append(shape([*high, *reversed(low)], "might"))
        if middle := edge(batch.alive_p50, batch.alive_p50):
            parts.append(curve(middle, "middle"))
        if was := edge(planned.alive_p50, planned.alive_p50):
            parts.append(curve(was, "seldom"))
        letters.add(
            Label(batch.code, 0, base - 3, "strong"),
            Label(about(number), RIGHT + 6, base - 3, "strong"),
        )
    title = say("The batches with the change: number alive, the plan dashed")
    return picture(name, title, changed_meaning(plan, released, by), (WIDTH, bottom + 42), parts,
                   letters.labels)  # fmt: skip


def _frame(time: TimeScale, bottom: float, by: date, letters: Lettering) -> list[str]:
    parts = [line((time.at(by), TOP - 6), (time.at(by), bottom), "mark")]
    words = say("by {day}", day=day_short(by))
    letters.add(Label(words, time.at(by), 14, "strong", "end"))
    return [*parts, *months_under(time, bottom, WIDTH, letters)]


def changed_meaning(plan: SeasonPlan, released: Sequence[float], by: date) -> str:
    """Which batch gains or loses most at the date, in the middle future."""
    moved = [
        (number - batch.released.p50, batch.code, batch.released.p50, number)
        for batch, number in zip(plan.batches, released, strict=True)
    ]
    gain, code, was, now = max(moved, key=lambda found: abs(found[0]))
    if abs(gain) < 1:
        return say("Every batch ends as in the plan.")
    return say(
        GAINS if gain > 0 else LOSES,
        code=code,
        now=about(now),
        day=day_short(by),
        plan=about(was),
    )
