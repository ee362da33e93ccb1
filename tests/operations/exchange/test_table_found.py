"""Tables as loggers and table programs write them."""

from datetime import datetime
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from protoconch.errors import BadInput
from protoconch.operations.exchange.columns import ENTRIES, READINGS, guessed
from protoconch.operations.exchange.moments import moment_of
from protoconch.operations.exchange.table_found import decoded, table_found

ZONE = ZoneInfo("America/Nassau")
LOGGER = """Invented probe, serial 0001
Exported for the test

Date;Time;Temp (°C);Sal (psu);DO (mg/L);Battery (V)
13/07/2027;08:00;28,4;36,1;6,2;3,6
13/07/2027;08:10;28,5;36,2;6,1;3,6
14/07/2027;08:20;28,6;36,1;;3,6
"""


def test_a_loggers_table_is_found_below_its_first_lines():
    table = table_found(LOGGER)
    assert (table.delimiter, table.decimal, table.order) == (";", ",", "day-month-year")
    assert table.heading_line == 4
    assert (table.order_sure, table.order_line) == (True, 5)
    assert [row.line for row in table.rows] == [5, 6, 7]


def test_its_columns_are_guessed_with_their_units():
    found = guessed(table_found(LOGGER), READINGS)
    assert [(one.target, one.unit) for one in found] == [
        ("day", ""), ("time of day", ""), ("temperature", "°C"), ("salinity", ""),
        ("oxygen", "mg/L"), ("", ""),
    ]  # fmt: skip


def test_oxygen_in_percent_is_left_out():
    table = table_found("Time,DO (%),DO (mg/L)\n2027-07-13 08:00,98,6.2\n")
    assert [one.target for one in guessed(table, READINGS)] == ["happened", "", "oxygen"]


def test_the_columns_of_the_log_are_guessed_by_name_and_by_word():
    table = table_found("kind,happened,where,water [L],shell lengths [mm]\nfed,2027-07-13,x,1,2\n")
    found = [one.target for one in guessed(table, ENTRIES)]
    assert found == ["kind", "happened", "where", "litres", "lengths_mm"]


@pytest.mark.parametrize(
    ("cells", "order", "sure"),
    [
        (("03/04/2027", "05/13/2027"), "month-day-year", True),
        (("03/04/2027", "13/05/2027"), "day-month-year", True),
        (("03/04/2027", "05/04/2027"), "day-month-year", False),
        (("2027-04-03", "2027-04-13"), "year-month-day", True),
    ],
)
def test_the_order_of_dates_is_found_or_asked(cells, order, sure):
    table = table_found("day,x\n" + "".join(f"{cell},1\n" for cell in cells))
    assert (table.order, table.order_sure) == (order, sure)


def test_what_is_told_counts_before_what_is_found():
    table = table_found("day;x\n03/04/2027;1,5\n", order="month-day-year", decimal=".")
    assert (table.order, table.decimal) == ("month-day-year", ".")


@pytest.mark.parametrize(
    ("day", "clock", "order", "moment"),
    [
        ("2027-07-13T08:00", "", "year-month-day", (2027, 7, 13, 8, 0)),
        ("13/07/2027", "8:05", "day-month-year", (2027, 7, 13, 8, 5)),
        ("07/13/27 1:05 PM", "", "month-day-year", (2027, 7, 13, 13, 5)),
        ("13.07.2027 12:00 am", "", "day-month-year", (2027, 7, 13, 0, 0)),
        ("13.07.2027", "08.05.30", "day-month-year", (2027, 7, 13, 8, 5, 30)),
        ("2027/7/3 08:00", "", "day-month-year", (2027, 7, 3, 8, 0)),
    ],
)
def test_days_and_times_are_read_by_the_clock_of_the_site(day, clock, order, moment):
    assert moment_of(day, clock, order, ZONE) == datetime(*moment, tzinfo=ZONE)


def test_a_zone_that_is_told_counts():
    assert moment_of("2027-07-13T12:00Z", "", "day-month-year", ZONE).hour == 8


@pytest.mark.parametrize(
    ("cell", "said"),
    [
        ("31/02/2027", "There is no day"),
        ("13/13/2027", "There is no day"),
        ("yesterday", "which is none"),
        ("13/07/2027 25:00", "time of day"),
        ("13/07/2027 13:00 pm", "time of day"),
        ("13/07/0027", "from 2000 to 2100"),
        ("14/03/2027 02:30", "clock never showed"),
    ],
)
def test_what_is_no_time_is_refused_with_what_would_be_right(cell, said):
    if said == "from 2000 to 2100":
        cell = "13/07/1927"
    with pytest.raises(BadInput, match=said):
        moment_of(cell, "", "day-month-year", ZONE)


@pytest.mark.parametrize("coding", ["utf-8", "utf-8-sig", "utf-16", "cp1252"])
def test_a_file_in_any_usual_code_is_read(coding):
    assert "Señal °C" in decoded("Señal °C".encode(coding))


def found_or_said(content):
    """The table, or the sentence that refuses it; anything else is a fault of ours."""
    try:
        return table_found(decoded(content))
    except BadInput as fault:
        return str(fault)


@given(
    st.text(st.characters(codec="utf-8"), max_size=400).map(str.encode) | st.binary(max_size=400)
)
def test_any_file_is_a_table_or_a_sentence(content):
    table = found_or_said(content)
    if isinstance(table, str):
        assert table.endswith(".")
    else:
        assert table.rows
        assert len(guessed(table, READINGS)) == len(guessed(table, ENTRIES)) == len(table.headings)
