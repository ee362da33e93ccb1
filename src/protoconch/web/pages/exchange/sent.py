"""What the import's form sent: the text, how it is read, and what its columns are."""

from dataclasses import dataclass
from typing import Any

from django.http import HttpRequest
from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as _

from protoconch.operations.exchange.columns import (
    CLOCK,
    DAY,
    ENTRIES,
    HAPPENED,
    READINGS,
    WHERE,
    Meaning,
    guessed,
    targets,
)
from protoconch.operations.exchange.table_found import Table, decoded, table_found

EVERY: tuple[tuple[int, Promise], ...] = (
    (0, _("every reading")), (15, _("one each quarter of an hour")), (60, _("one each hour")),
    (360, _("one each six hours")), (1440, _("one each day")),
)  # fmt: skip
WORDS: dict[str, Promise] = {
    "": _("leave out"), HAPPENED: _("date and time"), DAY: _("date"), CLOCK: _("time of day"),
    WHERE: _("place"),
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Sent:
    """A sent form. action: "read", "check" or "take"; columns: as they were put right."""

    what: str
    text: str
    action: str
    options: dict[str, Any]
    columns: tuple[Meaning, ...]
    where: str
    instrument: str
    kind: str
    every_min: int
    sure: bool

    def table(self) -> Table:
        """The table in the text. Raises: BadInput."""
        return table_found(self.text, **self.options)

    def meanings(self, table: Table) -> tuple[Meaning, ...]:
        """What the columns are: as told, where that many were told, else guessed."""
        if self.action != "read" and len(self.columns) == len(table.headings):
            return self.columns
        return guessed(table, self.what)


def sent(request: HttpRequest) -> Sent:
    """What was sent. Raises: BadInput, where the file is too large."""
    post = request.POST
    file = request.FILES.get("file")
    text = decoded(file.read(4_000_000)) if file else post.get("text", "")
    heading = post.get("heading_line", "")
    every = post.get("every_min", "")
    return Sent(
        what=READINGS if post.get("what") == READINGS else ENTRIES,
        text=text,
        action="read" if file else post.get("action", "read"),
        options={
            "delimiter": {"tab": "\t"}.get(post.get("delimiter", ""), post.get("delimiter", "")),
            "decimal": post.get("decimal", ""),
            "order": post.get("order", ""),
            "heading_line": int(heading) if heading.isdecimal() and len(heading) < 6 else 0,
        },
        columns=_columns(post),
        where=post.get("where", "").strip()[:80],
        instrument=post.get("instrument", "").strip()[:80],
        kind=post.get("kind", "").strip()[:40],
        every_min=int(every) if every in {str(minutes) for minutes, _words in EVERY} else 0,
        sure="sure" in post,
    )  # fmt: skip


def column_faults(found: tuple[Meaning, ...], what: str, headings: tuple[str, ...]) -> list[str]:
    """What is wrong with the meanings of columns, each a sentence."""
    known, faults = set(targets(what)), []
    for number, one in enumerate(found):
        if one.target and one.target not in known:
            faults.append(
                f"Nothing is called {one.target[:40]}, which column {headings[number][:40]} was"
                " said to be; choose one of the list, or leave it empty."
            )
    named = [one.target for one in found if one.target]
    faults += [
        f"Two columns are said to be {target}; leave one of them out."
        for target in dict.fromkeys(named) if named.count(target) > 1
    ]  # fmt: skip
    if not {HAPPENED, DAY} & set(named):
        faults.append("Say which column holds the date, or the date and time.")
    if what == READINGS and not set(named) - set(WORDS):
        faults.append("Say which column holds readings, and of what.")
    return faults


def _columns(post: Any) -> tuple[Meaning, ...]:
    found = []
    for number in range(200):
        if f"target_{number}" not in post:
            break
        target = post[f"target_{number}"].strip()
        found.append(Meaning(target[:60], post.get(f"unit_{number}", "").strip()[:20]))
    return tuple(found)
