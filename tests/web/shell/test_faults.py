"""When something cannot be shown, a sentence says so."""

import pytest
from django.http import HttpResponse
from django.test import Client, RequestFactory, override_settings
from django.urls import path

from protoconch.web.access import ANYONE, allowed
from protoconch.web.addresses import handler400, handler403, handler404, handler500  # noqa: F401
from protoconch.web.addresses import urlpatterns as pages


@allowed(ANYONE)
def breaking(request):
    raise RuntimeError("a secret of the inside")


@allowed(ANYONE)
def puzzling(request):
    from django.core.exceptions import BadRequest

    raise BadRequest("nonsense")


urlpatterns = [*pages, path("breaking/", breaking), path("puzzling/", puzzling)]


@pytest.fixture
def client(manager):
    return Client(raise_request_exception=False)


def said(answer: HttpResponse) -> str:
    return answer.content.decode()


def test_nothing_at_the_address(client):
    answer = client.get("/no/such/page/")
    assert answer.status_code == 404
    assert "There is nothing here" in said(answer)


def test_a_page_that_is_not_open(client_of, viewer):
    answer = client_of(viewer).get("/people/")
    assert answer.status_code == 403
    assert "not open to you" in said(answer)


@override_settings(ROOT_URLCONF="tests.web.shell.test_faults")
def test_our_own_mistake_is_ours_and_tells_nothing_of_the_inside(client):
    answer = client.get("/breaking/")
    assert answer.status_code == 500
    assert "This is our fault" in said(answer)
    assert "secret" not in said(answer)
    assert "Traceback" not in said(answer)


@override_settings(ROOT_URLCONF="tests.web.shell.test_faults")
def test_what_no_form_of_ours_sends(client):
    answer = client.get("/puzzling/")
    assert answer.status_code == 400
    assert "was not understood" in said(answer)


def test_a_form_from_elsewhere_or_from_long_ago(manager):
    answer = Client(enforce_csrf_checks=True).post("/sign-in/", {"name": "a", "password": "b"})
    assert answer.status_code == 403
    assert "too old to send" in said(answer)
    assert 'href="/sign-in/"' in said(answer)


def test_the_program_shows_no_insides(settings):
    from protoconch.web import settings as ours

    assert ours.DEBUG is False


def test_every_answer_forbids_scripts_from_elsewhere(client_of, crew):
    for where in ("/sign-in/", "/no/such/page/", "/look.css"):
        policy = client_of(crew).get(where).headers["Content-Security-Policy"]
        assert "script-src 'self';" in policy
        assert "unsafe-inline" not in policy.split("script-src")[1].split(";")[0]
        assert "frame-ancestors 'none'" in policy


def test_a_page_of_a_person_is_kept_by_no_shared_cache(client_of, crew):
    assert "private" in client_of(crew).get("/me/").headers["Cache-Control"]


def test_our_fault_needs_nothing_that_may_be_broken(rf: RequestFactory):
    from protoconch.web.shell.faults import our_fault

    assert our_fault(rf.get("/x/")).status_code == 500
