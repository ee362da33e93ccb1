"""The addresses of the API."""

from collections.abc import Callable
from functools import wraps
from typing import Any

from django.http import HttpRequest, HttpResponse, JsonResponse
from django.urls import URLPattern, path
from django.utils.translation import gettext as _

from protoconch.web.pages.api.reading import api as _reading  # the endpoints are told by import
from protoconch.web.pages.api.writing import api

app_name = "api"


def document(request: HttpRequest) -> HttpResponse:  # noqa: ARG001
    """What the API takes and answers, as OpenAPI 3.1."""
    return JsonResponse(api.get_openapi_schema(path_prefix="/api/"))


def nothing(request: HttpRequest, **_named: Any) -> HttpResponse:  # noqa: ARG001
    """There is nothing at that address of the API."""
    said = _("There is nothing at this address; /api/openapi.json lists what there is.")
    return JsonResponse({"sentences": [said]}, status=404)


def _said(view: Callable[..., HttpResponse]) -> Callable[..., HttpResponse]:
    """The view, with a wrong method refused in the same shape as everything else."""

    @wraps(view)
    def answered(request: HttpRequest, *parts: Any, **named: Any) -> HttpResponse:
        answer = view(request, *parts, **named)
        if answer.status_code != 405:
            return answer
        allow = answer.headers.get("Allow", "")
        said = _("This address takes %(methods)s.") % {"methods": allow or "GET"}
        refused = JsonResponse({"sentences": [said]}, status=405)
        refused["Allow"] = allow
        return refused

    return answered


_patterns, _app, _name = api.urls
for _pattern in _patterns:
    if isinstance(_pattern, URLPattern):
        _pattern.callback = _said(_pattern.callback)

urlpatterns = [
    path("api/openapi.json", document, name="document"),
    path("api/", (_patterns, _app, _name)),
    path("api/<path:rest>", nothing, name="nothing"),
]
assert _reading is api  # noqa: S101 - both modules add to the same
