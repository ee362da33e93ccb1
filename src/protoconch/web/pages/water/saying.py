"""The water in words: the answer, what each line says, what is wrong."""

from datetime import date, datetime, timedelta

from django.utils.formats import date_format
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, ngettext

from protoconch.units import text
from protoconch.waterworks.assessment import LOOK_AHEAD_DAYS
from protoconch.web.pages.water.seen import WaterNow
from protoconch.work.waterside.cartridges import CartridgeNow
from protoconch.work.waterside.lamps import LampNow
from protoconch.work.waterside.loops import Bounds, Judged
from protoconch.work.waterside.store import StoreNow

NUMBERS = (
    gettext_lazy("no"), gettext_lazy("one"), gettext_lazy("two"), gettext_lazy("three"),
    gettext_lazy("four"), gettext_lazy("five"), gettext_lazy("six"), gettext_lazy("seven"),
    gettext_lazy("eight"), gettext_lazy("nine"), gettext_lazy("ten"),
)  # fmt: skip
SHAPES = {
    "within": "●", "good": "●", "look": "◆", "soon": "◆", "low": "▲", "act": "▲", "change": "▲",
    "danger": "▲", "dark": "▲", "not read": "○", "old": "○",
}  # fmt: skip
WORDS = {
    "within": gettext_lazy("within its limits"), "look": gettext_lazy("look into it"),
    "act": gettext_lazy("act now"), "not read": gettext_lazy("not read yet"),
    "old": gettext_lazy("read too long ago"),
    "good": gettext_lazy("in order"), "soon": gettext_lazy("soon due"),
    "change": gettext_lazy("change it"),
    "danger": gettext_lazy("change it now: it can give way"),
    "low": gettext_lazy("dose too low"), "dark": gettext_lazy("dark or dry"),
}  # fmt: skip
QUANTITIES = {
    "temperature": gettext_lazy("Temperature"), "salinity": gettext_lazy("Salinity"),
    "oxygen": gettext_lazy("Oxygen"), "pH": gettext_lazy("pH"),
    "ammonia as nitrogen": gettext_lazy("Ammonia, as nitrogen"),
    "un-ionised ammonia": gettext_lazy("Un-ionised part of it"),
    "nitrite as nitrogen": gettext_lazy("Nitrite, as nitrogen"),
    "nitrate as nitrogen": gettext_lazy("Nitrate, as nitrogen"),
    "level": gettext_lazy("Level"), "flow": gettext_lazy("Flow"),
    "pressure before": gettext_lazy("Pressure before it"),
    "pressure after": gettext_lazy("Pressure after it"),
    "UV intensity": gettext_lazy("UV intensity"),
}  # fmt: skip


def title(water: WaterNow, today: date) -> str:
    """The answer in words."""
    store = water.store
    if store is None:
        return _told_without_store(water)
    by, overdue = store.outlook.fill.by, store.outlook.fill.overdue
    if store.at_reserve:
        return _("The reservoir is down to its reserve; fill now")
    lasts = _lasts(store)
    if by is None:
        return lasts
    if overdue or by <= today:
        return _("%(lasts)s; fill now") % {"lasts": lasts}
    return _("%(lasts)s; fill by %(day)s") % {"lasts": lasts, "day": near_day(by, today)}


def _lasts(store: StoreNow) -> str:
    if store.days_left is None:
        return _("Water for more than %(n)s days") % {"n": LOOK_AHEAD_DAYS}
    said = ngettext("Water for %(n)s day", "Water for %(n)s days", store.days_left)
    return said % {"n": in_words(store.days_left)}


def _told_without_store(water: WaterNow) -> str:
    if water.level_l is not None:
        return _("The reservoir holds %(litres)s") % {"litres": text(round(water.level_l), "L")}
    if not water.described:
        return _("The seawater system is not described yet")
    return _("No reservoir is described; the rest of the water is below")


def in_words(number: int) -> str:
    """A small number as a word."""
    return str(NUMBERS[number]) if number < len(NUMBERS) else str(number)


def near_day(day: date, today: date) -> str:
    """A day of this week by its name, else with its date."""
    if day == today:
        return _("today")
    if day == today + timedelta(days=1):
        return _("tomorrow")
    if day <= today + timedelta(days=6):
        return date_format(day, "l")
    return date_format(day, _("j F"))


def wrong(water: WaterNow) -> list[str]:
    """What was read or worked out and wants seeing to, each in a few words."""
    found = []
    for loop in water.loops:
        found += [_said(loop.name, one) for one in loop.judged if one.word in ("look", "act")]
    for place in water.places:
        found += [_said(place.name or _("somewhere"), one) for one in place.judged
                  if one.word in ("look", "act") and not one.old]  # fmt: skip
    parts = [(part.name, str(part.word)) for part in water.cartridges]
    parts += [(lamp.name, str(lamp.word)) for lamp in water.lamps]
    return found + [f"{name}: {WORDS[word]}" for name, word in parts
                    if word not in ("good", "soon")]  # fmt: skip


def _said(where: str, one: Judged) -> str:
    words = {"where": where, "what": str(QUANTITIES.get(one.quantity, one.quantity)).lower()
             if one.quantity != "pH" else "pH", "value": value_of(one)}  # fmt: skip
    return _("%(where)s: %(what)s %(value)s") % words


def value_of(one: Judged) -> str:
    """The value with its unit."""
    return "" if one.value is None else text(one.value, one.unit or "1", 3)


def limits_of(bounds: Bounds, unit: str) -> str:
    """From where to look into it, in words."""
    low, high, unit = bounds.warn_low, bounds.warn_high, unit or "1"
    if low is not None and high is not None:
        return _("%(low)s to %(high)s") % {"low": text(low), "high": text(high, unit)}
    if low is not None:
        return _("at least %(low)s") % {"low": text(low, unit)}
    return _("at most %(high)s") % {"high": text(high, unit)} if high is not None else ""


def drop_words(one: CartridgeNow) -> str:
    """When its pressures were read, or that they were not."""
    if one.read is None:
        return _("worked out from the description: nobody has read both pressures since it was"
                 " put in")  # fmt: skip
    return _("read %(when)s") % {"when": short(one.read)}


def due_words(one: CartridgeNow) -> str:
    """When it is due, with what the doubt is."""
    if one.due is None:
        said = one.why
    elif one.due[1] == one.rots:
        said = _("Its pressures would let it stay longer.")
    else:
        best, early, late = (date_format(when, _("j M")) for when in one.due)
        said = _("By its pressures it is due about %(best)s, in eight cases of ten between"
                 " %(early)s and %(late)s.") % {"best": best, "early": early,
                                                "late": late}  # fmt: skip
    if one.rots is not None and one.fitted is not None:
        rots = _("Wet since %(begin)s: change or sanitise it by %(rots)s, whatever the pressure"
                 " says.") % {"begin": date_format(one.fitted, _("j M")),
                              "rots": date_format(one.rots, _("j M"))}  # fmt: skip
        said = f"{said} {rots}"
    return said


def flow_words(flow: float, read: datetime | None) -> str:
    """A flow, and where it is from."""
    named = {"flow": text(flow, "L/min", 3), "when": short(read) if read else ""}
    if read is None:
        return _("%(flow)s by the description") % named
    return _("%(flow)s, read %(when)s") % named


def lamp_words(one: LampNow) -> str:
    """What the dose rests on."""
    hours = text(round(one.hours, -1), "h")
    if one.intensity_pct is not None and one.intensity_read is not None:
        rests = _("Intensity %(share)s %% of a new clean lamp, read %(when)s.") % {
            "share": text(one.intensity_pct, "1", 3), "when": short(one.intensity_read),
        }  # fmt: skip
    elif one.hours_logged:
        rests = _("No intensity was read since the lamp was put in, so its age is reckoned.")
    else:
        rests = _("The log does not know when the lamp was put in: its age and dirt are those of"
                  " the description.")  # fmt: skip
    burnt = ""
    if one.hours_logged or one.hours > 0:
        burnt = " " + _("It has burnt about %(hours)s of %(life)s.") % {
            "hours": hours, "life": text(one.life_h, "h")}  # fmt: skip
    most = _("It gives the %(least)s wanted up to %(most)s.") % {
        "least": text(one.least_mj_cm2, "mJ/cm²"), "most": text(one.most_l_min, "L/min", 2),
    }  # fmt: skip
    return f"{rests}{burnt} {most}"


def short(when: datetime) -> str:
    """A moment as a line has room for it."""
    return date_format(when, "j M, H:i")
