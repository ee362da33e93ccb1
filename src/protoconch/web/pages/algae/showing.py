"""What the Algae page shows of a room, worked out once for a state and a schedule."""

from collections.abc import Hashable
from typing import Any

from protoconch.algae.species import alga
from protoconch.pictures.algae_supply import algae_supply
from protoconch.sheets.algae_section import algae_words
from protoconch.web.pages.algae import saying
from protoconch.web.pages.algae.seen import RoomNow
from protoconch.web.shell.kept import ByReader
from protoconch.work.cultures.schedule import food, held, moves

_kept = ByReader(40)


def shown(room: RoomNow) -> dict[str, Any]:
    """All parts of the page."""
    return {
        "title": saying.title(room), "room": room, "steps": _steps(room),
        **_of_schedule(room), **_of_season(room),
    }  # fmt: skip


def _steps(room: RoomNow) -> list[tuple[str, list[saying.Line]]]:
    """The cultures by kind of vessel, the largest first: they feed."""
    if room.room is None:
        return []
    kinds = [kind.name for kind in reversed(room.room.room.kinds)]
    kinds += sorted({one.kind for one in room.cultures} - set(kinds))
    groups = [(kind, [saying.line_of(one) for one in room.cultures if one.kind == kind])
              for kind in kinds]  # fmt: skip
    return [(kind, lines) for kind, lines in groups if lines]


def _of_schedule(room: RoomNow) -> dict[str, Any]:
    """Moves, food and spares by the schedule that holds."""
    if room.schedule is None or room.first is None or room.season is None:
        return {"moves": (), "food": (), "held": (), "todays": "", "losses": (), "said": ()}
    made = str(room.kept.made) if room.kept else ""
    key: Hashable = ("schedule", made, room.today, str(room.state.last), room.state.entries)
    return _kept.of(room.season, key, lambda: _schedule(room))


def _schedule(room: RoomNow) -> dict[str, Any]:
    assert room.schedule is not None  # noqa: S101 - asked only with a schedule
    assert room.first is not None  # noqa: S101
    found = moves(room.schedule, room.first, room.today)
    kept = room.kept.kept if room.kept else None
    said = kept.plan.sentences if kept and kept.plan else ()
    return {
        "moves": found,
        "todays": saying.todays(found, room.today),
        "food": [saying.food_words(one, room.today) for one in food(room.schedule, room.day)],
        "held": [(alga(one.species).name, one)
                 for one in held(room.schedule, room.day, room.there)],
        "said": [saying.coded(words, room.season) for words in said],
        "losses": [(loss, alga(loss.species).name,
                    [saying.coded(words, room.season) for words in loss.sentences])
                   for loss in (kept.losses if kept else ())],
    }  # fmt: skip


def _of_season(room: RoomNow) -> dict[str, Any]:
    """The season's supply against its demand."""
    answer, season = room.answer, room.season
    if answer is None or season is None:
        return {"supply": None, "season_words": ""}
    supply = _kept.of(season, "supply", lambda: algae_supply(answer), answer)
    return {"supply": supply, "season_words": algae_words(answer)}
