"""What stands on a sheet of paper, as the lines of one form.

The fields of a line begin with its own letters, "l3-e.0.aliquots.1", so that all are sent at once
and each is judged alone. What a line asks for travels in the form: it comes back whole, whatever
became of the day's work meanwhile.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from typing import Any
from uuid import uuid4

from django.http import QueryDict

from protoconch.log.state import Settled
from protoconch.web.pages.paper.printed import OnPaper, front
from protoconch.web.pages.today.lines import line_id
from protoconch.web.pages.today.way_forms import EntryBlanks, Part, WayForm, sent_form, way_form
from protoconch.work.entries.asked import Asked, Way

DONE, NOT_DONE = "done", "not"
MOST_LINES = 200
KEPT = ("key", "number", "what", "where", "amount", "round", "skip", "skip-where", "place")
MARKED = ("mark", "time", "who", "note", "sure")


@dataclass
class TypedLine:
    """One line. kept: what travels with it. marked: what was ticked and typed beside its numbers.

    form: of the usual way, None where the line is settled. outcome: what became of it when it was
    sent, "" before, "other" where somebody had entered it; sentences: about it. saved: what the
    log now says of it.
    """

    prefix: str
    kept: dict[str, str]
    form: WayForm | None
    settled: Settled | None = None
    marked: dict[str, str] = field(default_factory=lambda: dict.fromkeys(MARKED, ""))
    outcome: str = ""
    sentences: tuple[str, ...] = ()
    saved: tuple[str, ...] = ()

    @property
    def key(self) -> str:
        """The line of work that it settles, empty for a row of a blank sheet."""
        return self.kept["key"]

    @property
    def open(self) -> bool:
        """Whether something can be typed into it."""
        return self.form is not None and self.settled is None and self.outcome not in (
            "added", "there already", "other",
        )  # fmt: skip

    @property
    def entries(self) -> tuple[EntryBlanks, ...]:
        """The entries that it asks for."""
        return self.form.entries if self.form else ()

    @cached_property
    def asked(self) -> tuple[tuple[EntryBlanks, tuple[Part, ...], tuple[Part, ...]], ...]:
        """Each entry with the blanks that stand on paper, and those that are folded away."""
        if not self.key:
            return tuple((entry, _in_order(entry), ()) for entry in self.entries)
        return tuple((entry, front(entry), _folded(entry)) for entry in self.entries)

    @property
    def more_open(self) -> bool:
        """Whether something is wrong in what is folded away."""
        return any(entry.more_open for entry, _front, more in self.asked if more)

    @property
    def errors(self) -> tuple[str, ...]:
        """What is wrong and stands at no field."""
        at_none = self.form.errors if self.form and self.outcome == "refused" else ()
        return tuple(dict.fromkeys((*self.sentences, *at_none)))


def line_of(paper: OnPaper, settled: Settled | None) -> TypedLine:
    """The line of a day's sheet, empty. settled: by whom it is, where it is."""
    task, prefix = paper.task, f"l{paper.number}"
    where = f"{task.where}, {task.batch}" if task.batch not in ("", "algae") else str(task.where)
    kept = {
        "key": task.key, "number": str(paper.number), "what": str(task.what), "where": where,
        "amount": str(task.amount), "round": task.round, "skip": str(uuid4()),
        "skip-where": paper.ways[-1].asked[0].where, "place": "",
    }  # fmt: skip
    if settled is not None:
        return TypedLine(prefix, kept, None, settled)
    return TypedLine(prefix, kept, _prefixed(way_form(0, paper.ways[0], line_id(task.key)), prefix))


def row_of(number: int, letter: str, what: str, asked: tuple[Asked, ...], place: str) -> TypedLine:
    """The row of a blank sheet, empty. letter: of the sheet. place: written in it already."""
    prefix = f"{letter}{number}"
    kept = dict.fromkeys(KEPT, "") | {"number": str(number), "what": what, "place": place}
    return TypedLine(prefix, kept, _prefixed(way_form(0, Way("", asked), prefix), prefix))


def sent_lines(post: QueryDict) -> tuple[TypedLine, ...]:
    """The lines as they were sent. Raises: BadInput, where they are none of ours."""
    names = [name for name in post.get("lines", "").split(",") if name.isalnum()]
    return tuple(_sent(post, name) for name in dict.fromkeys(names[:MOST_LINES]))


def own_part(post: Mapping[str, Any], prefix: str) -> QueryDict:
    """What was sent for one line, by its names without their first letters."""
    part = QueryDict(mutable=True)
    if isinstance(post, QueryDict):
        for name in post:
            if name.startswith(f"{prefix}-"):
                part.setlist(name[len(prefix) + 1 :], post.getlist(name))
    return part


def ids(line: TypedLine) -> frozenset[str]:
    """The ids of the entries that this form may make of the line."""
    return frozenset({line.kept["skip"], *(entry.id for entry in line.entries)})


def touched(entry: EntryBlanks, own: QueryDict) -> bool:
    """Whether anything was typed into the blanks of an entry that did not stand there before."""
    return any(_now(own, name) != _before(entry, name) for name in _names(entry))


def _folded(entry: EntryBlanks) -> tuple[Part, ...]:
    """The blanks that are not on paper, but for the note: each line has room for words beside."""
    shown = front(entry)
    return tuple(
        part for part in (*entry.front, *entry.more)
        if part not in shown and not part.bounds[0].name.endswith(".note")
    )  # fmt: skip


def _in_order(entry: EntryBlanks) -> tuple[Part, ...]:
    """All blanks of an entry as they stand on paper."""
    order = list(entry.form.fields)
    parts = (*entry.front, *entry.more)
    return tuple(sorted(parts, key=lambda part: order.index(part.bounds[0].name)))


def _names(entry: EntryBlanks) -> Iterator[str]:
    for names in entry.names.values():
        yield from names


def _now(own: QueryDict, name: str) -> list[str]:
    return sorted(one for value in own.getlist(name) if (one := str(value).strip()))


def _before(entry: EntryBlanks, name: str) -> list[str]:
    initial = entry.form.fields[name].initial
    held = initial if isinstance(initial, list) else [initial]
    return sorted(str(one) for one in held if one not in (None, ""))


def _sent(post: QueryDict, prefix: str) -> TypedLine:
    own = own_part(post, prefix)
    kept = {name: str(own.get(name) or "")[:500] for name in KEPT}
    marked = {name: str(own.get(name) or "").strip() for name in MARKED}
    form = sent_form(own, line_id(kept["key"]) if kept["key"] else prefix)
    return TypedLine(prefix, kept, _prefixed(form, prefix, post), marked=marked)


def _prefixed(form: WayForm, prefix: str, sent: QueryDict | None = None) -> WayForm:
    """The form with the names of its fields beginning with the letters of its line."""
    for entry in form.entries:
        entry.form.prefix = prefix
        if sent is not None:
            entry.form.data = sent
    return form
