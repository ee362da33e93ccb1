"""The forms in which the lines of a day are settled: few blanks, the rest is known."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Any
from uuid import uuid4

from django.forms import BoundField
from django.http import QueryDict
from django.utils.safestring import SafeString, mark_safe
from django.utils.translation import gettext as _
from pydantic import TypeAdapter, ValidationError

from protoconch.errors import BadInput
from protoconch.operations.recording import Answer
from protoconch.web.pages.log.forms import EntryForm
from protoconch.web.pages.today.blanks import beside, fields_of, stands, typed_of
from protoconch.words import joined
from protoconch.work.entries.asked import Asked, Blank, Way, filled

MOST_ENTRIES, MOST_FIELDS = 30, 60
_as_json = TypeAdapter(Asked)
_NOT_SENT: Any = {"fields": {"__all__": {"step", "low", "high"}}}
_IN_SINGLE_QUOTES = str.maketrans({"&": "&amp;", "'": "&#39;", "<": "&lt;", ">": "&gt;"})


@dataclass(frozen=True, slots=True)
class Part:
    """One blank with its fields. heading: over several boxes; hint: beside them."""

    bounds: tuple[BoundField, ...]
    heading: str = ""
    hint: str = ""


@dataclass(frozen=True)
class EntryBlanks:
    """One entry that is asked for. number: among those of its way. id: of the entry to be.

    names: those of the fields of each blank.
    """

    number: int
    id: str
    asked: Asked
    form: EntryForm
    where: str
    names: Mapping[str, tuple[str, ...]]

    @property
    def name(self) -> str:
        """What the names of its fields begin with."""
        return f"e.{self.number}"

    @property
    def told(self) -> SafeString:
        """What is known already, for the form to carry between single quotes.

        JSON is full of double ones, each of which would take six letters.
        """
        told = _as_json.dump_json(
            self.asked, exclude_defaults=True, exclude=_NOT_SENT, warnings=False
        ).decode()
        return mark_safe(told.translate(_IN_SINGLE_QUOTES))  # noqa: S308 - escaped here

    @cached_property
    def front(self) -> tuple[Part, ...]:
        """The blanks that must be filled; without any, those that hold a value already."""
        return tuple(self._part(blank) for blank in self._in_front())

    @cached_property
    def more(self) -> tuple[Part, ...]:
        """The other blanks, folded away."""
        front = self._in_front()
        return tuple(self._part(blank) for blank in self.asked.fields if blank not in front)

    @property
    def more_words(self) -> str:
        """What the folded blanks hold, in words."""
        front = self._in_front()
        held = [stands(blank) for blank in self.asked.fields if blank not in front]
        return joined(filter(None, held), ", ")

    @property
    def more_open(self) -> bool:
        """Whether something is wrong in the folded ones."""
        return any(bound.errors for part in self.more for bound in part.bounds)

    def _in_front(self) -> Sequence[Blank]:
        needed = [blank for blank in self.asked.fields if blank.needed]
        if self.asked.prefilled.get("skipped"):
            return self.asked.fields
        return needed or [blank for blank in self.asked.fields if blank.value not in (None, "")]

    def _part(self, blank: Blank) -> Part:
        bounds = tuple(self.form[name] for name in self.names[blank.name])
        if blank.times <= 1:
            return Part(bounds)
        return Part(bounds, blank.words[:1].upper() + blank.words[1:], beside(blank))


@dataclass(frozen=True, slots=True)
class WayForm:
    """One way to settle a line. answer: what became of it when it was sent."""

    number: int
    words: str
    entries: tuple[EntryBlanks, ...]
    answer: Answer | None = None
    happened: str = ""

    @property
    def errors(self) -> tuple[str, ...]:
        """What is wrong and stands at no field."""
        said = (error for entry in self.entries for error in entry.form.non_field_errors())
        return tuple(dict.fromkeys(map(str, said)))


def way_form(number: int, way: Way, line: str) -> WayForm:
    """The empty form of a way. line: id of the line on the page, so that ids differ."""
    ids = f"{line}-{number}"
    made = (_entry(n, asked, f"{ids}-%s", str(uuid4())) for n, asked in enumerate(way.asked))
    return WayForm(number, way.words, tuple(made))


def sent_form(sent: QueryDict, line: str) -> WayForm:
    """The form of a way as it was sent. Raises: BadInput, where it is none of ours."""
    try:
        number = int(str(sent.get("way") or 0))
        entries = tuple(_sent(sent, line, number))
    except (ValidationError, ValueError) as fault:
        raise BadInput(_not_ours()) from fault
    if not entries:
        raise BadInput(_not_ours())
    return WayForm(number, "", entries, happened=str(sent.get("happened") or ""))


def payload_of(entry: EntryBlanks, sent: QueryDict) -> dict[str, Any]:
    """The payload that was sent. Raises: BadInput, every fault a line."""
    typed = {blank.name: typed_of(entry.name, blank, sent) for blank in entry.asked.fields}
    try:
        return filled(entry.asked, typed)
    except (KeyError, IndexError, TypeError, ValueError) as fault:
        if isinstance(fault, BadInput):
            raise
        raise BadInput(_not_ours()) from fault


def _sent(sent: QueryDict, line: str, number: int) -> Iterator[EntryBlanks]:
    """The entries of a form that was sent. Raises: ValidationError, ValueError."""
    for n in range(MOST_ENTRIES):
        told = sent.get(f"e.{n}.asked")
        if told is None:
            return
        asked = _as_json.validate_json(str(told))
        if len(asked.fields) > MOST_FIELDS:
            raise ValueError(line)
        own = str(sent.get(f"e.{n}.id") or "")
        made = _entry(n, asked, f"{line}-{number}-%s", own, sent)
        yield replace(made, where=str(sent.get(f"e.{n}.where") or "").strip() or asked.where)


def _entry(
    number: int, asked: Asked, ids: str, own: str, sent: QueryDict | None = None
) -> EntryBlanks:
    form = EntryForm(asked.kind, sent, auto_id=ids)
    names = {}
    for blank in asked.fields:
        made = fields_of(f"e.{number}", blank)
        form.fields.update(made)
        names[blank.name] = tuple(made)
    return EntryBlanks(number, own, asked, form, asked.where, names)


def _not_ours() -> str:
    return _("This form was not made by this page; load the page again.")
