"""What the Water page shows: lines with their words, shapes, pictures and blanks."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import date, datetime, timedelta
from typing import Any

from django.utils.translation import gettext as _

from protoconch.log.payloads.water import QUANTITIES as UNITS
from protoconch.pictures.drawing import Picture
from protoconch.pictures.reading_series import reading_series
from protoconch.pictures.store_level import store_level
from protoconch.units import text
from protoconch.web.pages.water import saying
from protoconch.web.pages.water.seen import DAYS_BACK, WaterNow
from protoconch.work.waterside.cartridges import CartridgeNow
from protoconch.work.waterside.loops import Bounds, Judged, LoopNow
from protoconch.work.waterside.readings import Seen, since
from protoconch.work.waterside.store import StoreNow

DRAWN = ("temperature", "salinity", "oxygen", "ammonia as nitrogen", "nitrite as nitrogen",
         "nitrate as nitrogen", "pH")  # fmt: skip
FEWEST_DRAWN = 3
"""Readings from which on they are drawn; fewer are told by the line."""


@dataclass(frozen=True, slots=True)
class Blank:
    """A reading that can be typed in place: where, its quantity in the log, its words, its unit."""

    where: str
    quantity: str
    words: str
    unit: str


@dataclass(frozen=True, slots=True)
class Line:
    """A quantity or a part in words. shape and word say the same."""

    name: str
    value: str
    limits: str
    when: str
    shape: str
    word: str
    working: str = ""
    blank: Blank | None = None
    number: float | None = None
    unit: str = ""


@dataclass(frozen=True, slots=True)
class Group:
    """A part or a place with its lines, its pictures, and what can be typed there."""

    name: str
    lines: tuple[Line, ...] = ()
    pictures: tuple[Picture, ...] = ()
    blanks: tuple[Blank, ...] = ()
    amount: float = 0.0
    unit: str = ""
    shape: str = ""
    word: str = ""
    words: tuple[str, ...] = field(default_factory=tuple)
    read: bool = True


def shown(water: WaterNow) -> dict[str, Any]:
    """All parts of the page."""
    today = water.now.date()
    return {
        "title": saying.title(water, today),
        "wrong": saying.wrong(water),
        "store": water.store,
        "level": _level(water),
        "store_picture": store_level(water.store.keeping, water.store.outlook)
        if water.store else None,
        "store_blank": blank(water.reservoir, "level"),
        "reservoir": water.reservoir,
        "litres": round(water.level_l) if water.level_l is not None else None,
        "measures": _measures(water.store, today) if water.store else (),
        "cartridges": [_cartridge(one, number) for number, one in enumerate(water.cartridges)],
        "lamps": list(_lamps(water)),
        "loops": [_loop(loop, water, number) for number, loop in enumerate(water.loops)],
        "elsewhere": [Group(place.name or _("Nowhere said"),
                         tuple(line_of(one) for one in place.judged)) for place in water.places],
        "cautions": water.cautions,
        "described": water.described,
    }  # fmt: skip


def _measures(store: StoreNow, today: date) -> list[tuple[str, str]]:
    """What there is to know of the reservoir besides its level."""
    keeping, fill = store.keeping, store.outlook.fill
    found = [
        (_("Full"), text(round(keeping.store.full_l), "L")),
        (_("Reserve, never to be touched"), text(round(keeping.reserve_l), "L")),
        (_("Drawn in a day, on average"), text(round(store.outlook.daily_use_l), "L")),
    ]
    if fill.by is not None:
        found += [(_("Fill by"), saying.near_day(fill.by, today)),
                  (_("Water that takes"), text(round(fill.litres, -1), "L"))]  # fmt: skip
        if fill.pump_hours is not None:
            found.append((_("Pump hours"), text(round(fill.pump_hours, 1), "h")))
    return found


def blank(where: str, quantity: str) -> Blank:
    """A reading to be typed."""
    unit = UNITS[quantity][0]
    words = str(saying.QUANTITIES.get(quantity, quantity))
    return Blank(where, quantity, words, {"1": "", "percent": "%"}.get(unit, unit))


def line_of(one: Judged, where: str = "") -> Line:
    """A judged reading as a line; with a place, one that can be read again there."""
    word = "old" if one.old and one.word == "within" else one.word
    own = blank(where, one.quantity) if where and one.quantity in UNITS else None
    return Line(
        str(saying.QUANTITIES.get(one.quantity, one.quantity)), saying.value_of(one),
        saying.limits_of(one.bounds, one.unit), saying.short(one.when) if one.when else "",
        saying.SHAPES[word], str(saying.WORDS[word]) if one.bounds != Bounds() or one.old
        else "", one.working, own, None if one.value is None else float(f"{one.value:.3g}"),
        one.unit,
    )  # fmt: skip


def _level(water: WaterNow) -> str:
    """Where the number of the level is from."""
    store = water.store
    if store is None or store.read is None:
        return _("Nobody has read the level yet: this is the description's.")
    named = {"when": saying.short(store.read)}
    if store.moved:
        return _("Read %(when)s, carried on by what was pumped and drawn since.") % named
    return _("Read %(when)s.") % named


def _cartridge(one: CartridgeNow, number: int) -> Group:
    pictures = []
    if len(one.drops) >= FEWEST_DRAWN:
        limit = [(one.change_kpa, _("change at %(drop)s") % {
            "drop": text(round(one.change_kpa), "kPa")})]  # fmt: skip
        meaning = f"{_rise(one)} {saying.due_words(one)}"
        pictures.append(reading_series(
            _("Pressure taken by the %(name)s, kPa") % {"name": one.name}, one.drops, limit,
            meaning, f"drop-{number}", due=one.due, at=one.change_kpa))  # fmt: skip
    flow = saying.flow_words(one.flow_l_min, one.flow_read)
    words = [_("Pressure taken: %(words)s.") % {"words": saying.drop_words(one)},
             _("Flow: %(words)s.") % {"words": flow}]  # fmt: skip
    if not pictures:
        words.append(saying.due_words(one))
    return Group(
        one.name, (), tuple(pictures),
        tuple(blank(one.name, what) for what in ("pressure before", "pressure after", "flow")),
        round(one.drop_kpa), "kPa", saying.SHAPES[one.word], str(saying.WORDS[one.word]),
        tuple(words),
    )  # fmt: skip


def _rise(one: CartridgeNow) -> str:
    (_first, low), (_last, high) = one.drops[0], one.drops[-1]
    return _("From %(low)s to %(high)s since it was put in.") % {
        "low": text(round(low), "kPa"), "high": text(round(high), "kPa")}  # fmt: skip


def _lamps(water: WaterNow) -> Iterator[Group]:
    for one in water.lamps:
        yield Group(
            one.name, (), (),
            tuple(blank(one.name, what) for what in ("UV intensity", "flow")),
            round(one.dose_mj_cm2 or 0.0), "mJ/cm²", saying.SHAPES[one.word],
            str(saying.WORDS[one.word]),
            (_("Flow: %(words)s.") % {"words": saying.flow_words(one.flow_l_min, one.flow_read)},
             saying.lamp_words(one)),
        )  # fmt: skip


def _loop(loop: LoopNow, water: WaterNow, number: int) -> Group:
    begin = water.now - timedelta(days=DAYS_BACK)
    pictures = []
    for place, quantity in enumerate(DRAWN):
        seen = since(water.readings.get((loop.name, quantity), ()), begin)
        bounds = next(one.bounds for one in loop.judged if one.quantity == quantity)
        if len(seen) >= FEWEST_DRAWN:
            pictures.append(_series(loop.name, quantity, seen, bounds, f"loop-{number}-{place}"))
    lines = tuple(line_of(one, loop.name) for one in loop.judged)
    return Group(loop.name, lines, tuple(pictures), read=loop.read)


def _series(
    where: str, quantity: str, seen: tuple[Seen, ...], bounds: Bounds, name: str
) -> Picture:
    """Readings of thirty days with the limits near them, and what they say."""
    unit = "" if UNITS[quantity][0] == "1" else UNITS[quantity][0]
    values = [one.value for one in seen]
    outside = sum(bounds.word(value) != "within" for value in values)
    named = {
        "n": len(seen), "low": text(min(values), "1", 3),
        "high": text(max(values), unit or "1", 3), "outside": outside,
        "last": text(values[-1], unit or "1", 3),
    }  # fmt: skip
    said = _("%(n)s readings between %(low)s and %(high)s, the last %(last)s;") % named
    said += " " + (_("%(outside)s of them outside the limits.") % named if outside
                   else _("all within the limits."))  # fmt: skip
    limits = [(value, word) for value, word in
              ((bounds.warn_low, _("at least")), (bounds.warn_high, _("at most")))
              if value is not None]  # fmt: skip
    words = str(saying.QUANTITIES[quantity])
    title = f"{where}: {words}" + (f", {unit}" if unit else "")
    points: list[tuple[datetime, float]] = [(one.when, one.value) for one in seen]
    return reading_series(title, points, limits, said, name)
