"""The tablet of the room: it asks who, and may do no more than the crew."""

from datetime import timedelta

import pytest
from django.http import HttpResponse
from django.urls import path
from django.utils import timezone

from protoconch.operations.people.roles import set_pin
from protoconch.records.models import Person, Role, Tries
from protoconch.web.access import allowed
from protoconch.web.addresses import urlpatterns as pages


@allowed(Role.CREW)
def enter(request):
    return HttpResponse(f"{request.person.name} entered {request.POST.get('count')}")


@allowed(Role.MANAGER)
def decide(request):
    return HttpResponse("decided")


@allowed(Role.CREW)
def look(request):
    return HttpResponse(f"manages: {request.person.may(Role.MANAGER)}")


urlpatterns = [*pages, path("enter/", enter), path("decide/", decide), path("look/", look)]
pytestmark = pytest.mark.urls(__name__)


@pytest.fixture
def tablet(client_of, manager, crew):
    client = client_of(manager)
    client.post("/people/tablet/", {"name": "Tablet of the wet room"})
    return client


def test_the_manager_is_signed_out_of_it(tablet):
    assert tablet.get("/people/").status_code == 403
    assert tablet.get("/me/").status_code == 200
    assert Person.objects.get(tablet=True).role == Role.CREW


def test_nobody_signs_in_as_the_tablet(tablet):
    made = Person.objects.get(tablet=True)
    assert not made.has_usable_password()


def test_an_entry_is_taken_only_with_a_name_and_what_was_typed_is_kept(tablet, crew):
    asked = tablet.post("/enter/", {"count": "<1200>", "note": ["a", "b"]})
    page = asked.content.decode()
    assert asked.status_code == 428
    assert "Who is it?" in page
    assert 'name="count" value="&lt;1200&gt;"' in page
    assert page.count('name="note"') == 2
    assert crew.name in page
    assert "Tablet of the wet room</button>" not in page
    done = tablet.post("/enter/", {"count": "1200", "who": crew.pk})
    assert done.content.decode() == "crew A entered 1200"
    assert tablet.post("/enter/", {"count": "1200"}).status_code == 428, "it asks each time"


def test_a_number_is_asked_where_the_person_has_one(tablet, crew):
    set_pin(crew, "4711")
    asked = tablet.post("/enter/", {"count": "5", "who": crew.pk}).content.decode()
    assert "Your number, crew A?" in asked
    assert 'name="count" value="5"' in asked
    wrong = tablet.post("/enter/", {"count": "5", "who": crew.pk, "pin": "4712"})
    assert "This is not the number." in wrong.content.decode()
    right = tablet.post("/enter/", {"count": "5", "who": crew.pk, "pin": "4711"})
    assert right.content.decode() == "crew A entered 5"


def test_numbers_cannot_be_tried_out(tablet, crew):
    set_pin(crew, "4711")
    for _ in range(5):
        answer = tablet.post("/enter/", {"who": crew.pk, "pin": "0000"})
    assert "Too many tries" in answer.content.decode()
    assert (
        "Too many tries" in tablet.post("/enter/", {"who": crew.pk, "pin": "4711"}).content.decode()
    )
    Tries.objects.update(last=timezone.now() - timedelta(hours=1))
    assert tablet.post("/enter/", {"who": crew.pk, "pin": "4711"}).status_code == 200


def test_a_manager_named_at_the_tablet_does_no_more_than_the_crew(tablet, manager):
    assert tablet.post("/decide/", {"who": manager.pk}).status_code == 403
    assert tablet.post("/enter/", {"who": manager.pk}).status_code == 200
    assert tablet.post("/look/", {"who": manager.pk}).content == b"manages: False"


def test_who_cannot_come_in_viewers_and_strangers_are_no_names_at_the_tablet(tablet, crew, viewer):
    Person.objects.filter(pk=crew.pk).update(active=False)
    for number in (crew.pk, viewer.pk, 99999, "x"):
        assert tablet.post("/enter/", {"who": number}).status_code == 428


def test_nobody_s_password_is_changed_at_the_tablet(tablet, crew):
    typed = {"who": crew.pk, "old": "a password of the tests", "password": "three conchs here"}
    assert tablet.post("/me/password/", typed).status_code == 403


def test_the_tablet_cannot_be_signed_out_by_the_crew_and_is_ended_by_a_manager(tablet, client_of):
    tablet.post("/sign-out/")
    assert tablet.get("/me/").status_code == 200
    made = Person.objects.get(tablet=True)
    manager = Person.objects.get(role=Role.MANAGER)
    client_of(manager).post(f"/people/{made.pk}/way-in/", {"active": "no"})
    assert tablet.get("/me/").status_code == 302


def test_on_a_phone_of_ones_own_nobody_is_asked(client_of, crew):
    assert client_of(crew).post("/enter/", {"count": "5"}).content.decode() == "crew A entered 5"
