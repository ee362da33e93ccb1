"""The title of the log: the answer in words."""

from collections.abc import Sequence

from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from protoconch.web.pages.log.reading import Told
from protoconch.web.shell.words import day


def title_of(
    entries: Sequence[Told], doubts: int, *, looking: bool, more: bool, first: bool
) -> str:
    """The title of a page of the log.

    doubts: how many wait to be settled. looking: only entries looked for are shown. more: there
    are earlier ones. first: it is the latest page.
    """
    if looking:
        return _found(len(entries), more=more or not first)
    if not entries:
        return _("Nothing has been entered yet") if first else _("There is nothing earlier")
    if doubts:
        said = ngettext(
            "%(n)s thing in the log wants a decision",
            "%(n)s things in the log want a decision", doubts,
        )  # fmt: skip
        return said % {"n": doubts}
    if not first:
        return _("What happened up to %(day)s") % {"day": day(entries[0].entry.happened)}
    last = entries[0].entry
    return _("The last entry is of %(day)s, by %(who)s") % {
        "day": day(last.happened),
        "who": last.who,
    }


def _found(number: int, *, more: bool) -> str:
    if not number:
        return _("No entry fits what you look for")
    if more:
        return _("Many entries fit what you look for")
    said = ngettext(
        "%(n)s entry fits what you look for", "%(n)s entries fit what you look for", number
    )
    return said % {"n": number}
