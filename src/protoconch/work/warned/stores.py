"""Warnings of cultures, jars, the permit and the log itself."""

from collections.abc import Iterator
from datetime import date

from protoconch.hatchery.description import Hatchery
from protoconch.log.state import State
from protoconch.units import text
from protoconch.words import begun, say
from protoconch.work.parameters import table_values
from protoconch.work.warned.warning import Warned, caution

SHOWN = 5
"""Doubts that are told one by one."""


def culture_warnings(state: State) -> Iterator[Warned]:
    """Cultures in which something was found that should not be there."""
    for culture in state.cultures.values():
        if culture.found:
            found = say(culture.found) if culture.found != "unknown" else say("something unknown")
            yield Warned("algae", "now", culture.vessel,
                          say("In {vessel} {found} was found.", vessel=culture.vessel, found=found),
                          say("Feed nothing from it and pour it into no other vessel; end it, and "
                          "disinfect the vessel."), caution("chlorine"))  # fmt: skip


def store_warnings(state: State, day: date) -> Iterator[Warned]:
    """Jars that have expired or soon will."""
    soon = table_values("warnings")["expiry_within"]
    for jar in state.jars.values():
        if jar.expires is None or jar.amount <= 0:
            continue
        days = (jar.expires - day).days
        if days < 0:
            yield Warned("stores", "now", "", say("{item} expired on {expires:%-d %B %Y}.",
                item=begun(jar.item), expires=jar.expires),
                          say("Do not use it; order a new one."))  # fmt: skip
        elif days <= soon.number:
            yield Warned("stores", "soon", "", say("{item} expires in {days} days.",
                item=begun(jar.item), days=days),
                          say("Use it first, and order a new one."),
                              source=soon.source)  # fmt: skip


def permit_warnings(state: State, hatchery: Hatchery, day: date) -> Iterator[Warned]:
    """How many egg masses the permit still allows this season."""
    taken = sum(hatchery.first_day <= mass.collected.date() <= day
                for mass in state.masses.values())  # fmt: skip
    most, share = hatchery.permit.egg_masses, table_values("warnings")["permit_share"]
    number = hatchery.permit.number
    permit = say("the permit {number}", number=number) if number else say("the permit")
    if taken > most:
        yield Warned("permit", "now", "",
            say("The log has {taken} egg masses this season; {permit} allows {most}.", taken=taken,
                permit=permit, most=most), say("Collect no more, and tell the authority."),
                      source="own-log")  # fmt: skip
    elif most and taken >= share.number * most:
        left = most - taken
        sentence = begun(
            say(
                "{permit} allows {left} more egg masses this season.",
                permit=permit,
                left=text(left),
            )
        )
        do = (
            say("Collect only what the plan asks for.")
            if left
            else say("Collect no more this season.")
        )
        yield Warned("permit", "now" if not left else "soon", "", sentence, do, source=share.source)


def log_warnings(state: State) -> Iterator[Warned]:
    """Entries that cannot all be true, the latest first."""
    doubts = sorted(state.doubts, key=lambda doubt: doubt.when, reverse=True)
    for doubt in doubts[:SHOWN]:
        yield Warned("log", "soon", doubt.where, doubt.sentence,
                      say("Look at the entry: confirm it, or correct it."))  # fmt: skip
    if len(doubts) > SHOWN:
        yield Warned("log", "soon", "", say("{number} more entries are in doubt.",
            number=len(doubts) - SHOWN),
                      say("Go through them on the page of the log."))  # fmt: skip
