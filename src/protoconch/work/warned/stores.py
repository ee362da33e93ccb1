"""Warnings of cultures, jars, the permit and the log itself."""

from collections.abc import Iterator
from datetime import date

from protoconch.hatchery.description import Hatchery
from protoconch.log.state import State
from protoconch.units import text
from protoconch.work.parameters import table_values
from protoconch.work.warned.warning import Warned, caution

SHOWN = 5
"""Doubts that are told one by one."""


def culture_warnings(state: State) -> Iterator[Warned]:
    """Cultures in which something was found that should not be there."""
    for culture in state.cultures.values():
        if culture.found:
            found = culture.found if culture.found != "unknown" else "something unknown"
            yield Warned("algae", "now", culture.vessel,
                          f"In {culture.vessel} {found} was found.",
                          "Feed nothing from it and pour it into no other vessel; end it, and "
                          "disinfect the vessel.", caution("chlorine"))  # fmt: skip


def store_warnings(state: State, day: date) -> Iterator[Warned]:
    """Jars that have expired or soon will."""
    soon = table_values("warnings")["expiry_within"]
    for jar in state.jars.values():
        if jar.expires is None or jar.amount <= 0:
            continue
        days = (jar.expires - day).days
        if days < 0:
            on = f"{jar.expires.day} {jar.expires:%B %Y}"
            yield Warned("stores", "now", "", f"{_name(jar.item)} expired on {on}.",
                          "Do not use it; order a new one.")  # fmt: skip
        elif days <= soon.number:
            yield Warned("stores", "soon", "", f"{_name(jar.item)} expires in {days} days.",
                          "Use it first, and order a new one.", source=soon.source)  # fmt: skip


def _name(item: str) -> str:
    return item[:1].upper() + item[1:]


def permit_warnings(state: State, hatchery: Hatchery, day: date) -> Iterator[Warned]:
    """How many egg masses the permit still allows this season."""
    taken = sum(hatchery.first_day <= mass.collected.date() <= day
                for mass in state.masses.values())  # fmt: skip
    most, share = hatchery.permit.egg_masses, table_values("warnings")["permit_share"]
    number = f" {hatchery.permit.number}" if hatchery.permit.number else ""
    if taken > most:
        yield Warned("permit", "now", "", f"The log has {taken} egg masses this season; the permit"
                      f"{number} allows {most}.", "Collect no more, and tell the authority.",
                      source="own-log")  # fmt: skip
    elif most and taken >= share.number * most:
        left = most - taken
        sentence = f"The permit{number} allows {text(left)} more egg masses this season."
        do = "Collect only what the plan asks for." if left else "Collect no more this season."
        yield Warned("permit", "now" if not left else "soon", "", sentence, do, source=share.source)


def log_warnings(state: State) -> Iterator[Warned]:
    """Entries that cannot all be true, the latest first."""
    doubts = sorted(state.doubts, key=lambda doubt: doubt.when, reverse=True)
    for doubt in doubts[:SHOWN]:
        yield Warned("log", "soon", doubt.where, doubt.sentence,
                      "Look at the entry: confirm it, or correct it.")  # fmt: skip
    if len(doubts) > SHOWN:
        yield Warned("log", "soon", "", f"{len(doubts) - SHOWN} more entries are in doubt.",
                      "Go through them on the page of the log.")  # fmt: skip
