"""What people bring to a hatchery file: hours, permit, season, target."""

from datetime import date
from typing import Any

from protoconch.errors import UnknownName
from protoconch.hatchery.calendar_words import month_name, months, weekday_name, weekdays
from protoconch.hatchery.description import Permit, Target
from protoconch.hatchery.section import NO_DAY, Section, sensible
from protoconch.sources.reading_toml import shown
from protoconch.units import text
from protoconch.words import begun, counted, joined, say

LONGEST_SEASON_DAYS = 366


def crew_hours(crew: Section) -> tuple[float, ...]:
    """Hours of work of all hands together, by weekday, Monday first [h, 7 values]."""
    people = crew.whole("people") if crew.has("people") else 1
    limit = sensible()["crew.hours"]
    hours: dict[int, float] = {}
    for key, typed in crew.table.items():
        if key == "people":
            continue
        try:
            days = weekdays(key)
        except UnknownName as error:
            crew.fault(
                key,
                say(
                    "{error} In [crew] a line is a weekday or a range, and its hours.",
                    error=error.sentence,
                ),
            )
            continue
        for day in days:
            if day in hours:
                crew.fault(
                    key, say("{weekday} is given twice in [crew].", weekday=say(weekday_name(day)))
                )
            hours[day] = 0.0
        given = crew.number((*crew.path, key), typed, limit)
        if given is None:
            continue
        most = (limit.high or 0.0) * max(people, 1)
        if not 0 <= given <= most:
            crew.fault(
                key,
                counted(
                    max(people, 1),
                    "{key} has {given} h of work for {number} person, outside 0 to {most} h; give"
                    " the hours of all hands together, and how many hands as people = 2.",
                    "{key} has {given} h of work for {number} people, outside 0 to {most} h; give"
                    " the hours of all hands together, and how many hands as people = 2.",
                    key=key.capitalize(),
                    given=text(given),
                    most=text(most),
                ),
            )
        hours.update(dict.fromkeys(days, given))
    lacking = [weekday_name(day) for day in range(7) if day not in hours]
    if lacking:
        crew.fault(
            "monday",
            say(
                "The hours of {lacking} are missing in [crew]; 0 where none.",
                lacking=joined(lacking, ", "),
            ),
        )
    elif not any(hours.values()):
        crew.fault("monday", say("No weekday in [crew] has any hours of work."))
    return tuple(hours.get(day, 0.0) for day in range(7))


def permit(section: Section) -> Permit:
    """What the permit allows."""
    found = Permit(
        egg_masses=section.whole("egg_masses"),
        months=permit_months(section),
        area=section.words("area"),
        number=section.words("number"),
    )
    section.close()
    return found


def permit_months(section: Section) -> tuple[int, ...]:
    """Months in which the permit allows collecting, from a range, a list, or both."""
    wanted = say('months must be as in "April to September", ["April", "May"] or [4, 5]')
    if not section.has("months"):
        section.fault("months", say("months is missing in [permit]; {wanted}.", wanted=wanted))
        return ()
    typed: Any = section.table["months"]
    entries = typed.split(",") if isinstance(typed, str) else typed
    entries = [entries] if isinstance(entries, int) else entries
    sound = isinstance(entries, list) and all(
        isinstance(entry, str | int) and not isinstance(entry, bool) for entry in entries
    )
    if not sound or not entries:
        section.fault("months", say("{wanted}, not {typed}.", wanted=wanted, typed=shown(typed)))
        return ()
    try:
        return months(str(entry) for entry in entries)
    except (UnknownName, ValueError) as error:
        why = error.sentence if isinstance(error, UnknownName) else str(error)
        said = say("{error} {wanted}.", error=why, wanted=begun(wanted))
        section.fault("months", said)
        return ()


def season(section: Section, permitted: tuple[int, ...]) -> tuple[date, date]:
    """First and last day on which egg masses may be collected."""
    first, last = section.day("first_day"), section.day("last_day")
    section.close()
    if NO_DAY in (first, last):
        return first, last
    if last < first:
        section.fault(
            "last_day",
            say("last_day is {last}, before first_day, which is {first}.", last=last, first=first),
        )
    elif (last - first).days >= LONGEST_SEASON_DAYS:
        section.fault(
            "last_day",
            say(
                "The season from {first} to {last} is longer than a year; plan one season.",
                first=first,
                last=last,
            ),
        )
    elif permitted and not permitted_days(first, last, permitted):
        allowed = ", ".join(month_name(month) for month in permitted)
        section.fault(
            "first_day",
            say(
                "No day from {first} to {last} lies in a month of the permit ({allowed}).",
                first=first,
                last=last,
                allowed=allowed,
            ),
        )
    return first, last


def permitted_days(first: date, last: date, permitted: tuple[int, ...]) -> bool:
    """Whether any month of the season is one of the permit's."""
    span = (last.year - first.year) * 12 + last.month - first.month
    return any((first.month - 1 + step) % 12 + 1 in permitted for step in range(span + 1))


def target(section: Section, first_day: date) -> Target:
    """The target that the file states."""
    found = Target(
        animals=section.whole("animals"),
        size_mm=section.measure("size"),
        by=section.day("by"),
        confidence=section.measure("confidence"),
    )
    section.close()
    if NO_DAY not in (found.by, first_day) and found.by <= first_day:
        section.fault(
            "by", say("The target is due on {by}, before the season has begun.", by=found.by)
        )
    return found
