"""The look of all pages: the same face and lettering as the printed sheets."""

from functools import cache

from django.http import HttpRequest, HttpResponse
from django.views.decorators.cache import cache_control

from protoconch.sheets.look import style
from protoconch.web.access import ANYONE, allowed


@allowed(ANYONE)
@cache_control(public=True, max_age=3600)
def look(request: HttpRequest) -> HttpResponse:  # noqa: ARG001
    """The style sheet that pages share with the season report."""
    return HttpResponse(_style(), content_type="text/css; charset=utf-8")


@cache
def _style() -> str:
    return style()
