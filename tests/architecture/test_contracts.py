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

BREACHES = {  # module: what it says; each is one that some contract must name
    "season.upward": "from protoconch.sheets import planted",
    "animals.sideways": "from protoconch.algae import planted",
    "unplaced": "",
    "work.clock": "def f():\n    import time",
    "bench.network": "from urllib.request import urlopen",
    "calculations.dice": "from random import random",
    "algae.database": "import sqlite3",
    "pictures.command_line": "import click",
    "errors_socket": "import socket",
    "hatchery.program": "import subprocess",
    "season.reader": "from pathlib import Path",
    "work.reader": "import os",
    "seawater.oracle": "import PyCO2SYS",
    "season.solver": "def f():\n    from ortools.sat.python import cp_model",
}
CIRCLE = {
    "season.circle.__init__": "",
    "season.circle.one": "from protoconch.season.circle import two",
    "season.circle.two": "from protoconch.season.circle import one",
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
    landings = {"sheets.planted": "", "algae.planted": ""}
    for module, text in (landings | BREACHES | CIRCLE).items():
        planted = copy.joinpath("src", "protoconch", *module.split(".")).with_suffix(".py")
        planted.parent.mkdir(exist_ok=True)
        planted.write_text(text + "\n")
    found, said = verdicts(copy)
    assert found == dict.fromkeys(NAMES, "BROKEN"), said
    unnoticed = [name for name in BREACHES if not re.search(rf"protoconch\.{name}\b", said)]
    assert unnoticed == [], said
    assert "No cycles are allowed in protoconch.season.circle" in said, said
