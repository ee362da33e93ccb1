"""The markup that a page is made of."""

import pytest

from protoconch.sheets.look import Html, bullets, folded, joined, safe, section, table, tag

HOSTILE = "\"><script>alert(1)</script>'"


def test_words_are_escaped_once_and_markup_is_kept():
    assert safe("a < b & c") == "a &lt; b &amp; c"
    assert safe(safe("a < b")) == "a &lt; b"
    assert tag("p", tag("b", "1 < 2")) == "<p><b>1 &lt; 2</b></p>"


@pytest.mark.parametrize(
    "made",
    [
        tag("p", HOSTILE, class_=HOSTILE, data_label=HOSTILE),
        joined([HOSTILE, HOSTILE]),
        bullets([HOSTILE]),
        folded(HOSTILE, HOSTILE),
        section(HOSTILE, HOSTILE, id_="x"),
        table(HOSTILE, (HOSTILE, HOSTILE), [(HOSTILE, HOSTILE)]),
    ],
)
def test_nothing_typed_becomes_a_tag_or_leaves_an_attribute(made):
    assert isinstance(made, Html)
    assert "<script" not in made
    assert '"">' not in made
    assert "&quot;&gt;&lt;script&gt;" in made


def test_an_attribute_without_a_value_is_left_out():
    assert tag("p", "x", class_="") == "<p>x</p>"


def test_each_cell_of_a_table_carries_its_heading_for_a_narrow_screen():
    made = table("Tanks", ("Tank", "Litres"), [("A", "400")], numeric=1)
    assert '<td role="cell" data-label="Litres" class="number">400</td>' in made
    assert '<th scope="row" role="rowheader">A</th>' in made
