"""The science below the shells: light to import, and blind to the clock and to global dice."""

import ast
import subprocess
import sys
from pathlib import Path

import pytest

from tests.architecture.tree import PACKAGE, dotted, environment, modules

HEAVY = ("click", "django", "ortools", "pint", "pandas", "simpy", "hypothesis")
CLOCKS = {"today", "now", "utcnow", "fromtimestamp", "time_ns", "perf_counter"}
DICE = {"Generator", "SeedSequence", "BitGenerator", "PCG64", "PCG64DXSM", "Philox", "SFC64"}
PARTS = sorted({m.relative_to(PACKAGE).parts[0] for m in modules(shells=False)})


def impure(source: str) -> list[str]:
    """Calls that read a clock or throw dice that nobody passed in, with their lines."""
    found = []
    for node in ast.walk(ast.parse(source)):
        if not isinstance(node, ast.Call):
            continue
        called = ast.unparse(node.func)
        owner, _, name = called.rpartition(".")
        if owner and name in CLOCKS:
            found.append(f"line {node.lineno}: {called}")
        if owner.endswith(("np.random", "numpy.random")) and name not in DICE:
            found.append(f"line {node.lineno}: {called}")
        if name == "default_rng" and not owner:
            found.append(f"line {node.lineno}: {called}")
    return found


@pytest.mark.parametrize("part", PARTS)
def test_the_science_is_light_to_import(part: str) -> None:
    names = [dotted(m) for m in modules(shells=False) if m.relative_to(PACKAGE).parts[0] == part]
    program = f"import sys, {', '.join(names)}\nprint(*sorted(set({HEAVY}) & set(sys.modules)))"
    run = subprocess.run(
        [sys.executable, "-c", program],
        env=environment(), capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert run.returncode == 0, run.stderr
    assert run.stdout.split() == []


@pytest.mark.parametrize("module", modules(shells=False), ids=dotted)
def test_the_science_reads_no_clock_and_throws_no_dice_of_its_own(module: Path) -> None:
    assert impure(module.read_text("utf-8")) == []


@pytest.mark.parametrize(
    "line",
    [
        "day = date.today()",
        "day = datetime.datetime.now(UTC)",
        "rng = np.random.default_rng(7)",
        "rng = default_rng()",
        "x = numpy.random.normal(0, 1)",
    ],
)
def test_a_clock_or_dice_in_the_science_is_noticed(line: str) -> None:
    assert impure(line)


@pytest.mark.parametrize("line", ["x = rng.normal()", "def f(rng: np.random.Generator): ..."])
def test_dice_that_were_passed_in_are_welcome(line: str) -> None:
    assert impure(line) == []
