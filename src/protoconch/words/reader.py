"""Who reads: how templates, numbers, days and amounts are put for them."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, datetime, time


def _same(template: str) -> str:
    return template


def _one_or_many(one: str, many: str, number: float) -> str:
    return one if number == 1 else many


@dataclass(frozen=True, slots=True)
class Reader:
    """What a language and a choice of units make of the parts of a text."""

    translated: Callable[[str], str] = _same
    """A template in the reader's language, the same where nothing is known of it."""
    counted: Callable[[str, str, float], str] = _one_or_many
    """Of the templates for one and for many, the one for this number in the reader's language."""
    measured: Callable[[float, str, int], tuple[float, str]] | None = None
    """A value and its unit in the units that the reader prefers; None to leave them."""

    @property
    def english(self) -> bool:
        """Nothing is to be changed."""
        return self.translated is _same and self.measured is None

    def number(self, shown: str) -> str:
        """A number as Python writes it, with the reader's marks for thousands and decimals."""
        like = self.translated("1,234.5")
        if like == "1,234.5" or len(like) < 6:
            return shown
        thousands, point = like[1:-5], like[-2]
        return "".join({",": thousands, ".": point}.get(mark, mark) for mark in shown)

    def moment(self, moment: date | datetime | time, form: str) -> str:
        """A day or time in a form of strftime; the names and the form in the reader's words."""
        form = self.translated(form)
        for code in ("%B", "%b", "%A", "%a"):
            if code in form:
                name = moment.strftime(code)
                # "May" is long and short at once: the long name stands with a full stop after it
                told = self.translated(f"{name}." if code == "%B" else name).rstrip(".")
                form = form.replace(code, told.replace("%", "%%"))
        return moment.strftime(form)


ENGLISH = Reader()

_reads: Callable[[], Reader] = lambda: ENGLISH  # noqa: E731 - a place to be filled once


def read_by(reader: Callable[[], Reader]) -> None:
    """Say who reads from now on: a shell names it once, as it starts."""
    global _reads  # noqa: PLW0603 - one program has one edge towards people
    _reads = reader


def reader_now() -> Reader:
    """Who reads now."""
    return _reads()
