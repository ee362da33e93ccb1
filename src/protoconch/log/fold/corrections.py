"""Entries as they read after all corrections of them, and what people confirmed.

A correction or a confirmation counts for the entry it points at whenever it was made: the log then
reads as if that entry had been right from the start. Several of one entry count in their order: a
later one that takes it back, changes it or confirms it decides whether it stands, and of each part
(time, place, content) the last one given holds. Taking a correction back restores what it changed.
Two standing corrections that disagree leave a doubt, which confirming the later one settles. A
correction cannot be turned to another entry: an `of` changed by a correction of it is ignored.
What was confirmed and then given other content counts as not confirmed again.
"""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import NamedTuple
from uuid import UUID

from protoconch.errors import BadInput
from protoconch.hatchery.vessels import Vessel
from protoconch.log.entry import Entry
from protoconch.log.fold.order import place
from protoconch.log.kinds import KINDS
from protoconch.log.payloads.words import Confirmed, Correction
from protoconch.log.reading.payloads import read_payload
from protoconch.log.reading.places import place_fault
from protoconch.log.state import Doubt
from protoconch.words import say

POINTING = ("correction", "confirmed")
Pointers = Mapping[UUID, Sequence[Entry]]
"""Corrections and confirmations by the entry they point at."""

Root = tuple[Entry | None, UUID | None]
Roots = dict[UUID, Root]
"""Where the pointers of a correction end, by the id of the correction."""


class Item(NamedTuple):
    """One entry in its place, as it reads now.

    counted: False for what was taken back and for corrections and confirmations themselves.
    confirmed: a person said that it stands. awaits: an entry it points at that the log lacks.
    """

    place: int
    entry: Entry
    counted: bool = True
    confirmed: bool = False
    doubts: tuple[Doubt, ...] = ()
    awaits: UUID | None = None


def target(entry: Entry) -> UUID | None:
    """The entry that a correction or confirmation points at, None for other kinds."""
    payload = entry.payload
    return payload.of if isinstance(payload, Correction | Confirmed) else None


def plain_item(entry: Entry, pointers: Pointers, vessels: Mapping[str, Vessel]) -> Item:
    """An entry that is no correction, with all that point at it worked in."""
    if entry.id not in pointers:
        return Item(place(entry.happened, entry.id), entry)
    done: dict[UUID, Item] = {}
    for node in reversed(below(entry, pointers)):
        standing = [done[p.id] for p in pointers.get(node.id, ()) if p.id != node.id]
        done[node.id] = _corrected(node, sorted(standing, key=lambda i: i.place), vessels)
    found = done[entry.id]
    when = found.entry.happened
    doubts = (replace(doubt, when=when) for item in done.values() for doubt in item.doubts)
    return found._replace(doubts=tuple(doubts))


def pointing_item(
    entry: Entry, known: Mapping[UUID, Entry], pointers: Pointers, vessels: Mapping[str, Vessel],
    roots: Roots,
) -> Item:  # fmt: skip
    """A correction or confirmation in its own place; a doubt where it points at nothing.

    One that was taken back leaves no doubt.
    """
    item = Item(place(entry.happened, entry.id), entry, counted=False)
    root, awaited = root_of(entry, known, roots)
    if root is not None:
        return item
    if awaited and entry.id in pointers and not plain_item(entry, pointers, vessels).counted:
        return item._replace(awaits=awaited)
    if awaited is not None:
        sentence = say(
            "A {kind} by {who} points at an entry that the log does not have.",
            kind=say(entry.kind),
            who=entry.who,
        )
        if entry.kind == "confirmed":
            sentence = say("{who} confirmed an entry that the log does not have.", who=entry.who)
        return item._replace(doubts=(_doubt(entry, (), sentence),), awaits=awaited)
    sentence = say("Corrections point at each other in a circle, so none of them counts.")
    return item._replace(doubts=(_doubt(entry, (), sentence),))


def root_of(entry: Entry, known: Mapping[UUID, Entry], found: Roots) -> Root:
    """The entry at the end of the pointers, else the id that is missing; neither in a circle.

    found: what was found of other entries of the same log, to be added to.
    """
    way: dict[UUID, None] = {}
    while True:
        of = target(entry)
        if of is None:
            root: Root = (entry, None)
        elif entry.id in found:
            root = found[entry.id]
        elif entry.id in way:
            root = (None, None)
        else:
            way[entry.id] = None
            if of in known:
                entry = known[of]
                continue
            root = (None, of)
        found.update(dict.fromkeys(way, root))
        return root


def below(entry: Entry, pointers: Pointers) -> list[Entry]:
    """The entry and all that point at it, directly or through others; each after its target."""
    found, seen = [entry], {entry.id}
    for node in found:
        for pointing in pointers.get(node.id, ()):
            if pointing.id not in seen:
                seen.add(pointing.id)
                found.append(pointing)
    return found


def _corrected(entry: Entry, pointing: list[Item], vessels: Mapping[str, Vessel]) -> Item:
    """The entry after those that point at it, in their order."""
    stands, confirmed = True, False
    doubts: list[Doubt] = []
    changed, before = entry, None
    for item in pointing:
        if not item.counted:
            continue
        said = item.entry.payload
        if isinstance(said, Confirmed):
            stands, confirmed = said.stands, said.stands
            continue
        assert isinstance(said, Correction)  # noqa: S101 - nothing else points
        fault = "" if said.withdraw else _fault(changed, said, vessels)
        if fault:
            sentence = say(
                "A correction of '{kind}' cannot be what it says. {fault}",
                kind=say(entry.kind),
                fault=fault,
            )
            doubts.append(_doubt(item.entry, (entry.id,), sentence))
            continue
        if before is not None and not item.confirmed and _disagree(before.entry.payload, said):
            sentence = say(
                "Two corrections of '{kind}' by {earlier} and {later} disagree; the later one "
                "counts.",
                kind=say(entry.kind),
                earlier=before.entry.who,
                later=item.entry.who,
            )
            doubt = _doubt(item.entry, (before.entry.id, entry.id), sentence)
            doubts.append(replace(doubt, counted=True))
        before, stands = item, not said.withdraw
        if not said.withdraw:
            changed, confirmed = as_corrected(changed, said), False
    spot = place(changed.happened, entry.id)
    return Item(spot, changed, stands, confirmed, tuple(doubts))


def as_corrected(entry: Entry, said: Correction) -> Entry:
    """The entry as a correction says that it should read; the entry itself where it is taken back.

    Raises: BadInput, where the new content is none for its kind.
    """
    payload = entry.payload
    if said.payload is not None:
        payload = read_payload(KINDS[entry.kind], said.payload)
        if isinstance(payload, Correction | Confirmed):
            payload = payload.model_copy(update={"of": target(entry)})
    return replace(
        entry, payload=payload, happened=said.happened or entry.happened,
        where=entry.where if said.where is None else said.where,
    )  # fmt: skip


def _fault(entry: Entry, said: Correction, vessels: Mapping[str, Vessel]) -> str:
    kind = KINDS[entry.kind]
    if said.where is not None and (fault := place_fault(kind, said.where, vessels)):
        return fault
    if said.payload is not None:
        try:
            read_payload(kind, said.payload)
        except BadInput as error:
            return str(error).splitlines()[0]
    return ""


def _disagree(first: object, second: Correction) -> bool:
    assert isinstance(first, Correction)  # noqa: S101 - only corrections are kept
    if first.withdraw or second.withdraw:
        return first.withdraw != second.withdraw
    parts = ((first.happened, second.happened), (first.where, second.where),
             (first.payload, second.payload))  # fmt: skip
    return any(one is not None and other is not None and one != other for one, other in parts)


def _doubt(later: Entry, earlier: tuple[UUID, ...], sentence: str) -> Doubt:
    return Doubt((later.id, *earlier), later.where, later.happened, sentence)
