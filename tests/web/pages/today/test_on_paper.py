"""The day's sheet of paper says what the page says."""

import subprocess
from datetime import datetime

import pytest

from protoconch.records.queries.answers import tasks
from tests.sheets.paper.test_page import codes_in
from tests.web.pages.today.season_begun import DAY, logged, stop_the_clock


@pytest.fixture
def pdf(monkeypatch, planned_site, crew, viewer, client_of):
    stop_the_clock(monkeypatch)
    logged(crew)
    answer = client_of(viewer).get(f"/today/{DAY}/sheet.pdf")
    assert answer["Content-Type"] == "application/pdf"
    return answer.content


def test_every_open_line_stands_on_the_sheet_with_its_amount(pdf, planned_site, tmp_path):
    (tmp_path / "s.pdf").write_bytes(pdf)
    told = subprocess.run(
        ["pdftotext", "-raw", tmp_path / "s.pdf", "-"], capture_output=True, text=True, check=True
    )
    text = "".join(told.stdout.split())
    work = tasks(planned_site, datetime.fromisoformat(DAY).date())
    assert len(work) > 3
    for task in work:
        for words in (task.what, task.where, task.amount, *task.cautions):
            assert "".join(words.split()) in text


def test_the_code_opens_the_day(pdf, tmp_path):
    assert set(codes_in(pdf, tmp_path)) == {f"http://testserver/today/{DAY}"}
