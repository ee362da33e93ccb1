"""The work list as a calendar that phones and desktops can subscribe to (RFC 5545)."""

from collections.abc import Sequence
from datetime import datetime, timedelta
from itertools import groupby
from uuid import UUID, uuid5

from icalendar import Calendar, Event

from protoconch.sheets.work_list import hours_text, one_line, task_count
from protoconch.words import begun, say
from protoconch.work.task import ROUNDS, Task

OWN_SPACE = UUID("6d1f4a52-6c0c-4f0e-9a53-0b9f5d6f2f57")
"""Name space of the event ids, so that the same round of the same hatchery keeps its id."""


def work_calendar(tasks: Sequence[Task], hatchery: str, stamp: datetime) -> bytes:
    """The tasks as an iCalendar file: one all-day event for each round of each day.

    tasks: in the order of days. hatchery: its name; events of the same name, day and round keep
    their id, so that a new file replaces the old events. stamp: when it was made, with time zone.
    """
    calendar = Calendar()
    calendar.add("prodid", "-//Protoconch//work list//EN")
    calendar.add("version", "2.0")
    calendar.add("x-wr-calname", one_line(say("Work, {hatchery}", hatchery=hatchery)))
    for day, of_day in groupby(tasks, key=lambda task: task.day):
        own = tuple(of_day)
        for name in ROUNDS:
            of_round = tuple(task for task in own if task.round == name)
            if of_round:
                event = _event(of_round)
                event.add("uid", str(uuid5(OWN_SPACE, f"{hatchery}\n{day.isoformat()}\n{name}")))
                event.add("dtstamp", stamp)
                calendar.add_component(event)
    return bytes(calendar.to_ical())


def _event(tasks: Sequence[Task]) -> Event:
    first = tasks[0]
    minutes = sum(task.minutes for task in tasks)
    event = Event()
    round_ = begun(say(first.round))
    event.add("summary", f"{round_}: {task_count(len(tasks))}, {hours_text(minutes)}")
    event.add("dtstart", first.day)
    event.add("dtend", first.day + timedelta(days=1))
    event.add("transp", "TRANSPARENT")
    event.add("description", "\n".join(_line(task) for task in tasks))
    return event


def _line(task: Task) -> str:
    return one_line(f"{task.batch} {task.where}: {task.what.lower()}, {task.amount}")
