"""Where the files of this project are."""

import os
import subprocess
from pathlib import Path

ROOT = Path(__file__).parents[2]
PACKAGE = ROOT / "src" / "protoconch"
SHELLS = ("cli", "web", "operations", "records")  # they may know the clock, dice and databases


def modules(*, shells: bool = True) -> list[Path]:
    """Every module of the package, with or without the shells."""
    found = sorted(PACKAGE.rglob("*.py"))
    return [f for f in found if shells or f.relative_to(PACKAGE).parts[0] not in SHELLS]


def dotted(module: Path) -> str:
    """A module's name as an import writes it."""
    parts = module.relative_to(PACKAGE.parent).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


def repository_files() -> list[Path]:
    """Every file that git keeps or would keep."""
    listing = ["git", "ls-files", "-z", "--cached", "--others", "--exclude-standard"]
    names = subprocess.run(listing, cwd=ROOT, capture_output=True, text=True, check=True).stdout
    return [ROOT / name for name in names.split("\0") if name and (ROOT / name).is_file()]


def environment(**more: str) -> dict[str, str]:
    """Settings for a program that shall import this tree."""
    return dict(os.environ, PYTHONPATH=str(PACKAGE.parent), **more)
