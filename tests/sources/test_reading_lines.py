"""The line of every header and key of a TOML text."""

import tomllib

from hypothesis import given
from hypothesis import strategies as st

from protoconch.sources.reading_lines import lines_of

BARE = st.text("abcXYZ019_-", min_size=1, max_size=6)
VALUES = st.sampled_from(
    (
        "1", "-2.5e3", "true", "2027-04-01", "07:32:00", '"text # [no.header] = 1"', "'raw \\'",
        '"quote \\" and \\u00e9"', '"""\n[fake]\nkey = 1\n"""', "'''\n[[fake]]\nx = 2'''",
        '"""ends in quotes"""""', '"""\\"""x"""', "[1, 2]", "[\n  1, # one ]\n  2,\n]",
        '["a]", [\'b\', "c"]]', "{ a = 1, b.c = [2] }", "[{ x = 1 }, { x = 2 }]", '""', "''",
    )
)  # fmt: skip
GAPS = st.sampled_from(("", "\n", "# [comment]\n", "  # key = 3\n\n", "\t\n"))


def _written(name, quote):
    return {"bare": name, "double": f'"{name}"', "single": f"'{name}'"}[quote]


@st.composite
def files_with_lines(draw):
    """A TOML text and the line on which each of its keys and headers was written."""
    text, expected, arrays = "", {}, {}
    table = ()
    for number in range(draw(st.integers(1, 8))):
        text += draw(GAPS)
        line = text.count("\n") + 1
        quote = draw(st.sampled_from(("bare", "double", "single")))
        name = f"{draw(BARE)}{number}"
        shown = _written(name, quote)
        kind = draw(st.sampled_from(("table", "deep", "array", "again", "below", "key", "dotted")))
        end = draw(st.sampled_from(("\n", "  # end ]\n")))
        if kind == "table":
            table = (name,)
            text += f"[ {shown} ]{end}"
        elif kind == "deep":
            table = (name, "x.y", "z")
            text += f'[{shown} . "x.y".z]{end}'
        elif kind == "array" or (kind in ("again", "below") and not arrays):
            table = (name, 0)
            arrays[name] = 0
            text += f"[[{shown}]]{end}"
        elif kind == "again":
            known = draw(st.sampled_from(sorted(arrays)))
            arrays[known] += 1
            table = (known, arrays[known])
            text += f"[[{known}]]{end}"
        elif kind == "below":
            known = draw(st.sampled_from(sorted(arrays)))
            table = (known, arrays[known], name)
            text += f"[{known}.{shown}]{end}"
        else:
            path = (*table, name) if kind == "key" else (*table, name, "in ner")
            written = shown if kind == "key" else f"{shown} . 'in ner'"
            expected[path] = line
            text += f"{written} = {draw(VALUES)}{end}"
            continue
        expected[table] = line
    return text, expected


@given(files_with_lines())
def test_every_key_and_header_is_found_on_the_line_on_which_it_was_written(made):
    text, expected = made
    tomllib.loads(text)
    lines = lines_of(text)
    assert {path: lines.line(path) for path in expected} == expected


@given(files_with_lines())
def test_windows_line_ends_change_no_line(made):
    text, expected = made
    lines = lines_of(text.replace("\n", "\r\n"))
    assert {path: lines.line(path) for path in expected} == expected


@given(st.text(max_size=200))
def test_any_text_that_is_toml_can_be_walked(text):
    try:
        tomllib.loads(text)
    except ValueError:
        return
    assert all(1 <= line <= text.count("\n") + 1 for line in lines_of(text).at.values())


def test_entries_of_lists_and_inline_tables_have_lines_too():
    lines = lines_of("months = [\n  4,\n  5,\n]\npoint = { x = 1, y = 2 }\n")
    assert lines.line(("months", 1)) == 3
    assert lines.line(("point", "y")) == 5


def test_keys_in_quotes_are_known_by_what_they_say():
    text = '"a\\u00e9\\t\\U0001F40Cb" = 1\nx = { y = {}, z = [] }\n"c\\"d" = 2\n'
    assert set(tomllib.loads(text)) == {"aé\t\U0001f40cb", "x", 'c"d'}
    lines = lines_of(text)
    assert [lines.line((key,)) for key in tomllib.loads(text)] == [1, 2, 3]
    assert lines.at.keys() == {("aé\t\U0001f40cb",), ("x",), ("x", "y"), ("x", "z"), ('c"d',)}


def test_what_is_missing_is_shown_at_the_line_of_what_is_around_it():
    lines = lines_of("[a]\nb = 1\n\n[c]\nd = 2\n")
    assert lines.line(("c", "not there")) == 4
    assert lines.line(("nowhere",)) == 1
