"""The description as text: out to a file, in from one, the waterworks on their own.

Whatever comes in is looked at first: all faults by line, or what it would change. Nothing is saved
before a second press, and never half of it.
"""

from collections.abc import Callable
from dataclasses import replace
from typing import NamedTuple

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils.text import slugify
from django.utils.translation import gettext as _

from protoconch.errors import BadFile, BadInput
from protoconch.hatchery.file_text import lines_of
from protoconch.hatchery.reading import read_hatchery
from protoconch.hatchery.waterworks_reading import demo_waterworks_text
from protoconch.hatchery.writing import hatchery_text
from protoconch.operations.describing import describe
from protoconch.records.queries.site import description
from protoconch.records.queries.site import hatchery as hatchery_of
from protoconch.web.access import Request, Role, allowed
from protoconch.web.pages.site.differences import Line, differences, numbered_lines
from protoconch.web.pages.site.forms import Written

LARGEST_BYTES = 400_000
Within = Callable[[str], str]


class Look(NamedTuple):
    """What a text would do. faults: line, its words, what is wrong. lines: what it changes."""

    faults: list[tuple[int, str, str]]
    lines: list[Line]


@allowed(Role.VIEWER)
def download(request: Request) -> HttpResponse:
    """The description in force, as a file."""
    answer = HttpResponse(description(request.site).text, content_type="application/toml")
    name = slugify(request.site.name) or "hatchery"
    answer.headers["Content-Disposition"] = f'attachment; filename="{name}.toml"'
    return answer


@allowed(Role.MANAGER)
def whole(request: Request) -> HttpResponse:
    """The whole description as text."""
    now = description(request.site).text
    return _asked(request, "site/text.html", now, lambda typed: typed)


@allowed(Role.MANAGER)
def waterworks(request: Request) -> HttpResponse:
    """The seawater system as text, in its place in the whole."""
    hatchery = hatchery_of(request.site)
    room = lines_of(hatchery.kept_lines, ("algae_room",))
    before = hatchery_text(replace(hatchery, kept_lines=room))

    def within(typed: str) -> str:
        return f"{before}\n{typed.strip()}\n" if typed.strip() else before

    now = lines_of(hatchery.kept_lines, ("waterworks",))
    return _asked(request, "site/waterworks.html", now, within, before.count("\n") + 1)


def _asked(request: Request, page: str, now: str, within: Within, above: int = 0) -> HttpResponse:
    """Show the text; look at what comes in; save it when that was seen.

    within: gives the whole description from what was typed. above: lines that stand above it there.
    """
    form = Written(request.POST or None, request.FILES or None, initial={"text": now})
    look = None
    if request.method == "POST" and form.is_valid():
        typed = _text_sent(form)
        if typed is not None:
            form = Written(initial={"text": typed})
            text = within(typed)
            look = _look(request, text, typed, above)
            if not look.faults and request.POST.get("go") == "save":
                describe(request.person, text)
                messages.success(request, _("The description is changed."))
                return redirect("site:site")
    said = {"form": form, "look": look, "example": demo_waterworks_text()}
    return render(request, page, said)


def _text_sent(form: Written) -> str | None:
    """The text of the file, if one was sent, else of the field; None with a fault noted."""
    sent = form.cleaned_data.get("file")
    if not sent:
        return str(form.cleaned_data["text"])
    if sent.size > LARGEST_BYTES:
        form.add_error("file", _("This file is too large to be a description."))
        return None
    try:
        text: str = sent.read().decode("utf-8-sig").replace("\r\n", "\n")
    except UnicodeDecodeError:
        form.add_error("file", _("The file is not in UTF-8; save it as UTF-8 text."))
        return None
    return text


def _look(request: Request, text: str, typed: str, above: int) -> Look:
    try:
        read_hatchery(text, "hatchery.toml")
    except BadFile as faults:
        wanted: dict[int, str] = {}
        for problem in faults.problems:
            line = max(1, problem.line - above)
            wanted[line] = " ".join(filter(None, (wanted.get(line), problem.sentence)))
        return Look(numbered_lines(typed, wanted), [])
    except BadInput as fault:
        return Look([(1, "", str(fault))], [])
    return Look([], differences(description(request.site).text, text))
