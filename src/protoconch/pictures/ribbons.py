"""The season in one picture: all batches as ribbons on one time axis, the room under them."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from types import MappingProxyType

import numpy as np

from protoconch.pictures.counted import Seen, counts_meaning
from protoconch.pictures.drawing import Picture, box, line, picture
from protoconch.pictures.key import band_key, stage_key, thickness_key
from protoconch.pictures.lanes import LANE_HEIGHT, lane_across
from protoconch.pictures.lettering import Label, Lettering, room_for
from protoconch.pictures.ribbon import Ribbon, batches_by_code, spans
from protoconch.pictures.room import lanes, room_meaning
from protoconch.pictures.scales import Thickness, TimeScale
from protoconch.pictures.season_ahead import sides_of_today
from protoconch.pictures.season_words import axis_days, ribbons_meaning, target_written
from protoconch.pictures.stages import LOOKS, patterns
from protoconch.pictures.words import about, day_short, month_short
from protoconch.season.answer import Batch, SeasonPlan
from protoconch.words import counted, joined, phrase, say

WIDTH = 1048.0
_LEFT, _RIGHT = 164.0, 908.0
_HEAD, _TOTAL, _GAP = 44.0, 58.0, 20.0
_LANE_PITCH = LANE_HEIGHT + 22.0
_CHIP = 12.5


@dataclass(slots=True)
class _Sheet:
    """The drawing as it grows."""

    name: str
    time: TimeScale
    thickness: Thickness
    parts: list[str]
    letters: Lettering


def season_ribbons(
    plan: SeasonPlan, today: date | None = None, name: str = "season",
    counts: Mapping[str, Sequence[Seen]] = MappingProxyType({}), *, by_log: bool = False,
) -> Picture:  # fmt: skip
    """All batches and the room on one time axis, drawn for a desk or a landscape page.

    today: draws a line at that day, if it lies on the axis. name: unique within the page.
    counts: what was counted, by the letter of the batch, drawn onto the ribbons.
    by_log: up to today the ribbons are what the log says, and this is written beside today's line.
    """
    thickness, pitch = _thickness(plan)
    key_base = thickness.of(1e5) + 24
    top = key_base + _HEAD
    ribbons_end = top + pitch * max(1, len(plan.batches))
    lanes_top = ribbons_end + _TOTAL
    bottom = lanes_top + _LANE_PITCH * len(lanes(plan))
    time = TimeScale(*axis_days(plan), _LEFT, _RIGHT)
    frame = Lettering(0, 0, WIDTH, bottom + 44)
    sheet = _Sheet(name, time, thickness, [patterns(name)], frame)
    _key(sheet, key_base)
    _months(sheet, top - 6, bottom)
    _marks(sheet, plan, today, top - 10, bottom)
    drawn = batches_by_code(plan.forecast.batches)
    for i, batch in enumerate(plan.batches):
        base = top + pitch * (i + 1) - 2
        first_day = plan.forecast.first_day
        ribbon = Ribbon(drawn[batch.code], first_day, time, thickness, base)
        _ribbon(sheet, batch, ribbon)
        sheet.parts += ribbon.seen(counts.get(batch.code, ()))
    _together(sheet, plan, ribbons_end)
    if by_log and today and time.holds(today):
        sides_of_today(sheet.letters, time.at(today), ribbons_end + 22)
    for i, lane in enumerate(lanes(plan)):
        base = lanes_top + _LANE_PITCH * (i + 1) - 12
        sheet.parts += lane_across(lane, time, plan.forecast.first_day, base, sheet.letters)
    return picture(
        name,
        say("The season: number alive in each batch, and what is in use in the room"),
        joined(filter(None, (ribbons_meaning(plan), counts_meaning(counts), room_meaning(plan)))),
        (WIDTH, bottom + 44),
        sheet.parts,
        sheet.letters.labels,
    )


def _thickness(plan: SeasonPlan) -> tuple[Thickness, float]:
    """Step of the ribbons and distance between their base lines, so that up to 12 fit [px]."""
    count = max(1, len(plan.batches))
    most = max((float(b.alive_p90.max(initial=0.0)) for b in plan.forecast.batches), default=0.0)
    tenfolds = Thickness(1.0).of(max(most, 1e4))
    room = max(62.0, min(600.0 / count, 96.0))
    thickness = Thickness(min(16.0, (room - _GAP) / tenfolds))
    return thickness, thickness.of(max(most, 1e4)) + _GAP


def _key(sheet: _Sheet, base: float) -> None:
    sheet.letters.add(
        Label(say("How to read a ribbon"), 0, 14, "strong"),
        Label(
            say("Each layer peeled off is nine animals in ten lost; the base line is 10."), 0, 66
        ),
    )
    for parts, labels in (
        stage_key(sheet.name, 0, 26, 114),
        thickness_key(sheet.name, 486, base, sheet.thickness, 60),
        band_key(sheet.name, 756, base, 40),
    ):
        sheet.parts += parts
        sheet.letters.add(*labels)


def _months(sheet: _Sheet, top: float, bottom: float) -> None:
    beyond = 0.0
    for month in sheet.time.months():
        x = sheet.time.at(month)
        sheet.parts.append(line((x, top), (x, bottom), "rule"))
        word = month_short(month)
        if x < beyond or x + room_for(word) > WIDTH:
            continue
        beyond = x + room_for(word) + 4
        sheet.letters.add(Label(word, x, bottom + 18))
        if month.month == 1 or month == sheet.time.months()[0]:
            sheet.letters.add(Label(str(month.year), x, bottom + 36, "strong"))


def _marks(sheet: _Sheet, plan: SeasonPlan, today: date | None, top: float, bottom: float) -> None:
    x = sheet.time.at(plan.target.by)
    words = say("asked: {target}", target=target_written(plan.target))
    sheet.parts.append(line((x, top), (x, bottom), "mark"))
    sheet.letters.add(Label(say("ready at the date"), _RIGHT + 10, top, "strong"))
    sheet.letters.fit([
        Label(words, x - 6, top, "strong", "end"), Label(words, x + 6, top, "strong")
    ])  # fmt: skip
    if today and sheet.time.holds(today):
        x = sheet.time.at(today)
        sheet.parts.append(line((x, top), (x, bottom), "base"))
        words = say("today, {day}", day=day_short(today))
        sheet.letters.fit([
            Label(words, x + 5, top, "strong"), Label(words, x - 5, top, "strong", "end"),
            Label(words, x - 5, top - 14, "strong", "end"),
        ])  # fmt: skip


def _together(sheet: _Sheet, plan: SeasonPlan, top: float) -> None:
    if not plan.batches:
        middle = (_LEFT + _RIGHT) / 2
        sheet.letters.add(Label(say("no batch in this plan"), middle, top - 24, "large", "middle"))
        return
    sheet.parts.append(line((0, top + 8), (WIDTH, top + 8), "rule"))
    sheet.letters.add(
        Label(say("All batches"), 0, top + 28, "strong"),
        Label(about(float(np.median(plan.forecast.ready)), 3), _RIGHT + 10, top + 28, "large"),
        Label(
            say("{low} to {high}", low=about(plan.p10, 3), high=about(plan.p90, 3)),
            _RIGHT + 10,
            top + 43,
            "small",
        ),
    )


def _ribbon(sheet: _Sheet, batch: Batch, ribbon: Ribbon) -> None:
    sheet.parts += ribbon.parts(sheet.name)
    letters, base, dates = sheet.letters, ribbon.base, batch.dates
    masses = counted(batch.egg_masses, "{number} mass", "{number} masses")
    tanks = counted(len(batch.tanks), "{number} tank", "{number} tanks")
    letters.add(
        Label(say("Batch {code}", code=batch.code), 0, base - 16, "strong"),
        Label(joined([masses, tanks], ", "), 0, base - 1, "small"),
        Label(about(batch.released.p50, 3), _RIGHT + 10, base - 16, "large"),
        Label(
            say(
                "{low} to {high}",
                low=about(batch.released.p10),
                high=about(batch.released.p90),
            ),
            _RIGHT + 10,
            base - 1,
            "small",
        ),
    )
    x = sheet.time.at(dates.induce)
    words = say("{number} stocked", number=about(batch.stocked.p50))
    clear = ribbon.widest(_back(sheet, dates.induce, room_for(words)), dates.induce)
    letters.fit([Label(words, x - 2, base - clear - 4, "word", "end")])
    for number, template, day in (
        (batch.settled.p50, phrase("{number} settled"), dates.tank_until),
        (batch.to_nursery.p50, phrase("{number} to the nursery"), dates.to_nursery),
    ):
        x = sheet.time.at(day) + 3
        for words in (say(template, number=about(number)), about(number)):
            clear = ribbon.widest(day, _back(sheet, day, -room_for(words)))
            if letters.fit([Label(words, x, base - clear - 4)]):
                break
    _stage_words(sheet, ribbon)


def _back(sheet: _Sheet, day: date, pixels: float) -> date:
    return day - timedelta(days=round(pixels / sheet.time.per_day))


def _stage_words(sheet: _Sheet, ribbon: Ribbon) -> None:
    """The word of each stage inside its part of the ribbon, or its letter where that is short."""
    for first, last in spans(ribbon.batch.stage):
        look = LOOKS[int(ribbon.batch.stage[first])]
        left, right = ribbon.along(first), ribbon.along(last)
        for words in (look.word, look.letter):
            room = room_for(words, "stage") + 8
            x = min((left + right) / 2, left + 160)
            beyond = first + round((x + room / 2 - left) / sheet.time.per_day)
            thin = ribbon.out(ribbon.batch.alive_p50, min(beyond, last)) < _CHIP
            if right - left >= room + 2 and not thin:
                top = ribbon.base - _CHIP
                sheet.parts.append(box(x - room / 2, top, room, _CHIP - 0.5, "chip"))
                sheet.letters.add(Label(words, x, ribbon.base - 3, "stage", "middle"))
                break
