"""The list of publications."""

from importlib.resources import files

import pytest

from protoconch.errors import BadFile
from protoconch.sources.references import load_references, references


def _data_files(folder):
    for entry in folder.iterdir():
        if entry.is_dir():
            yield from _data_files(entry)
        elif entry.name.endswith(".toml") and entry.name != "references.toml":
            yield entry


def test_every_publication_has_a_citation_and_says_how_it_was_seen():
    assert all(entry.citation and entry.seen for entry in references().values())


def test_only_practice_assumption_and_the_own_log_are_no_publication():
    none = [key for key, entry in references().items() if entry.seen == "none"]
    assert sorted(none) == ["assumption", "own-log", "practice"]


def test_every_publication_is_cited_by_some_number():
    text = "".join(f.read_text(encoding="utf-8") for f in _data_files(files("protoconch")))
    assert [key for key in references() if key != "own-log" and f'"{key}"' not in text] == []


@pytest.mark.parametrize(
    ("text", "line", "words"),
    [
        ('[a]\nseen = "read"\n', 1, "citation is empty"),
        ('[a]\ncitation = "A 1"\nseen = "heard"\n', 3, "it must be one of"),
        ('[a]\ncitation = "A 1"\nseen = "read"\nyaer = 1\n', 4, "no field of a reference"),
        ("a = 1\n", 1, "must be a table"),
        ('[a]\ncitation = 3\nseen = "read"\n', 2, "must be text"),
        ("[a\n", 1, "not valid TOML"),
    ],
)
def test_a_faulty_reference_is_refused_at_its_line(text, line, words):
    with pytest.raises(BadFile) as refusal:
        load_references(text, "references.toml")
    assert [(p.line, words in p.sentence) for p in refusal.value.problems] == [(line, True)]
