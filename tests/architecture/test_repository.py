"""The repository is anybody's: no machine's own paths, locks in step, decisions listed."""

import re
import tomllib
from pathlib import Path

import pytest

from tests.architecture.tree import ROOT, repository_files

DECISIONS = ROOT / "docs" / "decisions"
ROOTS = "work|tmp|opt|root|home|Users|mnt|var"
OWN_TO_A_MACHINE = {  # written in pieces, so that this file does not hold them
    "a machine's path": re.compile(rf"(?<![\w.:/)}}>*-])/(?:{ROOTS})/\w"),
    "a Windows path": re.compile(r"\b[A-Z]:\\\\?Users"),
    "a registry's host": re.compile("pypi[.]org|python" + "hosted|npmjs[.]|deb[.]debian|conda[.]"),
    "an index": re.compile("--(?:extra-)?index-url|--find" + "-links|--trusted" + "-host"),
}


def named(lock: str) -> dict[str, str]:
    """Package: version of a lock file."""
    lines = (ROOT / "locks" / f"{lock}.txt").read_text("utf-8").splitlines()
    pins = (re.match(r"([\w.-]+)==(\S+)", line) for line in lines)
    return {pin[1]: pin[2] for pin in pins if pin}


def own_to_a_machine(text: str) -> list[str]:
    """What a text holds that is true on one machine only."""
    return [
        f"{what}: {found.group()}"
        for what, pattern in OWN_TO_A_MACHINE.items()
        if (found := pattern.search(text))
    ]


def test_no_file_names_a_registry_or_a_machine() -> None:
    found = {}
    for file in repository_files():
        try:
            text = file.read_text("utf-8")
        except UnicodeDecodeError:
            continue  # a picture
        if said := own_to_a_machine(text):
            found[str(file.relative_to(ROOT))] = said
    assert found == {}


@pytest.mark.parametrize(
    "text",
    [
        "see /" + "home/x",
        "https://pypi" + ".org/simple",
        "pip --index" + "-url x",
        "C:\\" + "Users",
    ],
)
def test_a_registry_or_a_machine_is_noticed(text: str) -> None:
    assert own_to_a_machine(text)


@pytest.mark.parametrize("text", ["src/protoconch/work/hours.py", "../work/x", "2 g/L/work/h"])
def test_paths_inside_the_project_are_welcome(text: str) -> None:
    assert own_to_a_machine(text) == []


@pytest.mark.parametrize("lock", ["test", "tools"])
def test_every_lock_holds_all_of_the_run_lock(lock: str) -> None:
    assert named("run").items() <= named(lock).items()


def test_every_pin_has_its_hashes() -> None:
    for lock in (ROOT / "locks").glob("*.txt"):
        pins = re.split(r"\n(?=\S)", lock.read_text("utf-8").strip())
        bare = [pin for pin in pins if not pin.startswith("#") and "--hash=sha256:" not in pin]
        assert bare == [], lock.name


def test_the_locks_hold_all_that_the_project_asks_for() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))
    groups = project["dependency-groups"]
    asked = {
        "run": project["project"]["dependencies"] + groups["install"],
        "test": groups["test"] + project["project"]["optional-dependencies"]["proof"],
        "tools": groups["tools"],
    }
    for lock, wanted in asked.items():
        names = {re.match(r"[\w.-]+", want)[0].lower() for want in wanted}
        assert names <= set(named(lock)), f"python3 start.py lock: {lock}"


def test_every_decision_is_listed_under_its_title() -> None:
    listed = (DECISIONS / "README.md").read_text("utf-8")
    records = sorted(DECISIONS.glob("[0-9]*.md"))
    assert len({record.name[:4] for record in records}) == len(records), "two with one number"
    for record in records:
        title = record.read_text("utf-8").splitlines()[0].removeprefix("# ")
        assert f"[{title}]({record.name})" in listed, record.name


def test_every_listed_decision_exists() -> None:
    names = re.findall(r"\]\(([\w.-]+\.md)\)", (DECISIONS / "README.md").read_text("utf-8"))
    assert names
    assert [name for name in names if not Path(DECISIONS / name).is_file()] == []
