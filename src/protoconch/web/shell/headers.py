"""What every answer forbids the browser: scripts and styles from anywhere but here."""

from collections.abc import Callable

from django.http import HttpRequest, HttpResponse

POLICY = (
    "default-src 'self'; script-src 'self'; img-src 'self' data: blob:; object-src 'none'; "
    "style-src 'self' 'unsafe-inline'; "  # drawings carry their few styles in them
    "base-uri 'none'; form-action 'self'; frame-ancestors 'none'"
)


class SafeHeaders:
    """Adds the policy to every answer."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        """Keep what answers the request."""
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        """Answer, with the policy; a page of a person is not kept by shared caches."""
        response = self.get_response(request)
        response.headers.setdefault("Content-Security-Policy", POLICY)
        response.headers.setdefault("Permissions-Policy", "geolocation=(), microphone=()")
        if getattr(request, "person", None) is not None:
            response.headers.setdefault("Cache-Control", "private, no-cache")
        return response
