"""The tables as the pages answer them."""

import io
import zipfile

import pytest
from django.urls import reverse
from openpyxl import load_workbook

from protoconch.operations.exchange.everything import everything

pytestmark = pytest.mark.django_db


def content(answer):
    return b"".join(answer.streaming_content)


def test_every_table_that_the_page_names_is_there(viewer, client_of):
    import re

    client = client_of(viewer)
    page = client.get(reverse("exchange:exchange")).content.decode()
    found = re.findall(r'href="(/exchange/tables/[^"]+)"', page)
    assert len(found) >= 14
    for address in found:
        answer = client.get(address)
        assert answer.status_code == 200, address
        assert content(answer).startswith(b"\xef\xbb\xbf")
        assert "attachment" in answer.headers["Content-Disposition"]


def test_a_viewer_gets_everything_in_one_workbook_and_in_one_zip(viewer, client_of):
    from datetime import UTC, date, datetime

    client = client_of(viewer)
    names = [s.name for s in everything(viewer.site, date(2027, 1, 1), datetime.now(UTC))]
    book = load_workbook(io.BytesIO(content(client.get(reverse("exchange:workbook")))))
    assert book.sheetnames == names
    packed = content(client.get(reverse("exchange:zipped")))
    with zipfile.ZipFile(io.BytesIO(packed)) as found:
        assert len(found.namelist()) == len(names)
        assert found.testzip() is None


def test_a_viewer_is_not_offered_to_take_anything_in(viewer, client_of):
    client = client_of(viewer)
    assert "exchange/import" not in client.get(reverse("exchange:exchange")).content.decode()
    assert client.get(reverse("exchange:bring")).status_code == 403
