"""Adding a photo to an entry, by the page."""

from datetime import UTC, datetime
from uuid import uuid4

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse

from protoconch.operations.recording import record
from protoconch.records.models import Photo
from protoconch.records.queries.log import rows
from tests.operations.test_photos import PLACE, placed

pytestmark = pytest.mark.django_db
NOW = datetime(2027, 4, 20, 3, 0, tzinfo=UTC)


@pytest.fixture
def note(crew):
    raw = {"id": str(uuid4()), "kind": "note", "happened": NOW.isoformat(),
           "payload": {"text": "the larvae swim at the top"}}  # fmt: skip
    return record(crew, [raw], NOW)[0].entry


def sent(client, note, content, name="photo.jpg"):
    file = SimpleUploadedFile(name, content, "image/jpeg")
    where = reverse("photos:add", args=[note.id])
    return client.post(where, {"photo": file, "caption": "at the top", "id": str(uuid4())})


def test_a_photo_is_added_and_answered_without_its_place(crew, note, client_of):
    client = client_of(crew)
    answer = sent(client, note, placed())
    assert answer.headers["Location"] == reverse("log:entry", args=[note.id])
    kept = Photo.objects.get()
    shown = client.get(reverse("photos:shown", args=[kept.name]))
    assert shown.headers["Content-Type"] == "image/jpeg"
    assert shown.headers["X-Content-Type-Options"] == "nosniff"
    assert PLACE.encode() not in shown.content
    assert rows(crew.site, kind="photo").get().payload["of"] == str(note.id)


def test_the_page_of_the_entry_shows_it(crew, note, client_of):
    client = client_of(crew)
    sent(client, note, placed())
    page = client.get(reverse("photos:add", args=[note.id])).content.decode()
    assert reverse("photos:shown", args=[Photo.objects.get().name]) in page
    assert 'alt="at the top"' in page


def test_what_is_no_photo_is_refused_with_a_sentence(crew, note, client_of):
    answer = sent(client_of(crew), note, b"#!/bin/sh\n", "photo.jpg")
    assert answer.status_code == 422
    assert "choose a JPEG, PNG or WebP picture" in answer.content.decode()
    assert "at the top" in answer.content.decode(), "the caption is kept"
    assert Photo.objects.count() == 0


def test_a_file_of_more_than_twelve_megabytes_is_refused(crew, note, client_of):
    answer = sent(client_of(crew), note, b"\xff" * 12_000_001)
    assert answer.status_code == 422
    assert "larger than 12 MB" in answer.content.decode()


def test_another_hatchery_does_not_see_it(crew, note, client_of, django_user_model):
    from protoconch.records.models import Site

    sent(client_of(crew), note, placed())
    other = Site.objects.create(name="another invented hatchery")
    stranger = django_user_model.objects.create_user(
        "stranger", "a password of the tests", site=other, name="stranger"
    )
    page = client_of(stranger).get(reverse("photos:shown", args=[Photo.objects.get().name]))
    assert page.status_code == 404
