"""Imports run one way: the contracts of pyproject.toml hold, and would notice a breach."""

import re
import shutil
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

from tests.architecture.tree import PACKAGE, ROOT, environment

CONTRACTS = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["tool"]["importlinter"]
NAMES = [contract["name"] for contract in CONTRACTS["contracts"]]

VIOLATIONS = {  # where it is planted: what it says, and the contract that must notice
    "season/planted.py": ("from protoconch.sheets import planted", 0),
    "animals/planted.py": ("from protoconch.algae import planted", 0),
    "planted/__init__.py": ("", 0),
    "work/planted.py": ("def f():\n    import time", 1),
    "bench/planted.py": ("from urllib.request import urlopen", 1),
    "calculations/planted.py": ("from random import random", 1),
    "algae/planted.py": ("import sqlite3", 1),
    "pictures/planted.py": ("import click", 1),
    "errors_planted.py": ("import socket", 1),
    "hatchery/planted.py": ("import subprocess", 1),
    "season/planted_reader.py": ("from pathlib import Path", 2),
    "work/planted_reader.py": ("import os", 2),
    "season/planted_solver.py": ("def f():\n    from ortools.sat.python import cp_model", 3),
    "season/planted_circle/__init__.py": ("", 4),
    "season/planted_circle/one/__init__.py": (
        "from protoconch.season.planted_circle import two",
        4,
    ),
    "season/planted_circle/two/__init__.py": (
        "from protoconch.season.planted_circle import one",
        4,
    ),
}


def verdicts(folder: Path) -> tuple[dict[str, str], str]:
    """What lint-imports says of each contract in a folder with pyproject.toml and src/."""
    command = [Path(sys.executable).parent / "lint-imports", "--no-logo", "--no-cache"]
    settings = dict(environment(COLUMNS="300"), PYTHONPATH=str(folder / "src"))
    said = subprocess.run(
        command, cwd=folder, env=settings, capture_output=True, text=True, check=False
    ).stdout
    found = re.findall(r"^(.+) (KEPT|BROKEN)\b", said, re.MULTILINE)
    return dict(found), said


@pytest.fixture
def copy(tmp_path: Path) -> Path:
    shutil.copy(ROOT / "pyproject.toml", tmp_path)
    shutil.copytree(PACKAGE, tmp_path / "src" / "protoconch", ignore=lambda *_: ["__pycache__"])
    return tmp_path


def test_every_contract_holds() -> None:
    found, said = verdicts(ROOT)
    assert found == dict.fromkeys(NAMES, "KEPT"), said


def test_every_contract_notices_what_breaks_it(copy: Path) -> None:
    for place, (text, _) in VIOLATIONS.items():
        planted = copy / "src" / "protoconch" / place
        planted.parent.mkdir(exist_ok=True)
        planted.write_text(text + "\n")
    for name in ("sheets", "algae"):
        (copy / "src" / "protoconch" / name / "planted.py").touch()
    found, said = verdicts(copy)
    assert found == dict.fromkeys(NAMES, "BROKEN"), said
    for place, (text, _) in VIOLATIONS.items():
        if text:
            module = "protoconch." + place.removesuffix(".py").removesuffix("/__init__")
            assert module.replace("/", ".") in said, f"nobody noticed {place}:\n{said}"
