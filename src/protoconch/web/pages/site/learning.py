"""What the hatchery's own log has taught: offered to the manager, used, left, or taken back."""

from collections.abc import Callable
from dataclasses import dataclass

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, ngettext
from django.views.decorators.http import require_POST

from protoconch.errors import ProtoconchError
from protoconch.operations.learning import (
    ask_again,
    leave_what_was_learned,
    take_back_what_was_learned,
    use_what_was_learned,
)
from protoconch.pictures.words import counted, unit_written
from protoconch.records.models import Person
from protoconch.records.queries.learning import in_use, offer
from protoconch.season.outlook.own_numbers import OwnNumber
from protoconch.sources.values import SourcedValue
from protoconch.web.access import Request, Role, allowed

HARDLY, LITTLE, CLEARLY = 0.1, 0.5, 1.0
"""Standard deviations of the book's belief up to which a number has moved so far in words."""
WIDE = 0.01
IN_WORDS = {
    "incubation.days": gettext_lazy("Days to hatch"),
    "incubation.q10": gettext_lazy("How much faster all goes in water ten degrees warmer"),
    "incubation.hatch_share": gettext_lazy("Share of eggs that hatch"),
    "competence_days": gettext_lazy("Days until larvae are ready to settle"),
    "veliger.survival": gettext_lazy("Share of larvae that live to settling"),
    "settlement.metamorphosis_share": gettext_lazy("Share of ready larvae that settle"),
    "post_larva.survival": gettext_lazy("Share of the settled that live to the nursery"),
    "small_juvenile.survival": gettext_lazy("Share that live as small juveniles"),
    "juvenile.survival": gettext_lazy("Share that live as large juveniles"),
    "variation.growth_site": gettext_lazy("Growth, beside that of the book"),
    "growth.size_cv": gettext_lazy("How unlike in size animals of one age are"),
    "variation.batch": gettext_lazy("How unlike batches are"),
    "variation.tank": gettext_lazy("How unlike tanks of one batch are"),
    "count.clumping_k": gettext_lazy("How evenly larvae lie in aliquots"),
    "count.dead_seen_share": gettext_lazy("Share of the dead that are found"),
}
"""Names of what a log can teach, by the outlook's own."""


@dataclass(frozen=True, slots=True)
class Learned:
    """A number in words: the book's, the log's, how far it moved, and the seasons behind it."""

    name: str
    book: str
    own: str
    moved: str
    seasons: tuple[str, ...]


@allowed(Role.VIEWER)
def learned(request: Request) -> HttpResponse:
    """Numbers that the log has moved: those that wait, and those in use."""
    waiting, used = offer(request.site), in_use(request.site)
    said = {
        "waiting": waiting, "many": len(waiting.numbers), "used_many": len(used),
        "rows": [told(number) for number in waiting.numbers],
        "used": [told(number) for number in used],
    }  # fmt: skip
    return render(request, "site/learned.html", said)


@allowed(Role.MANAGER)
@require_POST
def use(request: Request) -> HttpResponse:
    """Use what waits."""

    def done(person: Person) -> str:
        many = use_what_was_learned(person)
        return ngettext(
            "%(n)s number from the log is in use. The next plan is made with it.",
            "%(n)s numbers from the log are in use. The next plan is made with them.", many,
        ) % {"n": many}  # fmt: skip

    return _answered(request, done)


@allowed(Role.MANAGER)
@require_POST
def leave(request: Request) -> HttpResponse:
    """Leave the numbers as they are."""

    def done(person: Person) -> str:
        leave_what_was_learned(person)
        return _("The numbers stay as they are. You can change your mind on this page.")

    return _answered(request, done)


@allowed(Role.MANAGER)
@require_POST
def again(request: Request) -> HttpResponse:
    """Ask again about what was left."""

    def done(person: Person) -> str:
        ask_again(person)
        return _("The numbers wait for your word again.")

    return _answered(request, done)


@allowed(Role.MANAGER)
@require_POST
def back(request: Request) -> HttpResponse:
    """Go back to the numbers of the book."""

    def done(person: Person) -> str:
        many = take_back_what_was_learned(person)
        return ngettext(
            "%(n)s number is that of the book again.",
            "%(n)s numbers are those of the book again.", many,
        ) % {"n": many}  # fmt: skip

    return _answered(request, done)


def _answered(request: Request, do: Callable[[Person], str]) -> HttpResponse:
    try:
        messages.success(request, do(request.person))
    except ProtoconchError as fault:
        messages.error(request, str(fault))
    return redirect("site:learned")


def told(number: OwnNumber) -> Learned:
    """A number in words."""
    return Learned(
        str(IN_WORDS.get(number.name, number.value.name)), _range(number.before),
        _range(number.value), _moved(number),
        tuple(
            ngettext(
                "Season of %(year)s: %(seen)s things seen of %(n)s batch",
                "Season of %(year)s: %(seen)s things seen of %(n)s batches", season.batches,
            ) % {"year": season.first_day.year, "seen": counted(season.seen), "n": season.batches}
            for season in number.seasons
        ),
    )  # fmt: skip


def _range(value: SourcedValue) -> str:
    unit = unit_written(value.unit)
    if value.low is None or value.high is None:
        return f"{value.number:.3g} {unit}".strip()
    named = {"middle": f"{value.number:.3g} {unit}".strip(), "low": f"{value.low:.3g}",
             "high": f"{value.high:.3g}"}  # fmt: skip
    return _("%(middle)s (%(low)s to %(high)s)") % named


def _moved(number: OwnNumber) -> str:
    """How far the log has moved a number, in two short sentences."""
    far, up = abs(number.shift), number.shift > 0
    if far < HARDLY:
        middle = _("The middle stays where it was.")
    elif far < LITTLE:
        middle = _("A little higher.") if up else _("A little lower.")
    elif far < CLEARLY:
        middle = _("Clearly higher.") if up else _("Clearly lower.")
    else:
        middle = _("Much higher.") if up else _("Much lower.")
    share = {"n": f"{abs(100 * number.narrower):.0f}"}
    if abs(number.narrower) < WIDE:
        spread = _("The range is as wide as before.")
    elif number.narrower > 0:
        spread = _("The range is %(n)s%% narrower.") % share
    else:
        spread = _("The range is %(n)s%% wider.") % share
    return f"{middle} {spread}"
