"""The command line as a whole: quick help, commands as they come, mistakes in a sentence."""

import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import click
import pytest
from click.testing import CliRunner

from protoconch import __version__
from protoconch.cli import main as shell
from protoconch.errors import BadFile, BadInput, Problem

HEAVY = ("numpy", "scipy", "pint", "icalendar", "protoconch.calculations", "protoconch.season")


def python(*words: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, *words], capture_output=True, text=True, check=False, encoding="utf-8"
    )


def test_help_names_the_commands_that_are_there_and_loads_none_of_them() -> None:
    code = (
        "import sys\nfrom protoconch.cli.main import main\n"
        "main(['--help'], standalone_mode=False)\n"
        f"print([name for name in {HEAVY} if name in sys.modules])"
    )
    told = python("-c", code).stdout
    assert "calc" in told
    assert told.rstrip().endswith("[]")


def test_it_runs_as_a_module_and_alone_shows_its_help() -> None:
    alone, asked = (
        python("-m", "protoconch.cli.main"),
        python("-m", "protoconch.cli.main", "--help"),
    )
    assert alone.returncode == asked.returncode == 0
    assert alone.stdout == asked.stdout
    assert alone.stdout.startswith("Usage: protoconch ")


def test_it_tells_its_version() -> None:
    told = CliRunner().invoke(shell.main, ["--version"])
    assert told.stdout.strip() == f"protoconch, version {__version__}"


def test_a_command_is_hidden_while_its_module_is_missing(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(shell.COMMANDS, "barnacle", "Not there.")
    assert "barnacle" not in CliRunner().invoke(shell.main, ["--help"]).stdout
    told = CliRunner().invoke(shell.main, ["barnacle"])
    assert (told.exit_code, told.stdout) == (2, "")
    assert told.stderr.startswith("There is no command barnacle. There are ")


@pytest.fixture
def barnacle(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Iterator[None]:
    """A command that appears beside the others."""
    (tmp_path / "barnacle.py").write_text(
        "import click\nfrom protoconch.errors import BadInput\n\n"
        "@click.command()\n@click.option('--fail')\ndef barnacle(fail):\n"
        "    if fail:\n        raise BadInput(fail)\n    click.echo('clung')\n",
        encoding="utf-8",
    )
    package = sys.modules["protoconch.cli"]
    monkeypatch.setattr(package, "__path__", [*package.__path__, str(tmp_path)])
    monkeypatch.setitem(shell.COMMANDS, "barnacle", "Of the sea.")
    yield
    sys.modules.pop("protoconch.cli.barnacle", None)


@pytest.mark.usefixtures("barnacle")
def test_a_command_works_as_soon_as_its_module_is_there() -> None:
    assert "Of the sea." in CliRunner().invoke(shell.main, ["--help"]).stdout
    assert CliRunner().invoke(shell.main, ["barnacle"]).stdout == "clung\n"


@pytest.mark.usefixtures("barnacle")
@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        (["barnacle", "--fail", "Tank is 0 L; it must be more."], "Tank is 0 L; it must be more."),
        (["barnacle", "--fail", "Did you mean it?"], "Did you mean it?"),
        (["barnacle", "--foo"], "No such option '--foo'."),
        (["--foo"], "No such option '--foo'."),
        (["barnacl"], "There is no command barnacl. Did you mean barnacle?"),
    ],
)
def test_a_mistake_is_one_sentence_on_standard_error_with_status_2(
    words: list[str], sentence: str
) -> None:
    told = CliRunner().invoke(shell.main, words)
    assert (told.exit_code, told.stdout, told.stderr.rstrip("\n")) == (2, "", sentence)


def test_all_faults_of_a_file_are_told_each_with_its_line() -> None:
    with pytest.raises(click.ClickException) as told, shell.mistakes_told():
        raise BadFile("hatchery.toml", (Problem(7, "Second."), Problem(3, "First.")))
    assert told.value.exit_code == 2
    assert str(told.value) == "hatchery.toml, line 3: First.\nhatchery.toml, line 7: Second."


def test_a_mistake_of_the_programmer_is_not_hidden() -> None:
    with pytest.raises(ZeroDivisionError), shell.mistakes_told():
        raise ZeroDivisionError
    with pytest.raises(click.ClickException), shell.mistakes_told():
        raise BadInput("Said.")


@pytest.mark.parametrize("words", [[], ["calc"]])
def test_examples_in_the_help_stand_on_lines_of_their_own(words: list[str]) -> None:
    lines = CliRunner().invoke(shell.main, [*words, "--help"]).stdout.splitlines()
    examples = [line for line in lines if "protoconch calc ration" in line]
    assert examples[0].strip().startswith("protoconch calc ration")
    assert "\\b" not in "".join(lines)
