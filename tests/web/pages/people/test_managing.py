"""What a manager does with people."""

import re

import pytest
from django.test import Client

from protoconch.operations.people.codes import code_words, new_code
from protoconch.operations.people.invitations import new_person
from protoconch.records.models import Description, Person, Role, Site

WORDS = "three conchs in a bucket"


def said(answer):
    return answer.content.decode()


def test_an_invitation_shows_a_square_and_six_words_that_let_somebody_in(client_of, manager):
    page = said(client_of(manager).post("/people/invite/", {"role": "viewer", "name": "advisor"}))
    assert "<svg" in page
    code = re.search(r'class="said">(.+?)<', page)[1]
    assert len(code.split()) == 6
    assert set(code.split()) <= set(code_words())
    newcomer = Client()
    newcomer.post("/join/", {"code": code, "name": "Advisor", "password": WORDS})
    assert Person.objects.get(name="Advisor").role == Role.VIEWER
    assert newcomer.get("/people/").status_code == 403


def test_there_are_256_code_words_and_no_two_codes_alike():
    assert len(set(code_words())) == 256
    assert len({new_code() for _ in range(500)}) == 500


def test_a_withdrawn_code_opens_nothing(client_of, manager):
    client = client_of(manager)
    page = said(client.post("/people/invite/", {"role": "crew"}))
    code = re.search(r'class="said">(.+?)<', page)[1]
    listed = said(client.get("/people/"))
    client.post(re.search(r'action="(/people/invitations/\d+/withdraw/)"', listed)[1])
    answer = Client().post("/join/", {"code": code, "name": "Crew C", "password": WORDS})
    assert "opens nothing" in said(answer)


def test_closing_the_way_in_ends_all_devices_and_keeps_the_name(client_of, manager, site):
    crew = new_person(site, "Crew B", WORDS, Role.CREW)
    theirs = Client()
    theirs.post("/sign-in/", {"name": "Crew B", "password": WORDS})
    client_of(manager).post(f"/people/{crew.pk}/way-in/", {"active": "no"})
    assert theirs.get("/me/").status_code == 302
    again = Client().post("/sign-in/", {"name": "Crew B", "password": WORDS})
    assert "do not belong together" in said(again)
    assert Person.objects.filter(name="Crew B").exists()
    client_of(manager).post(f"/people/{crew.pk}/way-in/", {"active": "yes"})
    assert theirs.get("/me/").status_code == 302, "the device stays signed out"
    assert Client().post("/sign-in/", {"name": "Crew B", "password": WORDS}).status_code == 302


def test_the_last_manager_can_neither_leave_nor_step_down(client_of, manager):
    client = client_of(manager)
    answer = client.post(f"/people/{manager.pk}/way-in/", {"active": "no"}, follow=True)
    assert "needs one manager" in said(answer)
    answer = client.post(f"/people/{manager.pk}/", {"role": "crew"})
    assert "needs one manager" in said(answer)
    manager.refresh_from_db()
    assert manager.active
    assert manager.role == Role.MANAGER


def test_a_role_can_be_changed(client_of, manager, crew):
    client_of(manager).post(f"/people/{crew.pk}/", {"role": "manager"})
    crew.refresh_from_db()
    assert crew.role == Role.MANAGER
    assert client_of(crew).get("/people/").status_code == 200


def test_a_forgotten_password_is_renewed_once_by_the_manager_s_code(client_of, manager, crew):
    page = said(client_of(manager).post(f"/people/{crew.pk}/new-password/"))
    address = re.search(r'class="code">http://testserver(.+?)<', page)[1]
    theirs = Client()
    assert theirs.get(address).status_code == 200
    assert theirs.post(address, {"password": WORDS}).headers["Location"] == "/"
    assert theirs.get("/me/").status_code == 200
    assert Client().get(address).status_code == 404
    crew.refresh_from_db()
    assert crew.check_password(WORDS)


@pytest.fixture
def elsewhere(db):
    site = Site.objects.create(name="Another practice hatchery")
    Description.objects.create(site=site, text="")
    return new_person(site, "Crew E", WORDS, Role.CREW)


@pytest.mark.parametrize("what", ["", "way-in/", "new-password/", "devices/end/"])
def test_a_manager_reaches_nobody_of_another_hatchery(client_of, manager, elsewhere, what):
    answer = client_of(manager).post(f"/people/{elsewhere.pk}/{what}", {"role": "viewer"})
    assert answer.status_code == 404
    elsewhere.refresh_from_db()
    assert elsewhere.role == Role.CREW
    assert elsewhere.active
