"""The work of a day as the page shows it: by round, by kind of work, line by line."""

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from hashlib import sha256
from itertools import groupby

from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as _

from protoconch.log.state import Settled, State
from protoconch.sheets.how_to_card import slug_of
from protoconch.sheets.work_list import hours_text, workings_of
from protoconch.sources.references import references
from protoconch.web.pages.today.way_forms import WayForm
from protoconch.words import say
from protoconch.work.task import ROUNDS, Given, Task, Working

ROUND_WORDS: Mapping[str, Promise] = {
    "morning": _("Morning"),
    "midday": _("Midday"),
    "evening": _("Evening"),
}
UNITS = {"1": "", "um": "µm", "uM": "µM", "m2": "m²", "cm2": "cm²", "per cm2": "per cm²"}
NAME = re.compile(r"[a-z_]\w*")
FIRST_OF_AMOUNT = re.compile(
    r"^(.{1,40}?)(?:; | = |, | \+ | (?=\(|(?:of|in|into|over|for|from|at the) ))(.*)$"
)
LONG = 12
"""The amount that is shown large, and the rest that stands small under it."""


@dataclass(frozen=True, slots=True)
class Line:
    """One line of work. id: of its place on the page. settled: by whom, None while it is open.

    ways: the forms by which it can be settled, the usual one first. open: shown unfolded.
    """

    task: Task
    id: str
    settled: Settled | None
    ways: tuple[WayForm, ...] = ()
    open: bool = False

    @property
    def large(self) -> str:
        """The first part of the amount."""
        found = FIRST_OF_AMOUNT.match(str(self.task.amount))
        return found[1] if found else str(self.task.amount)

    @property
    def small(self) -> str:
        """What follows the first part."""
        found = FIRST_OF_AMOUNT.match(str(self.task.amount))
        return found[2] if found else ""

    @property
    def long(self) -> bool:
        """Whether the first part is too long for the largest letters."""
        return len(self.large) > LONG

    @property
    def others(self) -> tuple[WayForm, ...]:
        """The forms besides the usual one."""
        return self.ways[1:]

    @property
    def workings(self) -> tuple["Shown", ...]:
        """How the amounts were worked out."""
        return tuple(shown_working(working) for working in workings_of(self.task))


@dataclass(frozen=True, slots=True)
class Shown:
    """A working in words. inputs: each with its unit and source as shown."""

    formula: str
    result: float
    unit: str
    inputs: tuple[Given, ...]


@dataclass(frozen=True, slots=True)
class Group:
    """The lines of one kind of work in one round, for one reason."""

    lines: tuple[Line, ...]

    @property
    def task(self) -> Task:
        """The one that tells what, why and how."""
        return self.lines[0].task

    @property
    def card(self) -> str:
        """Of the how-to card, as in its address."""
        return slug_of(self.task.kind)

    @property
    def done(self) -> bool:
        """Whether all its lines are settled."""
        return all(line.settled for line in self.lines)


@dataclass(frozen=True, slots=True)
class Round:
    """One round of the day."""

    name: str
    words: Promise
    groups: tuple[Group, ...]
    open: int


def lines_of(tasks: Sequence[Task], state: State) -> tuple[Line, ...]:
    """The tasks with who settled them."""
    return tuple(Line(task, line_id(task.key), state.settled.get(task.key)) for task in tasks)


def line_id(key: str) -> str:
    """The place of a line on its page: short, as it stands there often."""
    return f"line-{sha256(key.encode()).hexdigest()[:8]}"


def rounds_of(lines: Sequence[Line]) -> tuple[Round, ...]:
    """The lines by round; what is settled comes last."""
    found = []
    for name in ROUNDS:
        own = [line for line in lines if line.task.round == name]
        if own:
            groups = sorted(_groups(own), key=lambda group: group.done)
            waiting = sum(not line.settled for line in own)
            found.append(Round(name, ROUND_WORDS[name], tuple(groups), waiting))
    return tuple(found)


def opened(lines: Sequence[Line], key: str, sent: WayForm) -> tuple[Line, ...]:
    """The lines, that one unfolded, with a form that was sent and not taken."""
    return tuple(_opened(line, sent) if line.task.key == key else line for line in lines)


def _opened(line: Line, sent: WayForm) -> Line:
    forms = (replace(sent, words=w.words) if w.number == sent.number else w for w in line.ways)
    return replace(line, open=True, ways=tuple(forms))


def time_left(lines: Sequence[Line]) -> str:
    """The time that the open lines take, in words; empty where none is open."""
    minutes = sum(line.task.minutes for line in lines if line.settled is None)
    return hours_text(minutes) if minutes else ""


def sources_of(lines: Sequence[Line]) -> dict[str, str]:
    """The sources that the workings name, each with its citation."""
    known = references()
    named = {part.source for line in lines for w in workings_of(line.task) for part in w.inputs}
    return {key: known[key].citation for key in sorted(named) if key in known}


def shown_working(working: Working) -> Shown:
    """A working with its names and units as people read them."""
    formula = working.formula.replace("**", "^").replace("*", "×")
    names = {part.name: str(say(part.name.replace("_", " "))) for part in working.inputs}
    formula = NAME.sub(lambda found: names.get(found[0], found[0].replace("_", " ")), formula)
    inputs = tuple(
        Given(names[part.name], part.value, unit_of(part.unit), part.source)
        for part in working.inputs
    )
    return Shown(formula, working.result, unit_of(working.unit), inputs)


def unit_of(unit: str) -> str:
    """A unit as it is printed."""
    return UNITS.get(unit, unit)


def _groups(lines: Sequence[Line]) -> Iterator[Group]:
    for _words, own in groupby(
        lines, key=lambda line: (line.task.kind, line.task.what, line.task.why)
    ):
        yield Group(tuple(sorted(own, key=lambda line: line.settled is not None)))
