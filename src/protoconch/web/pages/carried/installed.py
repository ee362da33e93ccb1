"""What makes a phone able to open pages without network: the worker, and what the app is called."""

from functools import cache
from hashlib import sha256
from pathlib import Path

from django.http import HttpRequest, HttpResponse, JsonResponse
from django.templatetags.static import static
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache

from protoconch.web.access import ANYONE, allowed
from protoconch.web.settings import STATICFILES_DIRS

WORKER = Path(__file__).parent / "static" / "carried" / "worker.js"
ICONS = ((192, "carried/mark-192.png"), (512, "carried/mark-512.png"))


@allowed(ANYONE)
@never_cache
def worker(request: HttpRequest) -> HttpResponse:  # noqa: ARG001
    """The worker's script; it stands at the top, since it may serve only what lies below it."""
    begun = f"const VERSION = '{version()}', SIGN_OUT = '{reverse('people:sign-out')}';\n"
    text = begun + WORKER.read_text("utf-8")
    return HttpResponse(text, content_type="text/javascript; charset=utf-8")


@cache
def version() -> str:
    """What changes when a style sheet or a script changes, so that phones fetch them anew."""
    found = sha256()
    for folder in STATICFILES_DIRS:
        for file in sorted(Path(folder).rglob("*")):
            if file.is_file():
                found.update(file.name.encode() + file.read_bytes())
    return found.hexdigest()[:12]


@allowed(ANYONE)
def manifest(request: HttpRequest) -> HttpResponse:  # noqa: ARG001
    """What the browser calls the app, and how it looks on the home screen."""
    icons = [
        {"src": static(name), "sizes": f"{size}x{size}", "type": "image/png"}
        for size, name in ICONS
    ]
    told = {
        "name": _("Protoconch: today's work"), "short_name": "Protoconch", "id": "/",
        "start_url": reverse("today:day"), "scope": "/", "display": "standalone",
        "background_color": "#f6f1e7", "theme_color": "#f6f1e7",
        "icons": [{"src": static("mark.svg"), "sizes": "any", "type": "image/svg+xml"}, *icons],
    }  # fmt: skip
    return JsonResponse(told, content_type="application/manifest+json")
