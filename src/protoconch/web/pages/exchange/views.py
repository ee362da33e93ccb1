"""What can go out and come in."""

from django.http import HttpResponse
from django.shortcuts import render

from protoconch.log.kinds import KINDS
from protoconch.web.access import Request, Role, allowed

ALWAYS = ("entries", "readings", "plan batches", "work list")
STATE = ("animals now", "batches now", "egg masses", "cultures now", "last readings", "reservoir",
         "cartridges", "lamps", "stores", "emptied")  # fmt: skip


@allowed(Role.VIEWER)
def exchange(request: Request) -> HttpResponse:
    """The ways out and in."""
    counted = set(request.site.entries.order_by().values_list("kind", flat=True).distinct())
    told = {
        "tables": [(name, name.replace(" ", "-")) for name in (*ALWAYS, *STATE)],
        "kinds": [(kind, kind.replace(" ", "-")) for kind in KINDS if kind in counted],
    }  # fmt: skip
    return render(request, "exchange/exchange.html", told)
