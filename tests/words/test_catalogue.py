"""Every language in the folder of languages is whole, and what is loaded is what was written."""

import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))
import catalogue

LANGUAGES = sorted(path.name for path in catalogue.LOCALE.iterdir() if path.is_dir())


@pytest.fixture(scope="module")
def texts() -> catalogue.Texts:
    """All that a person may read."""
    return catalogue.texts()


def test_spanish_is_there() -> None:
    assert "es" in LANGUAGES


def test_the_program_is_seen_through(texts: catalogue.Texts) -> None:
    """Texts of templates, of pages, of the core and of counted things are found."""
    for text in ("Keep it", "{first} and {last}", "Saved."):
        assert text in texts
    assert any(isinstance(text, tuple) for text in texts)
    assert len(texts) > 2500


@pytest.mark.parametrize("code", LANGUAGES)
def test_no_text_is_untranslated_fuzzy_or_has_other_holes(
    code: str, texts: catalogue.Texts
) -> None:
    assert catalogue.faults(catalogue.renewed(code, texts)) == []


@pytest.mark.parametrize("code", LANGUAGES)
def test_what_is_loaded_is_what_was_written(code: str, texts: catalogue.Texts) -> None:
    made = catalogue.renewed(code, texts)
    for name, one in made.items():
        assert (catalogue.LOCALE / code / f"{name}.po").read_bytes() == catalogue.written(one), name
    kept = (catalogue.LOCALE / code / "LC_MESSAGES" / "django.mo").read_bytes()
    assert kept == catalogue.loaded(made, code), "run python3 start.py words"
