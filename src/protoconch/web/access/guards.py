"""Who may see what: every view says the least role that it asks for."""

from collections.abc import Callable
from functools import wraps
from typing import Any, cast
from zoneinfo import ZoneInfo

from django.core.exceptions import PermissionDenied
from django.http import HttpRequest, HttpResponse, HttpResponseRedirect
from django.shortcuts import redirect
from django.urls import reverse
from django.utils import timezone, translation
from django.utils.http import urlencode

from protoconch.records.models import Person, Role, Site
from protoconch.web.access.devices import see_device
from protoconch.web.access.who import who_question

View = Callable[..., HttpResponse]
ANYONE = "anyone"
"""Named by views that need no sign-in."""


class Request(HttpRequest):
    """A request of a person who is signed in."""

    person: Person
    site: Site  # type: ignore[assignment]


def allowed(role: str, *, asks_who: bool = True) -> Callable[[View], View]:
    """Marks a view with the least role that may see it, and refuses all others.

    role: a Role, or ANYONE. Somebody who is not signed in is led to the sign-in.
    asks_who: on the tablet of the room a form is taken only with the name of whoever sends it;
    False for what changes nothing in anybody's name.
    """

    def marked(view: View) -> View:
        @wraps(view)
        def guarded(request: HttpRequest, *parts: Any, **named: Any) -> HttpResponse:
            if role == ANYONE:
                return view(request, *parts, **named)
            person = getattr(request, "person", None)
            if person is None:
                return to_sign_in(request)
            if not person.may(role):
                raise PermissionDenied
            if person.tablet and asks_who and request.method == "POST":
                question = who_question(request)
                if question is not None:
                    return question
            return view(request, *parts, **named)

        guarded.role = role  # type: ignore[attr-defined]
        return guarded

    return marked


def to_sign_in(request: HttpRequest) -> HttpResponseRedirect:
    """The way to the sign-in, which leads back here."""
    if not Person.objects.exists():
        return redirect("welcome:start")
    back = request.get_full_path() if request.method == "GET" else "/"
    return redirect(f"{reverse('people:sign-in')}?{urlencode({'next': back})}")


class SignedIn:
    """Puts the person and the site on the request, and the site's clock in force."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        """Keep what answers the request."""
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        """Answer the request with its person known, in the person's language."""
        person = request.user if request.user.is_authenticated else None
        cast("Any", request).person = person
        cast("Any", request).site = site = person.site if person else None
        timezone.activate(ZoneInfo(site.zone if site else "UTC"))
        if person is not None:
            cast("Any", person).at_tablet = person.tablet
            see_device(request)
            if person.language:
                translation.activate(person.language)
                request.LANGUAGE_CODE = translation.get_language() or "en"
        return self.get_response(request)


__all__ = ["ANYONE", "Request", "Role", "SignedIn", "allowed", "to_sign_in"]
