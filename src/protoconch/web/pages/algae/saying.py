"""The algae room in words."""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from uuid import UUID

from django.utils.formats import date_format
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, ngettext

from protoconch.algae.species import alga
from protoconch.pictures.words import amount
from protoconch.season.answer import SeasonPlan
from protoconch.units import text
from protoconch.web.pages.algae.seen import RoomNow
from protoconch.words import joined, say
from protoconch.work.cultures.schedule import MOVES_DAYS, Food
from protoconch.work.cultures.there import CultureNow
from protoconch.work.names import code_in_log
from protoconch.work.task import Task

SHAPES = {"ready": "●", "growing": "◐", "count it": "◇", "too old": "▲", "contaminated": "■",
          "no line": "◇", "dying": "▲"}  # fmt: skip
WORDS = {
    "ready": gettext_lazy("ready"), "growing": gettext_lazy("growing"),
    "count it": gettext_lazy("count it"), "too old": gettext_lazy("too old"),
    "contaminated": gettext_lazy("contaminated"), "no line": gettext_lazy("has no line here"),
    "dying": gettext_lazy("dying"),
}  # fmt: skip
PARTS = (("inoculate", gettext_lazy("start")), ("harvest", gettext_lazy("harvest")),
         ("empty a vessel", gettext_lazy("empty")))  # fmt: skip
BATCH = r"\b(?:batch|%s) ([A-Z]{1,2})\b"


@dataclass(frozen=True, slots=True)
class Line:
    """A culture as a line of the list."""

    culture: CultureNow
    shape: str
    word: str
    age: str
    litres: str
    density: str


def title(room: RoomNow) -> str:
    """The answer in words."""
    if room.room is None:
        return _("The algae room is not described yet")
    bad = [one for one in room.cultures if one.standing == "contaminated"]
    if bad:
        named = {"n": len(bad), "where": bad[0].vessel}
        return ngettext("One culture is contaminated: feed nothing from %(where)s",
                        "%(n)s cultures are contaminated: feed nothing from them",
                        len(bad)) % named  # fmt: skip
    if room.kept is not None and room.kept.kept.plan is not None:
        return _told_by_schedule(room)
    if room.cultures:
        ready = sum(one.standing == "ready" for one in room.cultures)
        said = ngettext("One culture is there, %(ready)s ready",
                        "%(all)s cultures are there, %(ready)s of them ready",
                        len(room.cultures))  # fmt: skip
        return said % {"all": len(room.cultures), "ready": ready}
    if room.schedule is not None:
        return _("No culture is logged yet; the first is to be started on %(day)s") % {
            "day": first_start(room)}  # fmt: skip
    return _("No culture is logged yet")


def first_start(room: RoomNow) -> str:
    """The day of the first start of the schedule."""
    assert room.schedule is not None  # noqa: S101 - asked only with a schedule
    assert room.first is not None  # noqa: S101
    number = min((life.started for life in room.schedule.lives), default=0)
    return date_format(room.first + timedelta(days=max(0, number)), _("j F"))


def _told_by_schedule(room: RoomNow) -> str:
    plan = room.kept.kept.plan if room.kept else None
    assert plan is not None  # noqa: S101 - asked only then
    begin = (room.today - plan.first).days
    near = [one for one in plan.spells if one.first < MOVES_DAYS and one.last >= begin]
    if not near:
        return _("Food for every tank in the next two weeks")
    tank = near[0].tank[:1].upper() + near[0].tank[1:]
    day = date_format(plan.first + timedelta(days=near[0].first), _("l j F"))
    named = {"tank": coded(tank, room.season), "day": day, "n": len({one.tank for one in near}) - 1}
    if not named["n"]:
        return _("%(tank)s goes short of food from %(day)s") % named
    return _("%(tank)s and %(n)s more go short of food from %(day)s") % named


def coded(words: str, season: SeasonPlan | None) -> str:
    """Words with the batches by the names that the log has for them."""
    if season is None:
        return words
    known = {batch.code for batch in season.batches}

    def name(found: re.Match[str]) -> str:
        if found[1] not in known:
            return found[0]
        return found[0].removesuffix(found[1]) + code_in_log(season, found[1])

    return re.sub(BATCH % re.escape(str(say("batch"))), name, str(words))


def todays(moves: Sequence[tuple[date, Sequence[Task]]], today: date) -> str:
    """What is to be done with cultures today, in a sentence."""
    tasks = next((found for day, found in moves if day == today), ())
    said = []
    for kind, word in PARTS:
        number = sum(task.kind == kind for task in tasks)
        if number:
            said.append(f"{word} {number}")
    if not said:
        return _("Nothing is to be moved today.")
    return _("Today: %(moves)s.") % {"moves": joined(said, ", ")}


def line_of(one: CultureNow) -> Line:
    """A culture in words."""
    age = ngettext("%(n)s day", "%(n)s days", int(one.age_d)) % {"n": int(one.age_d)}
    return Line(one, SHAPES[one.standing], str(WORDS[one.standing]), age,
                text(float(f"{one.litres:.3g}"), "L"), density(one))  # fmt: skip


def density(one: CultureNow) -> str:
    """The last count with its limits."""
    if not one.counts:
        return _("not counted")
    last = one.counts[-1]
    value, low, high = (f"{cells / 1e6:.3g}" for cells in (last.cells_per_ml, last.low, last.high))
    named = {"value": value, "low": low, "high": high, "day": date_format(last.when, _("j M"))}
    if last.low == last.high:
        return _("%(value)s million/mL on %(day)s") % named
    return _("%(value)s million/mL (%(low)s to %(high)s) on %(day)s") % named


@dataclass(frozen=True, slots=True)
class Count:
    """A count in words; uuid: of its entry."""

    uuid: UUID
    when: datetime
    value: str
    limits: str


def counts(one: CultureNow) -> list[Count]:
    """The counts of a culture in million cells per mL, the latest first."""
    found = []
    for each in reversed(one.counts):
        value, low, high = (f"{n / 1e6:.3g}" for n in (each.cells_per_ml, each.low, each.high))
        limits = "" if each.low == each.high else _("%(low)s to %(high)s") % {
            "low": low, "high": high}  # fmt: skip
        found.append(Count(each.entry, each.when, value, limits))
    return found


def harvested(one: CultureNow) -> str:
    """What was drawn from it so far, empty where nothing was."""
    return text(float(f"{one.harvested_l:.3g}"), "L") if one.harvested_l else ""


def food_words(one: Food, begin: date) -> tuple[str, str, str, str]:
    """A species: its name, grams asked and given in the two weeks, and what lacks."""
    asked, given = sum(one.asked_g), sum(one.given_g)
    lacks = _("nothing lacks")
    if one.days_short:
        place = next(i for i, (a, g) in enumerate(zip(one.asked_g, one.given_g, strict=True))
                     if g < a * (1 - 1e-6))  # fmt: skip
        first = date_format(begin + timedelta(days=place), _("j F"))
        lacks = ngettext("short on one day, %(day)s", "short on %(n)s days, first on %(day)s",
                         one.days_short) % {"n": one.days_short, "day": first}  # fmt: skip
    return alga(one.species).name, f"{amount(asked)} g", f"{amount(given)} g", lacks
