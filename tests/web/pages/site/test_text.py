"""The description as text: out, in, looked at first, and back to an earlier one."""

import re

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from protoconch.hatchery.reading import read_hatchery, whole_demo_text
from protoconch.records.queries.site import hatchery

TEN_MISTAKES = (
    ('count = 6', 'count = "six"'), ('volume = "400 L"', 'volume = "400 kg"'),
    ('places = 12', 'places = -1'), ('size = "60 x 60 cm"', 'size = "60 by 60"'),
    ('area = "3.5 m2"', 'area = "9999999 m2"'), ('egg_masses = 24', 'egg_masses = 0'),
    ('months = "April to September"', 'months = "Smarch"'),
    ('last_day = 2027-08-31', 'last_day = 1827-08-31'),
    ('animals = 1200', 'animals = "lots"'), ('confidence = "80 %"', 'confidence = "180 %"'),
)  # fmt: skip


def said(answer):
    return answer.content.decode()


def test_what_is_downloaded_reads_as_the_hatchery(client_of, viewer, site):
    answer = client_of(viewer).get("/site/hatchery.toml")
    assert answer.headers["Content-Disposition"].endswith('.toml"')
    assert read_hatchery(said(answer), "x.toml") == hatchery(site)


def test_a_text_is_looked_at_before_it_is_saved(client_of, manager, site):
    client, text = client_of(manager), whole_demo_text().replace("animals = 1200", "animals = 900")
    page = said(client.post("/site/text/", {"text": text, "go": "look"}))
    assert "2 lines would change" in page
    assert "animals = 900" in page
    assert site.descriptions.count() == 1
    client.post("/site/text/", {"text": text, "go": "save"})
    assert hatchery(site).target.animals == 900


def test_all_mistakes_are_told_at_once_by_line_and_nothing_is_half_imported(
    client_of, manager, site
):
    text = whole_demo_text()
    for right, wrong in TEN_MISTAKES:
        assert right in text
        text = text.replace(right, wrong, 1)
    for go in ("look", "save"):
        page = said(client_of(manager).post("/site/text/", {"text": text, "go": go}))
        assert "10 lines are at fault; nothing was changed" in page
        for _right, wrong in TEN_MISTAKES:
            line = text[: text.index(wrong)].count("\n") + 1
            assert f"<b>Line {line}</b>" in page, wrong
    assert site.descriptions.count() == 1


def test_a_file_is_taken_as_well(client_of, manager, site):
    text = "\ufeff" + whole_demo_text().replace("animals = 1200", "animals = 900")
    sent = SimpleUploadedFile("h.toml", text.replace("\n", "\r\n").encode())
    page = said(client_of(manager).post("/site/text/", {"text": "", "file": sent, "go": "look"}))
    assert "2 lines would change" in page


@pytest.mark.parametrize("content", [b"\xff\xfe\x00", b"\x89PNG\r\n"])
def test_a_file_that_is_no_text_is_refused(client_of, manager, content):
    sent = SimpleUploadedFile("h.toml", content)
    page = said(client_of(manager).post("/site/text/", {"file": sent, "go": "save"}))
    assert "not in UTF-8" in page


def test_a_fault_in_the_waterworks_is_told_by_the_line_of_what_was_typed(client_of, manager, site):
    client = client_of(manager)
    page = said(client.get("/site/waterworks/"))
    found = re.search(r"<textarea[^>]*>\s?(.+?)</textarea>", page, re.DOTALL)[1]
    from html import unescape

    text = unescape(found).replace("size = 1.5", 'size = "thick"', 1)
    line = text[: text.index('"thick"')].count("\n") + 1
    page = said(client.post("/site/waterworks/", {"text": text, "go": "save"}))
    assert f"<b>Line {line}</b>" in page
    assert "thick" in page
    assert site.descriptions.count() == 1


def test_an_emptied_system_is_taken_out_and_the_algae_room_stays(client_of, manager, site):
    client_of(manager).post("/site/waterworks/", {"text": "", "go": "save"})
    now = hatchery(site)
    assert now.waterworks is None
    assert now.algae_room is not None


def test_going_back_writes_a_new_description(client_of, manager, viewer, site):
    client, first = client_of(manager), site.descriptions.get()
    text = whole_demo_text().replace("animals = 1200", "animals = 900")
    client.post("/site/text/", {"text": text, "go": "save"})
    assert "described 2 times" in said(client.get("/site/history/"))
    page = said(client_of(viewer).get(f"/site/history/{first.pk}/"))
    assert "Going back would change 2 lines" in page
    assert "Go back to this" not in page
    assert client_of(viewer).post(f"/site/history/{first.pk}/back/").status_code == 403
    client.post(f"/site/history/{first.pk}/back/")
    assert site.descriptions.count() == 3
    assert hatchery(site).target.animals == 1200


@settings(max_examples=25, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(text=st.text(max_size=200))
def test_whatever_is_pasted_is_answered_by_sentences(client_of, manager, text):
    answer = client_of(manager).post("/site/text/", {"text": text, "go": "save"})
    assert answer.status_code == 200
    assert "nothing was changed" in said(answer) or 'class="error"' in said(answer)
