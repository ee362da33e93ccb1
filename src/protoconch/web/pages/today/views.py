"""Today: the work by round."""

from django.http import HttpResponse
from django.shortcuts import render

from protoconch.web.access import Request, Role, allowed


@allowed(Role.VIEWER)
def day(request: Request) -> HttpResponse:
    """The work of the day."""
    return render(request, "today/day.html", {})
