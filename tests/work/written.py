"""A log for a made-up plan, written entry by entry, and the state that follows from it."""

from dataclasses import dataclass, field
from datetime import UTC, date, datetime, time, timedelta
from uuid import UUID

from protoconch.animals.profiles import species
from protoconch.hatchery.vessels import vessels
from protoconch.log.fold import fold
from protoconch.log.reading.entries import read_entry
from protoconch.work.present import present_tasks
from tests.work.made_up_plan import FIRST_DAY


@dataclass
class Written:
    """Entries by day of the plan; the state and the tasks that they give."""

    plan: object
    entries: list = field(default_factory=list)

    def add(self, day, kind, where, hour=8.0, task="", **payload):
        known = {vessel.name: vessel for vessel in vessels(self.plan.hatchery)}
        moment = datetime.combine(on(day), time(), UTC) + timedelta(hours=hour)
        moment += timedelta(seconds=len(self.entries))
        raw = {"id": str(UUID(int=len(self.entries) + 1)), "kind": kind, "where": where,
               "happened": moment.isoformat(), "arrived": moment.isoformat(), "who": "crew A",
               "payload": payload, "task": task}  # fmt: skip
        self.entries.append(read_entry(raw, known))
        return self

    def stocked(self, day, where="large tank 1", batch="27A", animals=40_000):
        """A batch from its mass to the tank, all on the days that go with stocking on that day."""
        self.add(day - 4, "egg mass collected", "", mass=f"{batch}-{where}", eggs=animals * 2)
        self.add(day - 4, "incubator loaded", incubator(where), 9, batch=batch,
                 masses=[f"{batch}-{where}"])  # fmt: skip
        self.add(day, "hatched", incubator(where), 7, batch=batch, veligers=animals)
        return self.add(day, "stocked", where, batch=batch, animals=animals, litres=400.0)

    @property
    def state(self):
        return fold(self.entries, self.plan.hatchery)

    def tasks(self, day, *kinds):
        animal = species(self.plan.hatchery.species)
        found = present_tasks(self.state, self.plan, animal, on(day))
        return [task for task in found if not kinds or task.kind in kinds]


def incubator(where):
    return f"incubator {where.rsplit(' ', 1)[-1]}"


def on(day):
    return day if isinstance(day, date) else FIRST_DAY + timedelta(days=day)
