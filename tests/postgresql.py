"""A PostgreSQL of the tests' own, for as long as they need it.

`python tests/postgresql.py pytest tests/records` runs a command with DATABASE_URL set to it. Where
the machine has no PostgreSQL this is said, and in CI it is a fault.
"""

import os
import shutil
import signal
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from urllib.parse import quote

MISSING = "this machine has no PostgreSQL server (Debian: apt install postgresql)"
QUICK = ("fsync=off", "synchronous_commit=off", "full_page_writes=off", "max_connections=60")
"""For tests only: nothing of it must outlive a pulled plug."""


def programs() -> Path | None:
    """The folder of the server's programs, the newest where there are several."""
    if found := shutil.which("initdb"):
        return Path(found).resolve().parent
    places = sorted(Path("/usr/lib/postgresql").glob("*/bin/initdb"))  # where Debian keeps them
    return places[-1].parent if places else None


@contextmanager
def server() -> Iterator[str]:
    """A fresh server on a socket of its own; its address.

    Raises: FileNotFoundError, where the machine has none.
    """
    bin_folder = programs()
    if bin_folder is None:
        raise FileNotFoundError(MISSING)
    folder = Path(tempfile.mkdtemp(prefix="protoconch-pg-"))
    as_owner: list[str] = []
    if hasattr(os, "geteuid") and os.geteuid() == 0:  # the server refuses to run as root
        shutil.chown(folder, "postgres")
        as_owner = ["runuser", "-u", "postgres", "--"]
    control = [*as_owner, str(bin_folder / "pg_ctl"), "-D", str(folder / "data"), "-w", "-s"]
    settings = " ".join(f"-c {setting}" for setting in QUICK)
    made = [*as_owner, str(bin_folder / "initdb"), "-D", str(folder / "data"), "-U", "postgres",
            "-A", "trust", "-E", "UTF8", "--locale=C.UTF-8", "--no-sync"]  # fmt: skip
    try:
        _run(made, folder)
        start = f"-k {folder} -h '' {settings}"
        _run([*control, "-l", str(folder / "log"), "-o", start, "start"], folder)
        try:
            yield f"postgresql://postgres@{quote(str(folder), safe='')}/postgres"
        finally:
            _run([*control, "-m", "immediate", "stop"], folder)
    finally:
        shutil.rmtree(folder, ignore_errors=True)


def _run(command: list[str], folder: Path) -> None:
    with (folder / "said").open("a") as said:
        subprocess.run(command, cwd=folder, stdout=said, stderr=said, check=True)


def main(command: list[str]) -> int:
    """Run a command beside a server and give its status."""
    signal.signal(signal.SIGTERM, lambda *_: sys.exit(1))  # so that the server is stopped as well
    try:
        with server() as address:
            return subprocess.call(command, env=dict(os.environ, DATABASE_URL=address))
    except FileNotFoundError as fault:
        print(f"Left out: {fault}.", file=sys.stderr)
        return 1 if os.environ.get("CI") else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
