"""Water: how much, how clean, for how long."""

from uuid import uuid4

from django.http import HttpResponse
from django.shortcuts import render
from django.utils import timezone

from protoconch.errors import MissingInput
from protoconch.sheets.how_to_card import cards_of
from protoconch.waterworks.storage.filling import checklist
from protoconch.web.access import Request, Role, allowed
from protoconch.web.pages.water.seen import Kept, current, water_now
from protoconch.web.pages.water.showing import shown

_kept = Kept(50)


@allowed(Role.VIEWER)
def water(request: Request) -> HttpResponse:
    """The water now."""
    now = timezone.localtime()
    try:
        state, key = current(request.site, now)
    except MissingInput as missing:
        return render(request, "water/first.html", {"why": str(missing)})
    told = _kept.get(key)
    if told is None:
        told = shown(water_now(request.site, state, now))
        _kept.put(key, told)
    more = {"checklist": checklist(), "new_id": lambda: str(uuid4()), "how_to": cards_of("water")}
    return render(request, "water/water.html", {**told, **more})  # type: ignore[dict-item]
