"""The command line answers in the language that was asked for, or in that of the machine."""

import ast
import inspect
import os
import subprocess
import sys
from collections.abc import Iterator
from importlib.util import find_spec
from pathlib import Path

import pytest
from click.testing import CliRunner

import catalogue
from protoconch.cli import language
from protoconch.cli import main as shell
from protoconch.cli.language import MACHINE, speak, spoken
from protoconch.words import say


@pytest.fixture(autouse=True)
def machine() -> Iterator[pytest.MonkeyPatch]:
    """A machine that names no language; what it named before is there again afterwards."""
    before = dict(os.environ)
    for name in (*MACHINE, language.ASKED):
        os.environ.pop(name, None)
    with pytest.MonkeyPatch.context() as patch:
        yield patch
    language._machine.clear()
    for name in (*MACHINE, language.ASKED):
        os.environ.pop(name, None)
    speak()
    os.environ.update({name: before[name] for name in (*MACHINE, language.ASKED) if name in before})


def told(*words: str) -> str:
    found = CliRunner().invoke(shell.main, words)
    return found.stdout + found.stderr


def test_english_is_spoken_where_nothing_else_is_asked_for() -> None:
    assert "Options:" in told("--help")
    assert "es" in spoken()


@pytest.mark.parametrize(
    ("name", "value"),
    [
        (language.ASKED, "es-DO"), ("LANG", "es_PR.UTF-8"), ("LC_ALL", "es_MX"),
        ("LANGUAGE", "qq:es:en"),
    ],
)  # fmt: skip
def test_the_environment_names_the_language(
    machine: pytest.MonkeyPatch, name: str, value: str
) -> None:
    machine.setenv(name, value)
    assert "Opciones:" in told("--help")
    assert os.environ.get(name) == value


def test_what_is_asked_for_goes_before_the_environment(machine: pytest.MonkeyPatch) -> None:
    machine.setenv("LANG", "es_ES.UTF-8")
    assert "Options:" in told("--language", "en", "plan", "--help")
    assert "Opciones:" in told("plan", "--help")  # and is forgotten afterwards
    machine.setenv(language.ASKED, "en")
    assert "Options:" in told("plan", "--help")
    assert "Opciones:" in told("--language", "es", "plan", "--help")


def test_a_machine_of_another_language_gets_english(machine: pytest.MonkeyPatch) -> None:
    machine.setenv("LANG", "tlh_QX.UTF-8")
    assert "Options:" in told("--help")


def test_a_language_that_is_not_spoken_is_refused_in_a_sentence() -> None:
    assert told("--language", "tlh", "plan") == (
        "The program does not speak 'tlh'; give one of en and es.\n"
    )


def test_answers_and_refusals_come_in_the_language() -> None:
    refused = told("--language", "es", "plan", "--sead", "3")
    assert "--sead" in refused
    assert "No such option" not in refused
    ration = told("--language", "es", "calc", "ration", "tank=500 L", "wanted=20000", "culture=4e6")
    assert "2.513 L" in ration
    assert "Culture to add" not in ration


def test_every_command_tells_its_help_in_the_language() -> None:
    for name, words in shell.COMMANDS.items():
        english, spanish = told(name, "--help"), told("--language", "es", name, "--help")
        for line in english.splitlines():
            told_line = line.strip()
            if told_line and not told_line.startswith(("protoconch", "--", "-h", "Usage: ")):
                assert told_line not in spanish, (name, line)
        assert words.english in told("--help").replace("\n           ", " ")


def test_what_the_library_says_is_what_is_gathered() -> None:
    folder = Path(inspect.getfile(__import__("click"))).parent
    said: set[object] = set()
    for file in folder.glob("*.py"):
        for call in ast.walk(ast.parse(file.read_text("utf-8"))):
            if isinstance(call, ast.Call) and getattr(call.func, "id", "") in ("_", "ngettext"):
                texts = [part.value for part in call.args if isinstance(part, ast.Constant)]
                said.add(texts[0] if len(texts) == 1 else tuple(texts[:2]))
    assert set(catalogue.CLICK) <= said


def test_english_costs_nothing_to_speak() -> None:
    assert find_spec("protoconch.cli.language")
    code = (
        "import sys, time\nfrom protoconch.cli import language\nbegin = time.process_time()\n"
        "language.speak()\nprint(time.process_time() - begin)\n"
        "print([name for name in ('django', 'babel', 'numpy') if name in sys.modules])"
    )
    seconds, loaded = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True
    ).stdout.splitlines()
    assert loaded == "[]"
    assert float(seconds) < 0.005 * float(os.environ.get("SLACK", "4"))


def test_a_text_is_read_in_the_language_of_now() -> None:
    text = say("The answer as JSON.")
    speak("es")
    assert str(text) != "The answer as JSON."
    speak("en")
    assert str(text) == "The answer as JSON."
