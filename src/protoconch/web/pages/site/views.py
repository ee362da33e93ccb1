"""Site: the hatchery as described, its seawater system, and how the description came about."""

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from protoconch.animals.profiles import species
from protoconch.errors import ProtoconchError
from protoconch.operations.describing import go_back
from protoconch.pictures.water_path import water_path, water_path_phone
from protoconch.records.queries.learning import offer
from protoconch.records.queries.site import description
from protoconch.sheets.site_report import site_section
from protoconch.web.access import Request, Role, allowed
from protoconch.web.pages.site.differences import differences
from protoconch.web.pages.site.parts import PARTS
from protoconch.web.pages.site.soundness import soundness
from protoconch.web.pages.site.units import in_words
from protoconch.words import begun


@allowed(Role.VIEWER)
def site(request: Request) -> HttpResponse:
    """The hatchery as described, whether its water is sound, and the ways to change it."""
    sound = soundness(request.site, timezone.localdate())
    said = {
        "sound": sound, "hatchery": sound.hatchery, "described": description(request.site),
        "animal": species(sound.hatchery.species),
        "units": begun(in_words(request.site)),
        "parts": [(part, part.lines(sound.hatchery)) for part in PARTS],
        "learned": offer(request.site),
        "path": water_path(sound.seen) if sound.seen else None,
        "path_phone": water_path_phone(sound.seen) if sound.seen else None,
    }  # fmt: skip
    return render(request, "site/site.html", said)


@allowed(Role.VIEWER)
def water_system(request: Request) -> HttpResponse:
    """The seawater system in full: path, findings, treatment, store, loops, materials, cautions."""
    sound = soundness(request.site, timezone.localdate())
    if sound.seen is None:
        return redirect("site:site")
    return render(request, "site/water_system.html",
                  {"sound": sound, "cards": site_section(sound.seen)})  # fmt: skip


@allowed(Role.VIEWER)
def history(request: Request) -> HttpResponse:
    """All descriptions so far, the latest first."""
    rows = list(request.site.descriptions.order_by("-id"))
    before = [*(row.text for row in rows[1:]), ""]
    changed = [len(differences(old, row.text)) for row, old in zip(rows, before, strict=True)]
    said = {"rows": list(zip(rows, changed, strict=True)), "many": len(rows)}
    return render(request, "site/history.html", said)


@allowed(Role.VIEWER)
def earlier(request: Request, number: int) -> HttpResponse:
    """An earlier description: what was different then, and the way back to it."""
    found = request.site.descriptions.filter(pk=number).first()
    if found is None:
        raise Http404
    now = description(request.site)
    said = {"found": found, "in_force": found.pk == now.pk,
            "lines": differences(now.text, found.text)}  # fmt: skip
    return render(request, "site/earlier.html", said)


@allowed(Role.MANAGER)
@require_POST
def back_to(request: Request, number: int) -> HttpResponse:
    """Put an earlier description in force again, as a new one."""
    if not request.site.descriptions.filter(pk=number).exists():
        raise Http404
    try:
        go_back(request.person, number)
    except ProtoconchError as fault:
        messages.error(request, str(fault))
        return redirect("site:earlier", number)
    messages.success(request, _("The earlier description is in force again, as a new one."))
    return redirect("site:site")
