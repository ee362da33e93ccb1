"""The title of a day: the answer in words."""

from collections.abc import Sequence
from datetime import date

from django.utils.translation import gettext as _
from django.utils.translation import ngettext, pgettext

from protoconch.records.queries.answers import Planned
from protoconch.web.pages.today.days import in_words
from protoconch.web.pages.today.lines import Line
from protoconch.work.tasks import season_days


def number_words(number: int) -> str:
    """A small number as a word, a large one in digits."""
    words = (
        _("none"), _("one"), _("two"), _("three"), _("four"), _("five"), _("six"), _("seven"),
        _("eight"), _("nine"), _("ten"), _("eleven"), _("twelve"),
    )  # fmt: skip
    return words[number] if number < len(words) else f"{number:,}"


def title_of(lines: Sequence[Line], day: date, today: date, planned: Planned) -> str:
    """The title of a day's page."""
    if not lines:
        return _without_work(day, today, planned)
    left = [line for line in lines if line.settled is None]
    if day > today:
        return _things(len(lines)) % {"on": _on(day, today)}
    if not left:
        done = ngettext("The one thing %(on)s is done", "All %(number)s things %(on)s are done",
                        len(lines))  # fmt: skip
        return done % {"number": number_words(len(lines)), "on": _on(day, today)}
    if day < today and len(left) == len(lines) > 1:
        said = _("None of the %(number)s things %(on)s has an entry")
        return said % {"number": number_words(len(lines)), "on": _on(day, today)}
    if day < today:
        return ngettext(
            "%(Left)s of %(number)s things %(on)s has no entry",
            "%(Left)s of %(number)s things %(on)s have no entry", len(left),
        ) % {
            "Left": _capital(number_words(len(left))), "number": number_words(len(lines)),
            "on": _on(day, today),
        }  # fmt: skip
    early = sum(line.task.round == "morning" for line in left)
    return _to_do(len(left), len(lines), early)


def _to_do(left: int, lines: int, early: int) -> str:
    """Of today: what is left, and how much of it comes before noon."""
    if left == lines:
        said = ngettext("One thing to do today", "%(Left)s things to do today", left)
    else:
        said = ngettext("One thing left to do today", "%(Left)s things left to do today", left)
    said %= {"Left": _capital(number_words(left))}
    if early == 0 or left == 1:
        return said
    if early == left:
        return _("%(said)s, all before noon") % {"said": said}
    return _("%(said)s, %(early)s before noon") % {"said": said, "early": number_words(early)}


def _things(number: int) -> str:
    said = ngettext("One thing to do %(on)s", "%(Number)s things to do %(on)s", number)
    return said.replace("%(Number)s", _capital(number_words(number)))


def _without_work(day: date, today: date, planned: Planned) -> str:
    if planned.plan is None:
        said = {"being made": _("The plan is being made"), "failed": _("There is no plan yet")}
        return said.get(planned.making, _("There is no plan yet"))
    days = season_days(planned.plan)
    if days and day < days[0]:
        away = (days[0] - day).days
        return ngettext("One day until the first work of the season",
                        "%(number)s days until the first work of the season", away) % {
            "number": _capital(number_words(away))
        }  # fmt: skip
    if days and day > days[1]:
        return _("The season is over")
    return _("No work %(on)s") % {"on": _on(day, today)}


def _on(day: date, today: date) -> str:
    return pgettext("no work ...", "today") if day == today else _("on %(day)s") % {
        "day": in_words(day)
    }  # fmt: skip


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]
