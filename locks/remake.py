"""Remakes the lock files beside it from pyproject.toml; `python3 start.py lock` starts it.

Pins stay where they are unless pyproject.toml moves them; `--upgrade` (or any other word, which
goes to uv) moves them. The locks hold for Linux, macOS and Windows and for Python 3.11 or newer,
and name no index: where packages come from is each machine's own setting.
"""

import os
import subprocess
import sys
from pathlib import Path

LOCKS = {  # each holds all that run.txt holds, at the same versions
    "run": ["--group", "install"],
    "test": [
        *("--group", "install", "--group", "test", "--extra", "proof", "--extra", "postgresql"),
        *("-c", "locks/run.txt"),
    ],
    "tools": ["--group", "install", "--group", "tools", "-c", "locks/test.txt"],
}
UV = [sys.executable, "-m", "uv", "--no-config", "--quiet", "pip", "compile", "pyproject.toml"]
MANNER = [
    *("--universal", "--python-version", "3.11", "--generate-hashes", "--no-annotate"),
    *("--fork-strategy", "fewest"),  # one version for every Python: the same numbers everywhere
    *("--custom-compile-command", "python3 start.py lock"),
]


def main(words: list[str]) -> int:
    """Remake every lock and give uv's status."""
    settings = {name: text for name, text in os.environ.items() if not name.startswith("UV_")}
    for name, contents in LOCKS.items():
        sys.stderr.write(f"locks/{name}.txt\n")
        command = [*UV, *MANNER, *contents, *words, "-o", f"locks/{name}.txt"]
        root = Path(__file__).resolve().parent.parent
        status = subprocess.call(command, cwd=root, env=settings, stdout=subprocess.DEVNULL)
        if status:
            return status
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
