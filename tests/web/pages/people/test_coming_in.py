"""Signing in, joining by a code, staying signed in, and being signed out."""

import re
from datetime import timedelta

import pytest
from django.contrib.auth.hashers import make_password
from django.test import Client
from django.utils import timezone
from django.utils.module_loading import import_string

from protoconch.operations.people.invitations import invite, new_person
from protoconch.operations.people.tries import LONGEST_WAIT
from protoconch.records.models import Invitation, Person, Role, Tries

WORDS = "three conchs in a bucket"


@pytest.fixture
def person(site):
    return new_person(site, "Crew B", WORDS, Role.CREW)


def sign_in(client, name="crew b", words=WORDS, **more):
    return client.post("/sign-in/", {"name": name, "password": words, **more})


def test_name_and_password_let_a_person_in_however_the_name_is_written(person, client):
    for name in ("Crew B", "crew  b", "CREW-B"):
        assert sign_in(Client(), name).headers["Location"] == "/"


def test_a_wrong_password_and_a_wrong_name_are_answered_by_the_same_sentence(person, client):
    one = sign_in(client, words="not the password").content.decode()
    other = sign_in(client, name="nobody").content.decode()
    sentence = "Name and password do not belong together."
    assert sentence in one
    assert sentence in other
    assert WORDS not in one
    assert 'value="crew b"' in one


def test_passwords_are_kept_as_argon2(person):
    assert person.password.startswith("argon2$argon2id$")


def test_outside_the_tests_a_password_costs_memory_and_time():
    from protoconch.web.settings import PASSWORD_HASHERS

    made = make_password(WORDS, hasher=import_string(PASSWORD_HASHERS[0])())
    memory_kib, passes = map(int, re.search(r"m=(\d+),t=(\d+)", made).groups())
    assert memory_kib >= 64 * 1024  # RFC 9106, section 4, its second choice
    assert passes >= 2


def test_who_fails_waits_longer_each_time_even_with_the_right_password(person):
    waits = []
    for _ in range(6):
        answer = sign_in(Client(), words="wrong wrong wrong").content.decode()
        found = re.search(r"Wait (\d+) seconds", answer)
        waits.append(int(found[1]) if found else 0)
        Tries.objects.update(last=timezone.now() - timedelta(seconds=waits[-1]))
    assert waits[:3] == [0, 0, 0]
    assert "Too many tries" in _after_failures(8, "crew b").content.decode()
    assert "Too many tries" in _after_failures(8, "nobody at all").content.decode()


def _after_failures(failed, name):
    sign_in(Client(), name, "wrong wrong wrong")
    Tries.objects.update(failed=failed, last=timezone.now())
    return sign_in(Client(), name)


def test_the_wait_grows_and_ends(person):
    sign_in(Client(), words="wrong wrong wrong")
    waits = []
    for failed in range(3, 14):
        Tries.objects.update(failed=failed, last=timezone.now())
        found = re.search(r"Wait (\d+) seconds", sign_in(Client()).content.decode())
        waits.append(int(found[1]))
    wanted = [min(5 * 2**n, LONGEST_WAIT.total_seconds()) for n in range(11)]
    assert waits == pytest.approx(wanted, abs=2)
    Tries.objects.update(failed=13, last=timezone.now() - LONGEST_WAIT)
    assert sign_in(Client()).status_code == 302


def test_one_address_cannot_try_many_names(person):
    for number in range(13):
        answer = sign_in(Client(), f"name {number}", "wrong wrong wrong")
    assert "Too many tries" in answer.content.decode()


def test_nobody_is_led_to_another_site(person):
    for there in ("https://elsewhere.example/", "//elsewhere.example", "javascript:alert(1)"):
        assert sign_in(Client(), next=there).headers["Location"] == "/"
    assert sign_in(Client(), next="/people/").headers["Location"] == "/people/"


def test_a_known_phone_stays_signed_in_for_180_days_and_a_borrowed_one_until_it_is_closed(person):
    known, borrowed = Client(), Client()
    sign_in(known, known="on")
    sign_in(borrowed)
    assert known.cookies["sessionid"]["max-age"] == 180 * 24 * 3600
    assert borrowed.cookies["sessionid"]["max-age"] == ""
    assert known.cookies["sessionid"]["httponly"]


def test_a_code_lets_one_person_in_once(site, client):
    code = invite(site, Role.CREW, "", timezone.now()).code
    typed = {"code": code.upper().replace(" ", "  "), "name": "Crew C", "password": WORDS}
    assert client.post("/join/", typed).headers["Location"] == "/"
    assert Person.objects.get(name="Crew C").role == Role.CREW
    again = Client().post("/join/", typed | {"name": "Crew D"}).content.decode()
    assert "This code opens nothing" in again
    assert 'value="Crew D"' in again
    assert not Person.objects.filter(name="Crew D").exists()


def test_a_code_is_good_for_a_week_and_only_its_hash_is_kept(site, client):
    code = invite(site, Role.CREW, "", timezone.now() - timedelta(days=8)).code
    kept = Invitation.objects.get()
    assert all(word not in kept.code_hash for word in code.split())
    answer = client.post("/join/", {"code": code, "name": "Crew C", "password": WORDS})
    assert "This code opens nothing" in answer.content.decode()


def test_a_taken_name_leaves_the_code_unused(site, person, client):
    code = invite(site, Role.CREW, "", timezone.now()).code
    answer = client.post("/join/", {"code": code, "name": "crew B", "password": WORDS})
    assert "is taken" in answer.content.decode()
    assert Invitation.objects.get().used is None
    assert client.post("/join/", {"code": code, "name": "Crew C", "password": WORDS}).url == "/"


@pytest.mark.parametrize("password", ["short", "password123", "1234567890"])
def test_a_password_that_others_would_guess_is_refused(site, client, password):
    code = invite(site, Role.CREW, "", timezone.now()).code
    answer = client.post("/join/", {"code": code, "name": "Crew C", "password": password})
    assert 'id="id_password_error"' in answer.content.decode()
    assert not Person.objects.filter(name="Crew C").exists()


def test_ending_a_device_signs_it_out_and_leaves_the_others(person):
    one, other = Client(), Client()
    sign_in(one)
    sign_in(other)
    key = other.cookies["sessionid"].value
    assert one.get("/me/").content.decode().count('class="line"') == 2
    one.post("/me/devices/end/", {"device": key})
    assert other.get("/me/").status_code == 302
    assert one.get("/me/").status_code == 200


def test_nobody_ends_another_persons_device(person, site):
    stranger = new_person(site, "Crew C", WORDS, Role.CREW)
    one, other = Client(), Client()
    sign_in(one)
    sign_in(other, stranger.name)
    one.post("/me/devices/end/", {"device": other.cookies["sessionid"].value})
    assert other.get("/me/").status_code == 200


def test_a_changed_password_needs_the_old_one_and_signs_the_other_devices_out(person):
    one, other = Client(), Client()
    sign_in(one)
    sign_in(other)
    typed = {"old": "wrong wrong wrong", "password": "another long password"}
    assert "This is not your password." in one.post("/me/password/", typed).content.decode()
    assert one.post("/me/password/", typed | {"old": WORDS}).status_code == 302
    assert one.get("/me/").status_code == 200
    assert other.get("/me/").status_code == 302


def test_signing_out_ends_the_session(person, client):
    sign_in(client)
    client.post("/sign-out/")
    assert client.get("/me/").status_code == 302


BOTH = [("en", "English"), ("es", "español")]


def test_a_language_without_words_of_its_own_is_neither_offered_nor_half_spoken(person, client):
    page = client.get("/sign-in/", HTTP_ACCEPT_LANGUAGE="fr-HT,fr;q=0.9").content.decode()
    assert '<html lang="en"' in page
    assert "rançais" not in page
    sign_in(client)
    client.post("/language/", {"language": "fr"})
    assert Person.objects.get(pk=person.pk).language == ""
    assert 'lang="en"' in client.get("/me/", HTTP_ACCEPT_LANGUAGE="fr").content.decode()[:200]


def test_the_language_chosen_goes_with_the_person(person, client, settings):
    settings.LANGUAGES = BOTH
    sign_in(client)
    client.post("/language/", {"language": "es", "next": "/me/"})
    assert Person.objects.get(pk=person.pk).language == "es"
    assert 'lang="es"' in client.get("/me/").content.decode()[:200]
    client.post("/language/", {"language": "xx"})
    assert Person.objects.get(pk=person.pk).language == "es"


def test_a_way_back_that_is_no_address_leads_home(client, crew):
    answer = client.post("/language/", {"language": "es", "next": "0"})
    assert answer.headers["Location"] == "/"
