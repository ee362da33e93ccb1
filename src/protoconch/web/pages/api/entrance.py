"""Who may ask what: a session of the pages, or a person's own key; and how faults are told."""

from collections.abc import Callable
from functools import wraps
from typing import Any, TypeVar, cast
from zoneinfo import ZoneInfo

from django.conf import settings
from django.http import Http404, HttpRequest, HttpResponse
from django.utils import timezone
from django.utils.translation import gettext as _
from ninja import NinjaAPI
from ninja.errors import AuthenticationError, HttpError, ValidationError
from ninja.security import APIKeyCookie, HttpBearer

from protoconch import __version__
from protoconch.errors import MissingInput, ProtoconchError
from protoconch.operations.exchange.keys import API, key_of
from protoconch.records.models import Person

Called = TypeVar("Called", bound=Callable[..., Any])
ROLES: dict[str, str] = {}
"""The least role of each operation, by its name."""


class ByKey(HttpBearer):
    """A key of a person's own, in the header "Authorization: Bearer ..."."""

    def authenticate(self, request: HttpRequest, token: str) -> Person | None:
        """The person whose key it is."""
        key = key_of(token, API, timezone.now())
        if key is None:
            return None
        asking = cast("Any", request)
        asking.person, asking.site = key.person, key.person.site
        timezone.activate(ZoneInfo(key.person.site.zone))
        return key.person


class BySession(APIKeyCookie):
    """Somebody who is signed in to the pages on a device of their own."""

    param_name = settings.SESSION_COOKIE_NAME

    def authenticate(self, request: HttpRequest, key: str | None) -> Person | None:  # noqa: ARG002
        """Who is signed in; the tablet of the room must ask who it is, so it uses the pages."""
        person: Person | None = cast("Any", request).person
        return None if person is None or person.tablet else person


api = NinjaAPI(
    title="Protoconch", version=__version__, docs_url=None, openapi_url=None,
    auth=[ByKey(), BySession()],
    urls_namespace="api-operations",
    description=(
        "The log, the state and the work of one hatchery. Times are ISO 8601 with a zone; units"
        " stand in the names. Whatever is refused is answered by sentences that say why."
    ),
)  # fmt: skip


def needs(role: str) -> Callable[[Called], Called]:
    """Marks an operation with the least role that may ask for it, and refuses all others."""

    def marked(view: Called) -> Called:
        ROLES[view.__name__] = role

        @wraps(view)
        def guarded(request: HttpRequest, *parts: Any, **named: Any) -> Any:
            if not cast("Any", request).person.may(role):
                raise HttpError(403, _("Your role does not reach so far; ask your manager."))
            return view(request, *parts, **named)

        return cast("Called", guarded)

    return marked


def _answer(request: HttpRequest, status: int, *sentences: str) -> HttpResponse:
    return api.create_response(request, {"sentences": list(sentences)}, status=status)


@api.exception_handler(AuthenticationError)
def _unknown(request: HttpRequest, fault: Any) -> HttpResponse:  # noqa: ARG001
    said = _('Send a key of your own as "Authorization: Bearer ...", or sign in to the pages.')
    return _answer(request, 401, said)


@api.exception_handler(HttpError)
def _refused(request: HttpRequest, fault: Any) -> HttpResponse:
    said = {
        "Cannot parse request body": _("The body is not JSON that can be read."),
        "CSRF check Failed": _("From a page, send its X-CSRFToken; a program uses a key."),
    }
    return _answer(request, fault.status_code, said.get(str(fault), str(fault)))


@api.exception_handler(Http404)
def _not_there(request: HttpRequest, fault: Any) -> HttpResponse:  # noqa: ARG001
    return _answer(request, 404, _("This hatchery has none of that name."))


@api.exception_handler(ValidationError)
def _not_valid(request: HttpRequest, fault: Any) -> HttpResponse:
    return _answer(request, 422, *dict.fromkeys(_sentence(one) for one in fault.errors[:20]))


@api.exception_handler(ProtoconchError)
def _wrong(request: HttpRequest, fault: Any) -> HttpResponse:
    return _answer(request, 409 if isinstance(fault, MissingInput) else 422,
                   *str(fault).splitlines())  # fmt: skip


def _sentence(fault: Any) -> str:
    """What is wrong with one part of a request."""
    names = [str(part) for part in fault.get("loc", ())[1:] if part != "sent"]
    where = ".".join(names)[:80] or "the request"
    said = str(fault.get("msg", "")).rstrip(".")
    return f"{where}: {said[:1].lower()}{said[1:]}."
