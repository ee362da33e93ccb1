"""Every address: each page tells its own."""

from importlib import import_module

from django.urls import URLPattern, URLResolver, include, path

from protoconch.web.settings import PAGES
from protoconch.web.shell.look import look

_pages = [import_module(f"protoconch.web.pages.{page.name}.addresses") for page in PAGES]

urlpatterns: list[URLPattern | URLResolver] = [
    path("look.css", look, name="look"),
    *(path("", include((page.urlpatterns, page.app_name))) for page in _pages),
]

handler400 = "protoconch.web.shell.faults.not_understood"
handler403 = "protoconch.web.shell.faults.not_allowed"
handler404 = "protoconch.web.shell.faults.not_found"
handler500 = "protoconch.web.shell.faults.our_fault"
