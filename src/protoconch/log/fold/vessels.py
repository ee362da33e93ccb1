"""Animals into a vessel and out of it; every animal is in one vessel or in the account."""

from dataclasses import replace
from datetime import datetime, timedelta

from protoconch.log.entry import Entry
from protoconch.log.fold.ledger import Ledger
from protoconch.log.numbers import most_possible
from protoconch.log.state import STAGES, Holding
from protoconch.words import say

STALE = timedelta(days=14)
"""Settled animals are measured once in two weeks (common practice, no source)."""


def holding_at(ledger: Ledger, entry: Entry, did: str) -> Holding | None:
    """What the vessel of the entry holds; a doubt where that is nothing.

    did: what was done, to end the sentence "large tank 2 was ... though it was empty".
    Where the entry is confirmed, the batch that was last in the vessel is there again, with no
    animal yet; without one, the doubt stays, since nobody knows which batch it was.
    """
    holding = ledger.holdings.get(entry.where)
    if holding is not None:
        return holding
    before = ledger.emptied.get(entry.where)
    if before is None:
        sentence = say(
            "{where} was {did}, but the log never put animals into it.", where=entry.where, did=did
        )
        ledger.refuse(entry, sentence)
        return None
    sentence = say(
        "{where} was {did}, but it is empty since {when:%d %B} {when:%H:%M}, when batch {batch} "
        "left it.",
        where=entry.where,
        did=did,
        when=before.when,
        batch=before.batch,
    )
    if ledger.at_odds(entry, sentence, before):
        return None
    stage = STAGES.get(ledger.kind_of(entry.where), "veliger")
    return Holding(entry.where, before.batch, stage, entry.happened, 0, entry.happened)


def too_many(ledger: Ledger, entry: Entry, holding: Holding, number: int, did: str) -> bool:
    """True where more animals went than can have been there and nobody confirmed it."""
    if number <= most_possible(holding):
        return False
    sentence = say(
        "{number:,} animals were {did} {where}, but the ledger had {alive:,} in it.",
        number=number,
        did=did,
        where=entry.where,
        alive=holding.alive,
    )
    return ledger.at_odds(entry, sentence)


def take_out(ledger: Ledger, entry: Entry, holding: Holding, number: int) -> None:
    """So many animals leave a vessel; more than the ledger had were missed by the last count."""
    if number > holding.alive:
        missing(ledger, holding, holding.alive - number)
    leave(ledger, entry, holding, max(0, holding.alive - number), seen=False)


def leave(ledger: Ledger, entry: Entry, holding: Holding, alive: int, *, seen: bool) -> None:
    """So many stay in the vessel; none means that it is empty. seen: they were counted."""
    when = entry.happened if seen else holding.alive_seen
    if alive == 0:
        ledger.holdings[holding.vessel] = holding
        ledger.empty(holding.vessel, entry)
    else:
        ledger.fill(replace(holding, alive=alive, alive_seen=when))


def missing(ledger: Ledger, holding: Holding, number: int) -> None:
    """So many fewer were found than the ledger had; below zero, more."""
    if number and not ledger.in_incubator(holding.vessel):
        ledger.book(holding.batch, missing=number)


def add_to(
    ledger: Ledger, vessel: str, batch: str, number: int, when: datetime, *,
    length_mm: float | None = None, length_seen: datetime | None = None,
    litres: float | None = None,
) -> None:  # fmt: skip
    """Animals of a batch go into a vessel.

    Where another batch is in it, which only a confirmed entry can bring about, they are counted to
    that batch from now on: removed from their own and stocked to the other.
    """
    if number == 0:
        return
    there = ledger.holdings.get(vessel)
    kind = ledger.kind_of(vessel)
    if there is None:
        known = ledger.vessels.get(vessel)
        size = known.size if known is not None and known.unit == "L" else None
        ledger.fill(
            Holding(
                vessel, batch, STAGES.get(kind, "veliger"), when, number, when, length_mm,
                length_seen, litres or size or None,
            )
        )  # fmt: skip
        return
    if there.batch != batch:
        ledger.book(batch, removed=number)
        ledger.book(there.batch, stocked=number)
    mean, seen = _together(
        (there.alive, there.length_mm, there.length_seen), (number, length_mm, length_seen)
    )
    ledger.fill(
        replace(
            there, alive=there.alive + number, alive_seen=when, length_mm=mean, length_seen=seen,
            litres=litres or there.litres,
        )
    )  # fmt: skip


def _together(
    *parts: tuple[int, float | None, datetime | None],
) -> tuple[float | None, datetime | None]:
    """Mean length of animals of a batch that come together, and when it was seen.

    parts: number, mean length [mm], when that was seen. A length that was seen long before another
    says nothing of animals that have grown since: the later sample stands for all of them.
    """
    known = [
        (number, mean, seen)
        for number, mean, seen in parts
        if number and mean is not None and seen is not None
    ]
    if not known:
        return None, None
    last = max(seen for _, _, seen in known)
    fresh = [(number, mean) for number, mean, seen in known if last - seen <= STALE]
    return sum(n * mean for n, mean in fresh) / sum(n for n, _ in fresh), last
