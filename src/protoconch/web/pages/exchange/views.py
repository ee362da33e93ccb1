"""What can go out and come in."""

from django.http import HttpResponse
from django.shortcuts import render

from protoconch.web.access import Request, Role, allowed


@allowed(Role.VIEWER)
def exchange(request: Request) -> HttpResponse:
    """The ways out and in."""
    return render(request, "exchange/exchange.html", {"entries": request.site.entries.count()})
