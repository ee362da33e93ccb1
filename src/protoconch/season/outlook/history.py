"""From the entries of a log to what was done with each lot and what was seen of it.

A lot is a larval tank of a batch and all that comes of it. It is followed from vessel to vessel by
the share of its animals that each vessel holds; a count in one of four trays is a count of a
quarter of the lot. What nobody could have meant is left out, with a sentence.
"""

from collections.abc import Callable, Iterable, Mapping, Set
from datetime import date
from typing import Any
from uuid import UUID

import numpy as np

from protoconch.log.entry import Entry
from protoconch.log.payloads import animals, water
from protoconch.season.outlook.lots import LotRead, Vessels, WaterRead
from protoconch.season.outlook.plausible import Doubting, doubting
from protoconch.season.outlook.seen import (
    BatchCourse,
    Doubted,
    History,
    Kind,
    Observation,
    Part,
    Removal,
    Reset,
)
from protoconch.season.outlook.standing import standing
from protoconch.sources.values import SourcedValue
from protoconch.words import say

REMOVAL = 0.3
"""A loss of at least this share of a vessel is an accident that takes them out at once; a smaller
one is taken for animals found dead, which the mortality of the stage covers."""
SAMPLE = 0.5
"""Larvae offered settlement are a sample where they are fewer than this share of the vessel."""
FASTEST = 2.5
"""Growth multiplier of a mean that is still believed."""


class _Reader:
    """One pass over the entries; made for a single call of `history`."""

    def __init__(self, first_day: date, known: Vessels, doubt: Doubting,
                 confirmed: frozenset[UUID]) -> None:  # fmt: skip
        self.first_day, self.vessels, self.doubt = first_day, known, doubt
        self.confirmed = confirmed
        self.lots: dict[str, LotRead] = {}
        self.batches: dict[str, BatchCourse] = {}
        self.holding: dict[str, dict[str, float]] = {}
        self.eggs: dict[str, str] = {}
        self.seen: list[Observation] = []
        self.water = WaterRead()
        self.doubted: list[Doubted] = []
        self.released, self.masses = 0.0, 0
        self.acts: dict[type, Callable[[Entry, Any], None]] = {
            animals.Counted: self._counted, animals.Measured: self._measured,
            animals.CompetenceChecked: self._checked, animals.Thinned: self._thinned,
            animals.Moved: self._moved, animals.Settled: self._settled,
            animals.Graded: self._graded, animals.Weighed: self._weighed,
            animals.Lost: self._lost, animals.Released: self._released,
        }  # fmt: skip

    def day_of(self, entry: Entry) -> int:
        return (entry.happened.date() - self.first_day).days

    def read(self, entry: Entry) -> None:
        """Take up one entry, where it makes sense."""
        what = entry.payload
        if isinstance(what, water.Read):
            if what.quantity == "temperature":
                kind = self.vessels.sizes.get(entry.where, ("", 0.0))[0]
                held = bool(self.holding.get(entry.where)) or entry.where in self.eggs
                self.water.read(self.day_of(entry), what.value, kind, held=held)
            return
        if isinstance(what, animals.EggMassCollected):
            self.masses += 1
        elif isinstance(what, animals.IncubatorLoaded):
            self._batch(what.batch, self.day_of(entry), what.eggs)
            self.eggs[entry.where] = what.batch
        elif isinstance(what, animals.Hatched):
            self._hatched(entry, what)
        elif isinstance(what, animals.Stocked):
            self._stocked(entry, what)
        else:
            self._in_vessel(entry)

    def _in_vessel(self, entry: Entry) -> None:
        what, do = entry.payload, self.acts.get(type(entry.payload))
        if do is None:
            return
        if not self.holding.get(entry.where):
            kind = self.vessels.sizes.get(entry.where, ("", 0.0))[0]
            if kind != "incubator":
                self._doubt(entry, _nobody_there(entry))
            return
        do(entry, what)

    def _doubt(self, entry: Entry, sentence: str) -> None:
        self.doubted.append(Doubted(entry.id, sentence))

    def _doubtful(self, entry: Entry, sentence: str) -> bool:
        """Leave an entry out if there is a reason to, unless a person stands by it."""
        if not sentence or entry.id in self.confirmed:
            return False
        self._doubt(entry, sentence)
        return True

    def _batch(self, code: str, day: int, eggs: float | None) -> BatchCourse:
        old = self.batches.get(code)
        eggs = float(eggs) if eggs is not None else None
        if old is None:
            self.batches[code] = BatchCourse(code, day, eggs, None)
        elif eggs is not None:
            together = eggs + (old.eggs or 0.0)
            self.batches[code] = BatchCourse(code, old.started, together, old.hatched)
        return self.batches[code]

    def _hatched(self, entry: Entry, what: animals.Hatched) -> None:
        day = self.day_of(entry)
        batch = self._batch(what.batch, day, None)
        self.eggs = {where: code for where, code in self.eggs.items() if code != what.batch}
        if batch.hatched is None:
            self.batches[what.batch] = BatchCourse(batch.code, batch.started, batch.eggs, day)
            if day > batch.started:
                self._note(entry, "hatch day", (), what.batch)
        if what.veligers and batch.eggs:
            self._note(entry, "hatch count", (batch.eggs, float(what.veligers)), what.batch)

    def _stocked(self, entry: Entry, what: animals.Stocked) -> None:
        day = self.day_of(entry)
        batch = self._batch(what.batch, day, None)
        if batch.hatched is None:
            batch = BatchCourse(batch.code, batch.started, batch.eggs, day)
            self.batches[what.batch] = batch
        key = f"{what.batch} {entry.where}"
        kind, size = self.vessels.sizes.get(entry.where, ("larval tank", what.litres or 0.0))
        if key in self.lots and self.lots[key].ended is None:
            lot = self.lots[key]
            lot.known += what.animals
            lot.resets.append(Reset(day, lot.known, lot.induced is not None))
        else:
            litres = what.litres or (size if kind == "larval tank" else 0.0)
            lot = LotRead(key, what.batch, entry.where, float(litres),
                       [Reset(day, float(what.animals))], known=float(what.animals))  # fmt: skip
            lot.induced = day if kind != "larval tank" else None
            lot.resets = [Reset(day, float(what.animals), lot.induced is not None)]
            lot.nursery = day if kind == "nursery tank" else None
            self.lots[key] = lot
        lot.told = lot.looked = day
        self.holding.setdefault(entry.where, {})[key] = 1.0

    def _held(self, where: str) -> float:
        return sum(share * self.lots[key].known for key, share in self.holding[where].items())

    def _parts(self, where: str) -> tuple[Part, ...]:
        return tuple(
            Part(key, share, len(lot.resets), len(lot.removals), lot.induced is not None)
            for key, share in self.holding[where].items()
            for lot in [self.lots[key]]
        )

    def _note(self, entry: Entry, kind: Kind, numbers: tuple[float, ...], batch: str = "") -> None:
        """Keep what was seen."""
        parts = () if batch else self._parts(entry.where)
        code = batch or max(parts, key=lambda part: part.share).lot.split(" ", 1)[0]
        self.seen.append(Observation(entry.id, code, entry.where, self.day_of(entry), kind,
                                     numbers, parts, entry.kind))  # fmt: skip

    def _told(self, where: str, found: float, day: int) -> None:
        """Take a number as the last known of the lots in a vessel."""
        held = self._held(where)
        for key, share in self.holding[where].items():
            lot = self.lots[key]
            lot.known *= 1 - share + share * (found / held if held > 0.0 else 1.0)
            lot.told = day

    def _number(self, entry: Entry, kind: Kind, found: float, numbers: tuple[float, ...],
                aliquots: int = 0, counted: float | None = None) -> bool:  # fmt: skip
        """Keep a number of animals if it can be true."""
        day, where = self.day_of(entry), entry.where
        since = day - min(self.lots[key].told for key in self.holding[where])
        looked_at = found if counted is None else counted
        sentence = self.doubt.of_count(found, self._held(where), since, looked_at, aliquots)
        if self._doubtful(entry, sentence):
            return False
        self._note(entry, kind, numbers)
        self._told(where, found, day)
        return True

    def _counted(self, entry: Entry, what: animals.Counted) -> None:
        if what.animals is not None:
            self._number(entry, "total", float(what.animals), (float(what.animals),))
        elif what.aliquot_ml and what.litres:
            total, m = float(sum(what.aliquots)), len(what.aliquots)
            found = total / m * what.litres * 1000.0 / what.aliquot_ml
            numbers = (what.aliquot_ml, what.litres, *map(float, what.aliquots))
            self._number(entry, "aliquots", found, numbers, m, total)

    def _measured(self, entry: Entry, what: animals.Measured) -> None:
        if what.lengths_mm:
            mean = sum(what.lengths_mm) / len(what.lengths_mm)
            self._length(entry, "lengths", mean, tuple(what.lengths_mm))
        elif what.mean_mm is not None:
            numbers = (what.mean_mm, what.sd_mm or 0.0, float(what.animals or 1))
            self._length(entry, "mean length", what.mean_mm, numbers)

    def _length(self, entry: Entry, kind: Kind, mean: float, numbers: tuple[float, ...]) -> None:
        day, path = self.day_of(entry), self.vessels.path
        lots = [self.lots[key] for key in self.holding[entry.where]]
        settled = [lot.induced for lot in lots if lot.induced is not None]
        low, high = 0.1, 2.0 * float(path.lengths_mm[0])
        if settled:
            low = 0.4 * float(path.lengths_mm[0])
            high = 2.0 * float(path.lengths_mm[0]) + float(
                path.length_mm(np.array((day - min(settled)) * FASTEST))
            )
        if not self._doubtful(entry, self.doubt.of_length(mean, low, high)):
            self._note(entry, kind, numbers)

    def _checked(self, entry: Entry, what: animals.CompetenceChecked) -> None:
        self._note(entry, "competent", (float(what.looked_at), float(what.competent)))

    def _thinned(self, entry: Entry, what: animals.Thinned) -> None:
        day, held = self.day_of(entry), self.holding[entry.where]
        whole = len(held) == 1 and all(share > 0.999 for share in held.values())
        if whole:
            lot = self.lots[next(iter(held))]
            sentence = self.doubt.of_count(what.kept, lot.known, day - lot.told, what.kept, 0)
            if self._doubtful(entry, sentence if what.kept > lot.known else ""):
                return
            lot.resets.append(Reset(day, float(what.kept), lot.induced is not None))
            lot.known, lot.told = float(what.kept), day
            return
        before = what.kept + (what.removed or 0)
        if before > 0 and what.removed:
            self._take_out(entry, what.kept / before)
        self._number(entry, "total", float(what.kept), (float(what.kept),))

    def _take_out(self, entry: Entry, kept: float) -> None:
        """Take the share 1 - kept of a vessel's animals out of its lots."""
        day = self.day_of(entry)
        for key, share in list(self.holding[entry.where].items()):
            lot = self.lots[key]
            left = 1.0 - share * (1.0 - kept)
            if left < 1e-6:
                lot.ended, lot.known = day, 0.0
            else:
                lot.removals.append(Removal(day, left, len(lot.resets)))
                lot.known *= left
            for held in self.holding.values():
                if key in held:
                    held[key] *= kept if held is self.holding[entry.where] else 1.0
                    held[key] /= max(left, 1e-9)
            if kept <= 0.0 or lot.ended is not None:
                for held in self.holding.values():
                    if lot.ended is not None or held is self.holding[entry.where]:
                        held.pop(key, None)

    def _moved(self, entry: Entry, what: animals.Moved) -> None:
        day, held = self.day_of(entry), self.holding[entry.where]
        kinds = [self.vessels.sizes.get(name, ("", 0.0)) for name in what.to]
        here = self.vessels.sizes.get(entry.where, ("", 0.0))[0]
        known = self._held(entry.where)
        part = 1.0
        settling = here == "larval tank" and any(kind == "tray" for kind, _ in kinds)
        if what.animals is not None and not settling:
            part = min(what.animals / known, 1.0) if known > 0 else 1.0
            part = 1.0 if part > 0.98 else part
        if settling:
            self._to_trays(entry, what, sum(size for kind, size in kinds if kind == "tray"))
        for key, share in list(held.items()):
            lot = self.lots[key]
            if any(kind == "nursery tank" for kind, _ in kinds):
                lot.induced = day if lot.induced is None else lot.induced
                lot.nursery = day if lot.nursery is None else lot.nursery
                lot.looked = day
            held[key] = share * (1 - part)
            if held[key] < 1e-6:
                del held[key]
            for name in what.to:
                into = self.holding.setdefault(name, {})
                into[key] = into.get(key, 0.0) + share * part / len(what.to)

    def _to_trays(self, entry: Entry, what: animals.Moved, area_cm2: float) -> None:
        """Note the morning of the inducer, the trays, and the larvae placed on them."""
        day, held = self.day_of(entry), self.holding[entry.where]
        lots = [self.lots[key] for key in held]
        for lot in lots:
            lot.induced = day if lot.induced is None else lot.induced
            lot.places += area_cm2 * self.vessels.larvae_per_cm2 / len(lots)
        if what.animals is not None:
            self._number(entry, "placed", float(what.animals), (float(what.animals),))

    def _settled(self, entry: Entry, what: animals.Settled) -> None:
        if what.offered and what.animals > what.offered:
            self._doubt(entry, say(
                "More animals settled ({settled:,}) than were offered ({offered:,}): put one of "
                "them right.", settled=what.animals, offered=what.offered,
            ))  # fmt: skip
            return
        if what.offered and what.offered < SAMPLE * self._held(entry.where):
            self._note(entry, "settled", (float(what.animals), float(what.offered)))
        else:
            self._number(entry, "total", float(what.animals), (float(what.animals),))

    def _graded(self, entry: Entry, what: animals.Graded) -> None:
        number = float(sum(heap.animals for heap in what.classes))
        if number <= 0 or not self._number(entry, "total", number, (number,)):
            return
        middles = [(heap.from_mm + heap.to_mm) / 2 for heap in what.classes]
        shares = [heap.animals / number for heap in what.classes]
        mean = sum(m * s for m, s in zip(middles, shares, strict=True))
        variance = sum(s * (m - mean) ** 2 for m, s in zip(middles, shares, strict=True))
        self._length(entry, "mean length", mean, (mean, variance**0.5, number))
        from_here = self.holding[entry.where]
        at_first = dict(from_here)
        for heap, share in zip(what.classes, shares, strict=True):
            if heap.to and heap.to != entry.where:
                for key, held in at_first.items():
                    into = self.holding.setdefault(heap.to, {})
                    into[key] = into.get(key, 0.0) + held * share
                    from_here[key] -= held * share
        for key in [key for key, share in from_here.items() if share < 1e-6]:
            del from_here[key]

    def _weighed(self, entry: Entry, what: animals.Weighed) -> None:
        self._note(entry, "weight", (float(what.animals), what.grams))

    def _lost(self, entry: Entry, what: animals.Lost) -> None:
        held, day = self._held(entry.where), self.day_of(entry)
        lots = [self.lots[key] for key in self.holding[entry.where]]
        share = 1.0 if what.animals is None or held <= 0 else min(what.animals / held, 1.0)
        if what.animals is None or share >= REMOVAL:
            self._take_out(entry, 1.0 - share if share < 0.999 else 0.0)
        elif all(lot.induced is not None and lot.looked is not None for lot in lots):
            since = max(day - max(lot.looked or day for lot in lots), 1)
            begun = [max(lot.induced or 0, lot.resets[-1].day) for lot in lots]
            since = min(since, day - max(begun))
            if since > 0:
                self._note(entry, "found dead", (float(what.animals), float(since)))
        for lot in lots:
            lot.looked = day

    def _released(self, entry: Entry, what: animals.Released) -> None:
        held = self._held(entry.where)
        if what.purpose in {"release", "handed over"}:
            self.released += what.animals
        part = min(what.animals / held, 1.0) if held > 0 else 1.0
        self._take_out(entry, 1.0 - part if part < 0.98 else 0.0)


def _nobody_there(entry: Entry) -> str:
    """Why an entry about animals is doubted where there are none."""
    on = entry.happened.date()
    if not entry.where:
        return say("On {day:%-d %b %Y} something is written of animals without saying in which "
                   "vessel: say where.", day=on)  # fmt: skip
    return say(
        "By the log there were no animals in {where} on {day:%-d %b %Y}, yet something is written "
        "of them: put the place or an earlier entry right.", where=entry.where, day=on,
    )  # fmt: skip


def history(
    entries: Iterable[Entry], first_day: date, as_of: date, known: Vessels,
    counting: Mapping[str, SourcedValue], left_out: Set[UUID] = frozenset(),
) -> History:  # fmt: skip
    """All that the log says up to and with a day.

    first_day: day 0 of the season. counting: sources/tables/outlook.toml. left_out: entries that
    the log itself doubts. Entries dated after the day on which they arrived are doubted; those
    that happened after `as_of` are not looked at.
    """
    stands = standing(entries, left_out)
    reader = _Reader(first_day, known, doubting(counting), stands.confirmed)
    last = (as_of - first_day).days
    for entry in stands.entries:
        if entry.happened.date() > entry.arrived.date() and entry.id not in stands.confirmed:
            reader.doubted.append(Doubted(
                entry.id, say("An entry is dated {dated:%-d %b %Y}, after it was written on "
                              "{written:%-d %b %Y}: put its date right.",
                              dated=entry.happened.date(), written=entry.arrived.date()),
            ))  # fmt: skip
        elif reader.day_of(entry) <= last:
            reader.read(entry)
    return History(
        last, tuple(reader.batches.values()), tuple(lot.course() for lot in reader.lots.values()),
        tuple(reader.seen), reader.water.readings(), reader.released, reader.masses,
        tuple(reader.doubted),
    )  # fmt: skip
