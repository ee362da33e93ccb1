"""Entries as a phone would send them, one moment after the other."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import UTC, date, datetime, time, timedelta, tzinfo
from typing import Any
from uuid import UUID

import numpy as np

from protoconch.hatchery.vessels import Vessel
from protoconch.log.entry import Entry
from protoconch.log.fold import Folding
from protoconch.log.reading.entries import read_entry
from protoconch.log.state import State

CREW = ("crew A", "crew B", "crew C")
STARTS = {"morning": time(7, 30), "midday": time(11, 30), "evening": time(16, 0)}


@dataclass(slots=True)
class Writing:
    """The log as it grows: what was written, and the state that follows from it."""

    folding: Folding
    known: Mapping[str, Vessel]
    rng: np.random.Generator
    zone: tzinfo
    raw: list[dict[str, Any]] = field(default_factory=list)
    waiting: list[Entry] = field(default_factory=list)
    clock: datetime = datetime(1, 1, 1, tzinfo=UTC)
    who: str = CREW[0]

    @property
    def state(self) -> State:
        """The state after all that was written."""
        if self.waiting:
            self.folding.add(self.waiting)
            self.waiting.clear()
        return self.folding.state

    def turn_to(self, day: date, round_: str, who: str) -> None:
        """The next round of a day, and who works in it."""
        start = datetime.combine(day, STARTS[round_], self.zone)
        self.clock = start + timedelta(minutes=float(self.rng.uniform(0, 10)))
        self.who = who

    def write(
        self, kind: str, where: str, payload: Mapping[str, Any], *, task: str = "", who: str = "",
        minutes: float | None = None,
    ) -> str:  # fmt: skip
        """Write one entry, some minutes after the one before; its id."""
        took = float(self.rng.uniform(1.0, 4.0)) if minutes is None else minutes
        self.clock += timedelta(seconds=round(60 * took) + 1)
        late = 2.0 if self.rng.random() < 0.97 else 60 * float(self.rng.uniform(1, 9))
        identity = str(UUID(bytes=self.rng.bytes(16), version=4))
        arrived = self.clock + timedelta(seconds=round(late))
        entry = {
            "id": identity, "kind": kind, "happened": self.clock.isoformat(),
            "arrived": arrived.isoformat(), "who": who or self.who, "where": where,
            "payload": dict(payload), "task": task,
        }  # fmt: skip
        self.waiting.append(read_entry(entry, self.known))
        self.raw.append(entry)
        return identity
