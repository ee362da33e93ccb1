"""Modules stay small, and their names say what they hold."""

import ast
from pathlib import Path

import pytest

from tests.architecture.tree import ROOT, dotted, modules

LONGEST = 400
EMPTY_WORDS = {"util", "utils", "helper", "helpers", "common", "manager", "base", "misc", "stuff"}
TESTS = sorted((ROOT / "tests").rglob("*.py")) + sorted((ROOT / "benchmarks").rglob("*.py"))


def empty_names(name: str, source: str) -> set[str]:
    """Names in a module, its own included, that say nothing of what they hold."""
    named = (ast.FunctionDef, ast.AsyncFunctionDef, ast.ClassDef)
    names = {node.name for node in ast.walk(ast.parse(source)) if isinstance(node, named)}
    words = {name: name.rpartition(".")[2] for name in names | {name}}
    return {name for name, last in words.items() if last.strip("_").lower() in EMPTY_WORDS}


@pytest.mark.parametrize("module", modules() + TESTS, ids=lambda m: str(m.relative_to(ROOT)))
def test_no_module_is_longer_than_400_lines(module: Path) -> None:
    assert len(module.read_text("utf-8").splitlines()) <= LONGEST, "what two things is it?"


def test_every_name_says_what_it_holds() -> None:
    found = {dotted(m): empty_names(dotted(m), m.read_text("utf-8")) for m in modules()}
    assert {module: names for module, names in found.items() if names} == {}


def test_an_empty_name_is_noticed() -> None:
    assert empty_names("protoconch.season.utils", "x = 1") == {"protoconch.season.utils"}
    assert empty_names("protoconch.season.plan", "class Manager: ...") == {"Manager"}
    assert empty_names("protoconch.season.plan", "def based_on(): ...") == set()
