"""The schedule of the algae room from the cultures that are there, kept because it takes long."""

from dataclasses import dataclass
from datetime import date, datetime
from functools import lru_cache
from hashlib import sha256
from typing import NamedTuple

from protoconch import __version__
from protoconch.algae.chain.present_plan import PresentPlan
from protoconch.errors import BadInput
from protoconch.log.state import State
from protoconch.records.models import Answer, Site
from protoconch.records.packing import packed, unpacked
from protoconch.records.queries.answers import question
from protoconch.work.cultures.schedule import Loss

ROOM = "algae room"
KEPT = 2


@dataclass(frozen=True, slots=True)
class KeptRoom:
    """A schedule as it is kept, for a day; fault: why there is none. losses: of tomorrow."""

    day: date
    plan: PresentPlan | None
    losses: tuple[Loss, ...] = ()
    fault: str = ""


class RoomPlanned(NamedTuple):
    """The latest schedule from present cultures.

    made: when. current: whether nothing that it follows from has changed since.
    """

    kept: KeptRoom
    made: datetime
    current: bool


def room_question(site: Site, state: State, today: date) -> str:
    """A hash of all that the schedule follows from: the season's plan, the cultures, the day."""
    whole = [__version__, question(site).key, today.isoformat()]
    for culture in sorted(state.cultures.values(), key=lambda one: one.vessel):
        last = culture.counts[-1].entry if culture.counts else None
        whole += [culture.vessel, culture.species, f"{culture.litres:.4g}", str(culture.started),
                  str(last), culture.found]  # fmt: skip
    whole += sorted(state.dirty)
    return sha256("\n".join(map(str, whole)).encode()).hexdigest()


def room_planned(site: Site, state: State, today: date) -> RoomPlanned | None:
    """The latest that is kept; None where none is, or another version of the program left it."""
    row = Answer.objects.filter(site=site, name=ROOM).order_by("-id").first()
    kept = _opened(bytes(row.content)) if row is not None else None
    if row is None or kept is None:
        return None
    return RoomPlanned(kept, row.made, row.question == room_question(site, state, today))


def keep_room(site: Site, asked: str, kept: KeptRoom) -> None:
    """Keep a schedule; the latest few stay."""
    mine = Answer.objects.filter(site=site, name=ROOM)
    mine.filter(question=asked).delete()
    Answer.objects.create(site=site, name=ROOM, question=asked, content=packed(kept))
    Answer.objects.filter(pk__in=list(mine.order_by("-id").values_list("pk", flat=True)[KEPT:])
                          ).delete()  # fmt: skip


@lru_cache(maxsize=16)
def _opened(content: bytes) -> KeptRoom | None:
    try:
        return unpacked(content, KeptRoom)
    except BadInput:
        return None
