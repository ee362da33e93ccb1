"""What a lost culture means for the tanks, and what to do: one answer, in sentences."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from protoconch.algae.chain.answer import AlgaeAnswer, moved
from protoconch.algae.chain.shortfalls import Shortfall, remedy, shortfalls
from protoconch.algae.chain.what_if import Replan, replanned
from protoconch.units import text
from protoconch.words import begun, counted, phrase, say

SAME_SPELL_D = 3
"""Days from one shortage of a tank to the next that are told as one; diatoms for trays are settled
every third day."""


@dataclass(frozen=True, slots=True)
class Spell:
    """A tank that lacks a species on one day after another.

    first, last: days of the schedule. days: on how many of them it lacks. missing_g: altogether.
    remedy: what to do, in words, for all these days together.
    """

    tank: str
    species: str
    first: int
    last: int
    days: int
    missing_g: float
    remedy: str


@dataclass(frozen=True, slots=True)
class Loss:
    """The room made anew after a loss.

    replan: the schedule, its day 0 is the morning of the loss. spells: who goes short, when and
    what to do; sentences: the same in words, first what the new schedule does.
    """

    replan: Replan
    spells: tuple[Spell, ...]
    sentences: tuple[str, ...]


def after_loss(
    answer: AlgaeAnswer, day: int, *, lost: tuple[tuple[str, int], ...] = (),
    missing: tuple[tuple[str, int], ...] = (), effort: float = 0.4,
) -> Loss:  # fmt: skip
    """A new schedule from the morning of a day, and what it leaves short.

    day: of the answer's schedule. lost, missing, effort: as in `what_if.replanned`.
    Raises: BadInput, where a vessel holds nothing or does not exist, or the day is outside.
    """
    anew = replanned(answer.plan, day, lost=lost, missing=missing, effort=effort)
    tanks = [food for food in moved(answer.demand.tanks, -day) if food.day >= 0]
    short = spells(shortfalls(anew.plan, tanks, answer.diatom_from_d))
    first = answer.day(day)
    return Loss(anew, short, tuple(_sentences(anew, short, first)))


def spells(short: Sequence[Shortfall]) -> tuple[Spell, ...]:
    """Shortages of the same tank and species on days near each other, taken together."""
    groups: dict[tuple[str, str], list[list[Shortfall]]] = {}
    for entry in short:
        runs = groups.setdefault((entry.tank, entry.species), [])
        if runs and entry.day - runs[-1][-1].day <= SAME_SPELL_D:
            runs[-1].append(entry)
        else:
            runs.append([entry])
    found = [_spell(run) for runs in groups.values() for run in runs]
    return tuple(sorted(found, key=lambda spell: (spell.first, spell.tank, spell.species)))


def spell_told(spell: Spell, first: date) -> str:
    """A spell as a sentence; first: calendar day of the schedule's day 0."""
    start, end = (first + timedelta(days=day) for day in (spell.first, spell.last))
    when = say("on {start:%-d %B}", start=start)
    if spell.days > 1:
        when = say(
            "on {days} days from {start:%-d %B} to {end:%-d %B}",
            days=spell.days,
            start=start,
            end=end,
        )
    lacks = phrase("{tank} lacks {grams} of {species} {when}: {remedy}.")
    if spell.tank.startswith("trays"):
        lacks = phrase("{tank} lack {grams} of {species} {when}: {remedy}.")
    return say(
        lacks,
        tank=begun(spell.tank),
        grams=text(spell.missing_g, "g", 2),
        species=spell.species,
        when=when,
        remedy=spell.remedy,
    )


def _spell(run: Sequence[Shortfall]) -> Spell:
    shift: dict[str, float] = {}
    for entry in run:
        for other, grams in entry.shift_to:
            shift[other] = shift.get(other, 0.0) + grams
    missing = sum(entry.missing_g for entry in run)
    thin = max(entry.thin_share for entry in run)
    words = remedy(missing, tuple(shift.items()), thin, trays=run[0].trays)
    one = run[0]
    return Spell(one.tank, one.species, one.day, run[-1].day, len(run), missing, words)


def _sentences(anew: Replan, short: Sequence[Spell], first: date) -> Iterator[str]:
    starts = counted(anew.moved, "one start", "{number} starts")
    yield (
        say(
            "Planned anew from {first:%-d %B}: {starts} of the first week changed; "
            "{after:.1f} species-days go short instead of {before:.1f}.",
            first=first,
            starts=starts,
            after=anew.after,
            before=anew.before,
        )
    )
    if not short:
        yield say("No tank goes short.")
    for spell in short:
        yield spell_told(spell, first)
