"""Runs every check of the project, the cheapest first, all of them even if one fails.

`python3 start.py test` starts it in .venv; in a Python that has the test packages it also runs
by itself: `python check.py`. With --tidy it first formats the code and mends what it can; with
--quick it leaves out the types and the tests. Further words go to pytest; as they usually pick a
few tests, coverage is then left out.
"""

import os
import subprocess
import sys
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parent
COVERAGE = ["--cov", "--cov-report=term"]
PARALLEL = ["pytest", "-n", "auto", "--dist", "loadfile", "--no-loadscope-reorder"]
OF_THE_WHOLE = ["tests/browser", "tests/durability"]
"""Real browsers, real servers and killed ones. What they run is covered by the other tests; being
measured would only make them slower."""
ON_POSTGRESQL = "tests/postgresql.py"
RECORDS = ["tests/records", "tests/operations", "tests/web"]  # the same on both databases


def steps(words: list[str], *, tidy: bool) -> list[tuple[str, list[str]]]:
    """Name and command of each check, the cheapest first."""
    return [
        ("format", ["ruff", "format", *([] if tidy else ["--check"])]),
        ("lint", ["ruff", "check", *(["--fix"] if tidy else [])]),
        ("spelling", ["codespell"]),
        ("import directions", ["lint-imports", "--no-logo"]),
        ("types", ["mypy"]),
        *([("tests", [*PARALLEL, *words])] if words else all_tests()),
    ]


def all_tests() -> list[tuple[str, list[str]]]:
    """Every test once, and those of the records on both databases."""
    apart = [f"--ignore={folder}" for folder in OF_THE_WHOLE]
    return [
        ("tests", [*PARALLEL, *COVERAGE, *apart]),
        ("tests of the whole", [*PARALLEL, *OF_THE_WHOLE]),
        ("tests on PostgreSQL", ["python", ON_POSTGRESQL, *PARALLEL, *RECORDS]),
    ]


def main(words: list[str]) -> int:
    """Run the checks and give 1 if one failed."""
    ours = {"--tidy", "--quick"}.intersection(words)
    todo = steps([word for word in words if word not in ours], tidy="--tidy" in ours)
    if "--quick" in ours:
        todo = [step for step in todo if step[0] != "types" and not step[0].startswith("tests")]
    here = Path(sys.executable).parent  # the programs of this very Python come first
    settings = dict(os.environ, PATH=f"{here}{os.pathsep}{os.environ.get('PATH', '')}")
    began, failed = time.monotonic(), []
    for name, command in todo:
        since = time.monotonic()
        print(f"== {name}", flush=True)
        if subprocess.call([here / command[0], *command[1:]], cwd=ROOT, env=settings):
            failed.append(name)
        print(f"   {time.monotonic() - since:.1f} s", flush=True)
    seconds = f"in {time.monotonic() - began:.0f} s"
    print(f"== FAILED {seconds}: {', '.join(failed)}" if failed else f"== all passed {seconds}")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
