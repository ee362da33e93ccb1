"""The import page: shown, put right, looked at, taken in."""

import re
from html import unescape

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse

from protoconch.records.queries.log import rows

pytestmark = pytest.mark.django_db
TABLE = (
    "kind,happened,where,animals,litres [L],batch,text\n"
    "note,2026-07-13 08:00,,,,,all calm\n"
    "stocked,2026-07-13 09:00,large tank 1,9000,400,26A,\n"
)


def fields(page):
    """What the form on a page would send, as a browser fills it."""
    text, found = page.content.decode(), {}
    for tag in re.findall(r"<input[^>]*>", text):
        name = re.search(r'name="([^"]+)"', tag)
        if name and "radio" not in tag and "checkbox" not in tag and "file" not in tag:
            value = re.search(r'value="([^"]*)"', tag)
            found[name[1]] = unescape(value[1]) if value else ""
    for name, inner in re.findall(r'<select name="([^"]+)"[^>]*>(.*?)</select>', text, re.DOTALL):
        chosen = re.search(r'value="([^"]*)" selected', inner)
        found[name] = unescape(chosen[1]) if chosen else ""
    area = re.search(r"<textarea[^>]*>\n?(.*?)</textarea>", text, re.DOTALL)
    found["text"] = unescape(area[1]) if area else ""
    return found


def sent(client, **parts):
    return client.post(reverse("exchange:bring"), parts)


def test_a_table_goes_in_by_three_forms(crew, client_of):
    client = client_of(crew)
    columns = sent(client, what="entries", text=TABLE)
    assert columns.status_code == 200
    assert "2 rows: what are their columns?" in columns.content.decode()
    looked = client.post(reverse("exchange:bring"), fields(columns) | {"action": "check"})
    assert looked.status_code == 200, looked.content.decode()
    assert "2 entries can be taken in" in looked.content.decode()
    assert rows(crew.site).count() == 0
    taken = client.post(
        reverse("exchange:bring"), fields(looked) | {"action": "take", "sure": "on"}
    )
    assert taken.status_code == 302
    assert rows(crew.site).count() == 2
    again = client.post(reverse("exchange:bring"), fields(looked) | {"action": "check"})
    assert "All of it is in the log already" in again.content.decode()


def test_a_loggers_file_is_uploaded_and_its_columns_are_guessed(crew, client_of):
    content = "Time;Temp (°F);Battery\n13/07/2026 08:00;82,4;3,1\n".encode("cp1252")
    file = SimpleUploadedFile("probe.csv", content, "text/csv")
    page = sent(client_of(crew), what="readings", file=file)
    told = fields(page)
    assert (told["target_0"], told["target_1"], told["target_2"]) == ("happened", "temperature", "")
    assert (told["unit_1"], told["delimiter"], told["decimal"]) == ("°F", ";", ",")


def test_what_was_put_right_stays(crew, client_of):
    client = client_of(crew)
    told = fields(sent(client, what="readings", text="When;x\n13/07/2026 08:00;28,4\n"))
    told |= {"target_0": "happened", "target_1": "temperature", "where": "large tank 1"}
    page = client.post(reverse("exchange:bring"), told | {"action": "check"})
    assert "1 entry can be taken in" in page.content.decode()
    assert fields(page)["target_1"] == "temperature"


@pytest.mark.parametrize(
    ("parts", "said"),
    [
        ({"text": ""}, "Choose a file, or paste a table."),
        ({"text": "a single word"}, "There is no table in it"),
        ({"text": "a,b\n1,\0"}, "characters that no table has"),
    ],
)
def test_what_is_no_table_is_refused_with_a_sentence(crew, client_of, parts, said):
    page = sent(client_of(crew), what="entries", **parts)
    assert page.status_code == 422
    assert said in unescape(page.content.decode())


def test_a_column_that_is_none_is_named(crew, client_of):
    client = client_of(crew)
    told = fields(sent(client, what="entries", text=TABLE)) | {"target_3": "snails"}
    page = client.post(reverse("exchange:bring"), told | {"action": "check"})
    assert page.status_code == 422
    assert "Nothing is called snails" in page.content.decode()


def test_an_unlikely_row_is_not_taken_in_without_the_tick(crew, client_of):
    client = client_of(crew)
    text = TABLE.replace("9000", "900000")
    told = fields(sent(client, what="entries", text=text))
    page = client.post(reverse("exchange:bring"), told | {"action": "take"})
    assert page.status_code == 409
    assert rows(crew.site).count() == 0
