"""The season drawn for a phone: time runs down, a column for each batch, then the room."""

from collections.abc import Mapping, Sequence
from datetime import date, timedelta
from types import MappingProxyType

from protoconch.pictures.counted import Seen, counts_meaning
from protoconch.pictures.drawing import Picture, line, picture
from protoconch.pictures.key import band_key, stage_key, thickness_key
from protoconch.pictures.lanes import lane_down
from protoconch.pictures.lettering import Label, Lettering
from protoconch.pictures.ribbon import Ribbon, batches_by_code
from protoconch.pictures.room import lanes, room_meaning
from protoconch.pictures.scales import Thickness, TimeScale
from protoconch.pictures.season_ahead import above_and_below_today
from protoconch.pictures.season_words import axis_days, batches_meaning, target_written
from protoconch.pictures.stages import patterns
from protoconch.pictures.words import about, month_short
from protoconch.season.answer import Batch, SeasonPlan
from protoconch.words import counted, joined, listed, say

WIDTH = 340.0
COLUMNS = 3
_LEFT = 46.0
_COLUMN = 98.0


def phone_key(plan: SeasonPlan, name: str = "phone-key") -> Picture:
    """How to read the ribbons of a plan, for a narrow screen."""
    parts, letters = [patterns(name)], Lettering(0, 0, WIDTH, 250)
    for drawn, labels in (
        stage_key(name, 0, 2, 120, per_row=2),
        thickness_key(name, 0, 132, phone_thickness(plan), 68),
        band_key(name, 0, 214, 40),
    ):
        parts += drawn
        letters.add(*labels)
    letters.add(Label(say("Each layer peeled off: nine in ten lost."), 0, 151))
    return picture(
        name,
        say("How to read a ribbon"),
        say("A ribbon is as thick as the number alive; each layer peeled off is nine in ten lost."),
        (WIDTH, 220),
        parts,
        letters.labels,
    )


def phone_ribbons(
    plan: SeasonPlan, today: date | None = None,
    counts: Mapping[str, Sequence[Seen]] = MappingProxyType({}), *, by_log: bool = False,
) -> tuple[Picture, ...]:  # fmt: skip
    """The batches, three to a picture, all on the same time axis running down.

    counts: what was counted, by the letter of the batch, drawn onto the ribbons.
    by_log: up to today the ribbons are what the log says, and this is written beside today's line.
    """
    groups = [plan.batches[i : i + COLUMNS] for i in range(0, len(plan.batches), COLUMNS)]
    return tuple(
        _columns(plan, group, today, f"phone-{i + 1}", counts, by_log=by_log)
        for i, group in enumerate(groups)
    )


def _time(plan: SeasonPlan, top: float) -> TimeScale:
    first, last = axis_days(plan)
    length = max(320.0, min(0.95 * (last - first).days, 760.0))
    return TimeScale(first, last, top, top + length)


def _columns(
    plan: SeasonPlan, group: Sequence[Batch], today: date | None, name: str,
    counts: Mapping[str, Sequence[Seen]], *, by_log: bool = False,
) -> Picture:  # fmt: skip
    time = _time(plan, 58)
    letters = Lettering(0, 0, WIDTH, time.end + 66)
    parts = [patterns(name), *_marks(plan, time, today, letters, 62), *_months(time, letters)]
    drawn = batches_by_code(plan.forecast.batches)
    thickness = phone_thickness(plan)
    for i, batch in enumerate(group):
        left = _LEFT + _COLUMN * i
        first_day = plan.forecast.first_day
        ribbon = Ribbon(drawn[batch.code], first_day, time, thickness, left, down=True)
        parts += ribbon.parts(name) + ribbon.seen(counts.get(batch.code, ()))
        _numbers(batch, ribbon, letters)
    if by_log and today and time.holds(today):
        above_and_below_today(letters, time.at(today))
    letters.add(Label(say("ready"), 0, time.end + 20, "strong"))
    codes = listed([batch.code for batch in group])
    own = {batch.code: counts.get(batch.code, ()) for batch in group}
    return picture(
        name,
        counted(
            len(group),
            "Batch {codes}: number alive, time running down",
            "Batches {codes}: number alive, time running down",
            codes=codes,
        ),
        joined(filter(None, (batches_meaning(group), counts_meaning(own)))),
        (WIDTH, time.end + 68),
        parts,
        letters.labels,
    )


def phone_thickness(plan: SeasonPlan) -> Thickness:
    """The step at which the thickest ribbon leaves room for numbers in its column."""
    most = max((float(b.alive_p90.max(initial=0.0)) for b in plan.forecast.batches), default=0.0)
    return Thickness(min(15.0, 44.0 / Thickness(1.0).of(max(most, 1e4))))


def _numbers(batch: Batch, ribbon: Ribbon, letters: Lettering) -> None:
    left, time, dates, ready = ribbon.base, ribbon.time, batch.dates, batch.released
    tanks = counted(len(batch.tanks), "{number} tank", "{number} tanks")
    letters.add(
        Label(say("Batch {code}", code=batch.code), left, 14, "strong"),
        Label(tanks, left, 29, "small"),
        Label(about(ready.p50, 3), left, time.end + 20, "large"),
        Label(
            say("{low} to {high}", low=about(ready.p10), high=about(ready.p90)),
            left,
            time.end + 36,
            "small",
        ),
        Label(f"V {about(batch.stocked.p50)}", left, time.at(dates.collect) - 5),
    )
    days = timedelta(days=round(14 / time.per_day))
    for letter, number, day in (
        ("P", batch.settled.p50, dates.tank_until),
        ("J", batch.to_nursery.p50, dates.to_nursery),
    ):
        clear = ribbon.widest(day - days, day + days) + 5
        letters.fit([
            Label(words, left + clear, time.at(day) + shift)
            for words in (f"{letter} {about(number)}", about(number))
            for shift in (10, 14, 18, 6, 22)
        ])  # fmt: skip


def _months(time: TimeScale, letters: Lettering) -> list[str]:
    """Lines and names of the months; a name gives way to what stands there already."""
    parts = []
    for month in time.months():
        y = time.at(month)
        parts.append(line((0, y), (WIDTH, y), "rule"))
        if y + 14 > time.end:
            continue
        if month.month == 1:
            letters.fit([Label(str(month.year), 0, y + 13, "strong")])
            continue
        letters.fit([Label(month_short(month), 0, y + 13)])
        if month == time.months()[0]:
            letters.fit([Label(str(month.year), 0, y - 4, "strong")])
    return parts


def _marks(
    plan: SeasonPlan, time: TimeScale, today: date | None, letters: Lettering, below: float
) -> list[str]:
    y = time.at(plan.target.by)
    parts = [line((0, y), (WIDTH, y), "mark")]
    words = say("asked: {target}", target=target_written(plan.target))
    letters.add(Label(words, 0, time.end + below, "strong"))
    if today and time.holds(today):
        y = time.at(today)
        parts.append(line((0, y), (WIDTH, y), "base"))
        letters.add(Label(say("today"), 0, y - 4 if y - 16 > time.start else y + 14, "strong"))
    return parts


def phone_room(plan: SeasonPlan, today: date | None = None, name: str = "phone-room") -> Picture:
    """What is in use in the room, a column for each scarce thing, time running down."""
    time = _time(plan, 64)
    letters = Lettering(0, 0, WIDTH, time.end + 24)
    parts = _marks(plan, time, today, letters, 18) + _months(time, letters)
    found = lanes(plan)
    width = (WIDTH - _LEFT) / len(found)
    for i, lane in enumerate(found):
        left = _LEFT + width * i
        sides = (left, left + width - 8)
        parts += lane_down(lane, time, plan.forecast.first_day, sides, letters)
    return picture(
        name,
        say("What is in use in the room, time running down"),
        room_meaning(plan),
        (WIDTH, time.end + 26),
        parts,
        letters.labels,
    )
