"""How to trust the certificate, and the certificate itself; both for everybody."""

from django.conf import settings
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render

from protoconch.web.access import ANYONE, allowed
from protoconch.web.pages.trust.steps import phones


@allowed(ANYONE)
def trust(request: HttpRequest) -> HttpResponse:
    """The steps in pictures, or how to begin where the server has no certificate."""
    from protoconch.web.own_certificate import own_certificate  # heavy, and seldom wanted

    own = own_certificate(settings.DATA)
    shown: dict[str, object] = {"served": bool(settings.SECURE_PORT) and own.authority.exists()}
    if shown["served"]:
        name = request.get_host().rpartition(":")[0] if ":" in request.get_host() else ""
        shown |= {
            "phones": phones(own.name),
            "secure": f"https://{name or request.get_host()}:{settings.SECURE_PORT}/",
            "there": request.is_secure(),
            "own": own,
        }
    return render(request, "trust/trust.html", shown)


@allowed(ANYONE)
def certificate(request: HttpRequest) -> HttpResponse:  # noqa: ARG001
    """The authority's certificate, as phones install it; never its key."""
    from protoconch.web.own_certificate import own_certificate  # heavy, and seldom wanted

    own = own_certificate(settings.DATA)
    if not own.authority.exists():
        raise Http404
    answer = HttpResponse(own.as_der(), content_type="application/x-x509-ca-cert")
    answer["Content-Disposition"] = 'attachment; filename="protoconch.crt"'
    return answer
