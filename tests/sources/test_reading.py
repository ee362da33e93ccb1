"""Data files of sourced numbers: what is read, and what is refused with its line."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from protoconch.errors import BadFile, UnknownName
from protoconch.sources.checking_units import UNITS
from protoconch.sources.reading import (
    load_catalogue,
    load_table,
    load_values,
    references,
    sourced_tables,
)
from protoconch.sources.values import SourcedValue

GOOD = """\
[veliger.survival]
value = 0.315
low = 0.16
high = 0.49
shape = "beta"
beta = [9.6, 20.8]
unit = "1"
conditions = "29 °C"
source = "brito-manzano-2017"
place = "six months"
confidence = "derived"

[veliger.days]
value = 27
low = 25
high = 29
unit = "d"
source = "practice"
confidence = "practice"

[veliger.longest]
value = 44
unit = "d"
source = "mucino-marquez-2021"
confidence = "read"

[feed.rate]
missing = "never tried"
borrow = "queen-conch"
unit = "%/d"
"""


def faults(text):
    with pytest.raises(BadFile) as refusal:
        load_values(text, "trial.toml")
    return [(problem.line, problem.sentence) for problem in refusal.value.problems]


def changed(old, new):
    assert old in GOOD
    return GOOD.replace(old, new, 1)


def test_a_sound_file_gives_each_number_by_its_dotted_name():
    values = load_values(GOOD, "trial.toml")
    assert list(values) == ["veliger.survival", "veliger.days", "veliger.longest", "feed.rate"]
    assert values["veliger.survival"] == SourcedValue(
        "veliger.survival", 0.315, "1", "brito-manzano-2017", "derived", 0.16, 0.49,
        "29 °C", "six months", "beta", (9.6, 20.8),
    )  # fmt: skip


def test_a_range_is_spread_as_pert_and_a_lone_number_is_fixed():
    values = load_values(GOOD, "trial.toml")
    assert values["veliger.days"].shape == "pert"
    assert values["veliger.longest"].shape == "fixed"


def test_a_missing_number_has_no_value_and_says_why_and_who_may_lend():
    value = load_values(GOOD, "trial.toml")["feed.rate"]
    assert (value.value, value.missing, value.borrowed_from) == (
        None, "never tried", "queen-conch",
    )  # fmt: skip


@pytest.mark.parametrize(
    ("old", "new", "line", "words"),
    [
        ('source = "practice"\n', "", 13, "has no source"),
        ('unit = "d"\n', "", 13, "has no unit"),
        ('confidence = "practice"\n', "", 13, "has no confidence"),
        ("value = 27\n", "", 13, "has no value"),
        ('"practice"', '"practise"', 18, "Did you mean practice?"),
        ('confidence = "practice"', 'confidence = "sure"', 19, "no kind of confidence"),
        ('unit = "d"', 'unit = "fortnight"', 17, "not a known unit"),
        ('unit = "d"', 'unit = ""', 17, "empty"),
        ('unit = "d"', "unit = 4", 17, "must be text"),
        ("low = 25", "low = 28", 14, "value is 27, outside 28 to 29"),
        ("low = 25", "low = 35", 15, "low is 35, above high"),
        ("high = 29", "high = 26", 14, "value is 27, outside 25 to 26"),
        ("high = 29\n", "", 13, "give high too"),
        ("low = 25\n", "", 13, "give low too"),
        ("low = 25", "lowest = 25", 15, "Did you mean low?"),
        ("value = 27", "value = nan", 14, "finite"),
        ("value = 27", "value = inf", 14, "finite"),
        ("value = 27", 'value = "27"', 14, "must be a number"),
        ("value = 27", "value = true", 14, "must be a number"),
        ("value = 27", f"value = 1{'0' * 400}", 14, "finite"),
        ('unit = "d"', 'unit = "d"\nshape = "round"', 18, "shape must be one of"),
        ('unit = "d"', 'unit = "d"\nbeta = [1, 2]\nshape = "pert"', 18, "its shape is pert"),
        ("low = 25", 'shape = "lognormal"\nlow = -1', 16, "lies above 0"),
        ("beta = [9.6, 20.8]", 'beta = [9.6, "b"]', 6, "beta must be a number"),
        ("beta = [9.6, 20.8]", "beta = [9.6]", 6, "list of two numbers"),
        ("beta = [9.6, 20.8]", "beta = [0, 20.8]", 6, "above 0"),
        ("beta = [9.6, 20.8]", "beta = [9.6, 0]", 6, "above 0"),
        ("beta = [9.6, 20.8]", "beta = [20.8, 9.6]", 6, "the mean of beta is 0.684"),
        ("beta = [9.6, 20.8]\n", "", 5, "list of two numbers"),
        ('source = "brito-manzano-2017"', 'source = "brito-manzano-2007"', 9, "Did you mean"),
        ('source = "mucino-marquez-2021"', 'source = "practice"', 25, "no publication"),
        ('confidence = "derived"', 'confidence = "practice"', 11, "goes with source practice"),
        ('source = "mucino-marquez-2021"', 'source = "berg-1976"', 25, "was not read"),
        ('missing = "never tried"', 'missing = ""', 28, "empty"),
        ('missing = "never tried"', 'missing = "so"\nvalue = 3', 28, "called missing and yet"),
        ('missing = "never tried"\n', "value = 3\n", 29, "does not say what is missing"),
        ("[veliger.days]", "[veliger.survival]", 13, "not valid TOML"),
        ("[veliger.days]", '["veliger.survival"]', 13, "given twice"),
        ("[veliger.days]", "[veliger.days", 13, "not valid TOML"),
        ("[veliger.days]", "[veliger.days]\nvalue = 1", 15, "not valid TOML"),
    ],
)
def test_each_fault_is_refused_at_its_line(old, new, line, words):
    found = faults(changed(old, new))
    assert any(at == line and words in sentence for at, sentence in found), found


def test_a_lognormal_or_pert_spread_needs_a_range():
    for shape in ("lognormal", "pert"):
        text = changed("value = 44\n", f'value = 44\nshape = "{shape}"\n')
        assert any("needs low and high" in sentence for _, sentence in faults(text))


def test_a_lognormal_spread_cannot_begin_at_nothing():
    text = changed("low = 25", 'low = 0\nshape = "lognormal"')
    assert faults(text) == [(15, "veliger.days: a lognormal spread lies above 0.")]


def test_a_loose_number_outside_a_table_is_refused():
    assert faults("value = 3\n") == [
        (1, "value must be a table with a value, a unit and a source.")
    ]


def test_an_empty_table_is_a_number_without_anything():
    assert len(faults("[a]\n")) == 4


def test_all_faults_of_a_file_are_told_at_once_in_the_order_of_its_lines():
    text = changed("value = 27", "value = 99").replace('unit = "1"', 'unit = "one"')
    text = text.replace('confidence = "read"', 'confidence = "heard"')
    found = faults(text)
    assert [line for line, _ in found] == [7, 14, 25]


def test_each_fault_names_the_file_and_the_line_in_one_sentence():
    with pytest.raises(BadFile) as refusal:
        load_values(changed("value = 27", "value = 99"), "trial.toml")
    assert str(refusal.value) == (
        "trial.toml, line 14: veliger.days: value is 99, outside 25 to 29."
    )


def outcomes(text):
    """What the two readers do; any other end is an exception, which fails the test."""
    ends = set()
    for read in (load_values, sourced_tables):
        try:
            read(text, "trial.toml")
            ends.add("read")
        except BadFile as refusal:
            lines = [problem.line for problem in refusal.problems]
            last = text.count("\n") + 1
            ends.add("refused" if lines and 1 <= min(lines) <= max(lines) <= last else str(lines))
    return ends


@given(st.text(max_size=300))
def test_any_text_is_read_or_refused_as_a_file(text):
    assert outcomes(text) <= {"read", "refused"}


SCRAPS = st.sampled_from(
    (*GOOD.splitlines(), "[x.y]", "[[x]]", "value = -1e9", "beta = [[1], 2]", "unit = ['d']", "]",
     "source = {a = 1}", "low = 2027-01-01", "[veliger]", "borrow = 3", "missing = 1", '"": 1')
)  # fmt: skip


@given(st.lists(SCRAPS, max_size=25))
def test_any_heap_of_lines_is_read_or_refused_as_a_file(lines):
    text = "\n".join(lines)
    assert outcomes(text) <= {"read", "refused"}


def test_deep_nesting_is_refused_and_not_a_crash():
    found = faults("a = " + "[" * 20000)
    assert found[0][0] == 1


def test_a_table_is_read_once_and_cannot_be_changed():
    table = load_table("work")
    assert table is load_table("work")
    with pytest.raises(TypeError):
        table["feed.tank"] = table["count.tank"]  # type: ignore[index]


def test_an_unknown_table_is_named_with_the_nearest():
    with pytest.raises(UnknownName, match=r"no data file wrok.*Did you mean work\?"):
        load_table("wrok")


def test_a_catalogue_keeps_its_rows_and_sources_the_numbers_among_them():
    text = (
        GOOD
        + '\n[[pipe]]\nname = "small"\nsizes = [1, 2]\n[pipe.rough]\n'
        + ('value = 2\nunit = "um"\nsource = "practice"\nconfidence = "practice"\n')
    )
    content = sourced_tables(text, "pipes.toml")
    assert content["veliger"]["days"].number == 27
    assert content["pipe"][0]["sizes"] == (1, 2)
    assert content["pipe"][0]["rough"].number == 2


def test_a_catalogue_refuses_a_faulty_number_and_an_unknown_source_of_a_row():
    text = '[[pipe]]\nsource = "nobody-1900"\n[pipe.rough]\nvalue = 2\n'
    with pytest.raises(BadFile) as refusal:
        sourced_tables(text, "pipes.toml")
    assert [problem.line for problem in refusal.value.problems] == [2, 3, 3, 3]


def test_units_of_data_files_are_few_and_written_one_way():
    assert len(UNITS) < 100
    assert all(unit == unit.strip() and unit for unit in UNITS)


def test_every_shipped_table_of_work_and_algae_is_sound():
    assert load_table("work")["feed.tank"].unit == "min"
    assert load_table("algae")["flagellate.isochrysis.dry_mass_pg"].number == 21.5
    assert load_catalogue("algae")["diatom"]["thalassiosira"]["dry_mass_pg"].number == 22


def test_every_source_of_an_algae_mass_is_a_publication():
    known = references()
    for name, value in load_table("algae").items():
        if name.endswith("dry_mass_pg"):
            assert known[value.source].seen != "none", name
