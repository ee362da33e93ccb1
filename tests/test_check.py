"""check.py: every check runs, the cheapest first, even after one has failed."""

import subprocess
from pathlib import Path

import pytest

import check


@pytest.fixture
def called(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """The commands that check.py starts, without starting them; `mypy` finds a fault."""
    commands: list[str] = []

    def call(command: list[str | Path], **_: object) -> int:
        commands.append(" ".join([Path(command[0]).name, *map(str, command[1:])]))
        return 1 if "mypy" in commands[-1] else 0

    monkeypatch.setattr(subprocess, "call", call)
    return commands


def test_all_run_in_order_though_one_fails(
    called: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    assert check.main([]) == 1
    programs = [command.split()[0] for command in called]
    assert programs == [
        "ruff",
        "ruff",
        "codespell",
        "lint-imports",
        "mypy",
        "pytest",
        "pytest",
        "python",
    ]
    assert called[0] == "ruff format --check"
    assert "--cov" in called[-3]
    for folder in check.OF_THE_WHOLE:  # left out of the one, and all of the other
        assert f"--ignore={folder}" in called[-3].split()
        assert folder in called[-2].split()
    assert "postgresql.py pytest" in called[-1]
    assert capsys.readouterr().out.splitlines()[-1].endswith(": types")


def test_tidying_mends_and_words_go_to_pytest_alone(called: list[str]) -> None:
    check.main(["--tidy", "tests/season", "-k", "permit"])
    assert called[:2] == ["ruff format", "ruff check --fix"]
    assert called[-1].endswith("tests/season -k permit")
    assert "--cov" not in called[-1]


def test_the_quick_checks_leave_out_types_and_tests(called: list[str]) -> None:
    assert check.main(["--quick"]) == 0
    assert [command.split()[0] for command in called][-1] == "lint-imports"
