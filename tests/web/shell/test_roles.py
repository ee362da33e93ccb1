"""Every address of the program answers those who may, and nobody else."""

import re
from collections.abc import Iterator
from typing import Any

import pytest
from django.test import Client
from django.urls import URLPattern, URLResolver, get_resolver

from protoconch.records.models import Role
from protoconch.web.access import ANYONE

ORDER = [ANYONE, Role.VIEWER, Role.CREW, Role.MANAGER]
STANDING_IN = {
    "int": "1", "slug": "some-words", "str": "some", "path": "some/way",
    "uuid": "0b9f2f5e-6f4e-4d6c-9d0b-5f2d6d1c9a10",
}  # fmt: skip
NOT_OURS = ("api/", "^api/")
"""Addresses that another guard keeps: the JSON API asks for its own key."""


def patterns(found: Any, before: str = "") -> Iterator[tuple[str, URLPattern]]:
    for one in found.url_patterns:
        route = before + str(one.pattern)
        if isinstance(one, URLResolver):
            yield from patterns(one, route)
        else:
            yield route, one


def address(route: str, pattern: URLPattern) -> str:
    """An address that fits the pattern; the things it names need not exist."""
    for name, converter in pattern.pattern.converters.items():
        kind = type(converter).__name__.removesuffix("Converter").lower()
        kind = {"string": "str"}.get(kind, kind)
        standing_in = STANDING_IN.get(kind, "2027-07-14")
        route = re.sub(rf"<(\w+:)?{name}>", standing_in, route)
    return "/" + route


EVERYTHING = [
    (route, pattern)
    for route, pattern in patterns(get_resolver())
    if not route.startswith(NOT_OURS)
]
IDS = [route or "/" for route, _ in EVERYTHING]


def test_the_walk_finds_the_pages() -> None:
    assert {"", "sign-in/", "people/", "welcome/"} <= set(IDS) | {""}
    assert len(EVERYTHING) > 20


@pytest.mark.parametrize(("route", "pattern"), EVERYTHING, ids=IDS)
def test_every_view_says_who_may_see_it(route: str, pattern: URLPattern) -> None:
    assert getattr(pattern.callback, "role", None) in ORDER, f"{route} names no role"


@pytest.mark.parametrize(("route", "pattern"), EVERYTHING, ids=IDS)
def test_only_who_may_is_answered(
    route: str, pattern: URLPattern, viewer: Any, crew: Any, manager: Any
) -> None:
    role = pattern.callback.role  # type: ignore[attr-defined]
    there = address(route, pattern)
    people = {ANYONE: None, Role.VIEWER: viewer, Role.CREW: crew, Role.MANAGER: manager}
    for who, person in people.items():
        for method in ("get", "post"):
            client = Client(raise_request_exception=False)
            if person:
                client.force_login(person)
            answer = getattr(client, method)(there)
            if answer.streaming:
                b"".join(answer.streaming_content)
            said = f"{method} {there} as {who}: {answer.status_code}"
            leads = answer.headers.get("Location", "")
            if ORDER.index(who) >= ORDER.index(role):
                assert answer.status_code != 403, said
                assert not leads.startswith("/sign-in/?next"), said
                assert answer.status_code < 500, f"{said}; it breaks on what is not there"
            elif who == ANYONE:
                assert leads.startswith("/sign-in/?next"), said
            else:
                assert answer.status_code == 403, said
