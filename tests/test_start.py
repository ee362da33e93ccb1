"""start.py: sets a small stand-in project up for real, with no network, and says what is wrong.

The stand-in has the real start.py, a lock of one package that is made here, and a build of its own.
"""

import hashlib
import importlib.util
import json
import os
import shutil
import signal
import socket
import subprocess
import sys
import time
import zipfile
from collections.abc import Iterator
from pathlib import Path
from types import ModuleType

import pytest

ROOT = Path(__file__).parents[1]
BUILD = """
import zipfile
def get_requires_for_build_editable(settings=None):
    return []
def build_editable(folder, settings=None, metadata=None):
    name = "protoconch-1-py3-none-any.whl"
    with zipfile.ZipFile(folder + "/" + name, "w") as wheel:
        wheel.writestr("protoconch.pth", {src!r} + "\\n")
        for part, text in {parts!r}.items():
            wheel.writestr("protoconch-1.dist-info/" + part, text)
    return name
"""
PROJECT = """
[build-system]
requires = []
build-backend = "build_here"
backend-path = ["."]
[project]
name = "protoconch"
version = "1"
"""
PROGRAM = """
import sys, cowrie
print("cowrie", cowrie.spots, *sys.argv[1:])
sys.exit(3 if "fail" in sys.argv else 0)
"""


def dist_info(name: str) -> dict[str, str]:
    """The three files that make a wheel a wheel."""
    return {
        "METADATA": f"Metadata-Version: 2.1\nName: {name}\nVersion: 1\n",
        "WHEEL": "Wheel-Version: 1.0\nGenerator: here\nRoot-Is-Purelib: true\nTag: py3-none-any\n",
        "RECORD": "",
    }


def stand_in(tmp_path: Path) -> Path:
    """A folder that start.py can set up from what lies on the disk."""
    folder, shelf = tmp_path / "a hatchery", tmp_path / "shelf"
    (folder / "locks").mkdir(parents=True)
    (folder / "src" / "protoconch" / "cli").mkdir(parents=True)
    shelf.mkdir()
    wheel = shelf / "cowrie-1-py3-none-any.whl"
    with zipfile.ZipFile(wheel, "w") as packed:
        packed.writestr("cowrie.py", "spots = 12\n")
        for part, text in dist_info("cowrie").items():
            packed.writestr("cowrie-1.dist-info/" + part, text)
    pin = f"cowrie==1 \\\n    --hash=sha256:{hashlib.sha256(wheel.read_bytes()).hexdigest()}\n"
    (folder / "locks" / "run.txt").write_text(pin)
    (folder / "pyproject.toml").write_text(PROJECT)
    src = str(folder / "src")
    (folder / "build_here.py").write_text(BUILD.format(src=src, parts=dist_info("protoconch")))
    (folder / "src" / "protoconch" / "cli" / "main.py").write_text(PROGRAM)
    shutil.copy(ROOT / "start.py", folder)
    return folder


@pytest.fixture
def project(tmp_path: Path) -> Path:
    """A stand-in that is not set up."""
    return stand_in(tmp_path)


@pytest.fixture(scope="module")
def set_up(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A stand-in that was set up; tests that share it leave it working."""
    folder = stand_in(tmp_path_factory.mktemp("set_up"))
    first = start(folder, "plan", "demo", "--json")
    assert first.stdout == "cowrie 12 plan demo --json\n", first.stderr
    assert "Set up in" in first.stderr
    return folder


@pytest.fixture
def moved(set_up: Path) -> Iterator[Path]:
    """The same, with a lock that has changed since, so that pip is asked again."""
    lock = set_up / "locks" / "run.txt"
    before = lock.read_text()
    lock.write_text("# moved\n" + before)
    yield set_up
    lock.write_text(before)
    assert start(set_up).stdout == "cowrie 12 demo\n", "once all is well it goes on by itself"


def start(folder: Path, *words: str, **settings: str) -> subprocess.CompletedProcess[str]:
    """Run start.py with no network but what lies on the shelf."""
    offline = {
        "PIP_NO_INDEX": "1",
        "PIP_FIND_LINKS": str(folder.parent / "shelf"),
        "PIP_RETRIES": "1",
    }
    kept = {k: v for k, v in os.environ.items() if not k.startswith(("PIP_", "PYTHON", "COV_"))}
    return subprocess.run(
        [sys.executable, "start.py", *words], cwd=folder, env=kept | offline | settings,
        capture_output=True, text=True, check=False,
    )  # fmt: skip


def loaded(folder: Path) -> ModuleType:
    """The start.py of a folder as a module, to hand it a disk or a version."""
    spec = importlib.util.spec_from_file_location("start_here", folder / "start.py")
    assert spec
    assert spec.loader
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def refused(run: subprocess.CompletedProcess[str]) -> str:
    """The last line of a start that did not work, which must be one plain sentence."""
    assert run.returncode == 1
    assert "Traceback" not in run.stderr
    sentence = run.stderr.strip().splitlines()[-1]
    assert sentence.endswith(".")
    return sentence


def test_a_set_up_that_is_there_costs_next_to_nothing(set_up: Path) -> None:
    start(set_up)
    seconds = []
    for _ in range(3):  # the machine may be busy
        began = time.perf_counter()
        second = start(set_up)
        seconds.append(time.perf_counter() - began)
        assert (second.stdout, second.stderr) == ("cowrie 12 demo\n", "")
    assert min(seconds) < 2


def test_the_status_is_that_of_the_program(set_up: Path) -> None:
    assert start(set_up, "fail").returncode == 3


def test_a_lock_that_has_moved_is_followed(moved: Path) -> None:
    third = start(moved)
    assert "Installing the 1 packages of locks/run.txt" in third.stderr
    assert third.stdout == "cowrie 12 demo\n"
    assert start(moved).stderr == ""


def test_a_broken_set_up_is_told_and_made_anew(set_up: Path) -> None:
    for python in (set_up / ".venv").glob("*/python*"):
        if not python.is_dir():
            python.unlink()
            python.write_text("broken")
    mended = start(set_up)
    assert "Making .venv anew: its Python or its packages are gone" in mended.stderr
    assert mended.stdout == "cowrie 12 demo\n"


def test_every_way_to_break_a_set_up_is_seen(set_up: Path) -> None:
    fault = loaded(set_up).fault
    stamp = json.loads((set_up / ".venv" / "protoconch.json").read_text())
    assert fault(stamp) == ""
    assert fault(stamp | {"place": "elsewhere"}) == "the folder has moved"
    assert fault({"unfinished": True}) == "the last set-up was cut short"
    assert fault(stamp | {"site": str(set_up / "gone")}) == "its Python or its packages are gone"
    module = next(set_up.glob(".venv/**/cowrie.py"))
    hidden = module.rename(module.with_suffix(".away"))
    assert fault(stamp) == "it has lost cowrie.py"
    hidden.rename(module)


@pytest.fixture
def offered(moved: Path) -> Iterator[Path]:
    """The same, with a cowrie 2 on the shelf."""
    shelf = moved.parent / "shelf"
    second = shutil.copy(shelf / "cowrie-1-py3-none-any.whl", shelf / "cowrie-2-py3-none-any.whl")
    yield moved
    Path(second).unlink()


def test_a_package_that_is_not_the_locked_one_is_refused(offered: Path) -> None:
    lock = offered / "locks" / "run.txt"
    lock.write_text(f"cowrie==2 --hash=sha256:{'0' * 64}\n")
    assert "not the one that the lock names" in refused(start(offered))


def test_a_pin_without_a_hash_is_refused(offered: Path) -> None:
    (offered / "locks" / "run.txt").write_text("cowrie==2\n")
    assert "has no hash" in refused(start(offered))


@pytest.mark.skipif(os.name == "nt", reason="processes are stopped as a group by POSIX means")
def test_a_set_up_that_was_killed_is_made_anew(moved: Path) -> None:
    stamp = moved / ".venv" / "protoconch.json"
    with subprocess.Popen(
        [sys.executable, "start.py"], cwd=moved, stderr=subprocess.DEVNULL, start_new_session=True
    ) as running:
        while "unfinished" not in stamp.read_text():
            assert running.poll() is None, "it was over before it could be stopped"
            time.sleep(0.01)
        os.killpg(running.pid, signal.SIGKILL)
    mended = start(moved)
    assert "Making .venv anew: the last set-up was cut short" in mended.stderr
    assert mended.stdout == "cowrie 12 demo\n"


def test_no_network_is_told(moved: Path) -> None:
    lock = moved / "locks" / "run.txt"
    lock.write_text(lock.read_text().replace("cowrie==1", "cowrie==2"))
    with socket.socket() as closed:
        closed.bind(("127.0.0.1", 0))
        port = closed.getsockname()[1]
    index = {"PIP_NO_INDEX": "0", "PIP_INDEX_URL": f"http://127.0.0.1:{port}", "PIP_FIND_LINKS": ""}
    assert "check the network, and" in refused(start(moved, **index))


def test_an_index_that_has_nothing_fitting_is_told(moved: Path) -> None:
    lock = moved / "locks" / "run.txt"
    lock.write_text(lock.read_text().replace("cowrie==1", "cowrie==2"))
    assert "no ready-made package" in refused(start(moved))


def test_a_full_disk_is_told_before_anything_is_made(
    project: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    here = loaded(project)
    monkeypatch.setattr(here, "free_mb", lambda: 12.0)
    assert here.main([]) == 1
    assert capsys.readouterr().err.startswith("The disk has 12 MB free and the set-up needs 500 MB")
    assert not (project / ".venv").exists()


def test_the_free_space_is_that_of_this_disk(project: Path) -> None:
    assert loaded(project).free_mb() == pytest.approx(
        shutil.disk_usage(project).free / 1e6, rel=0.1
    )


@pytest.mark.parametrize("name", ["locks/run.txt", "pyproject.toml"])
def test_a_missing_file_is_told(project: Path, name: str) -> None:
    (project / name).unlink()
    assert refused(start(project)).startswith(f"The file {name} is missing")


def test_a_python_without_venv_is_told(project: Path) -> None:
    (project / "ensurepip.py").write_text("raise ImportError('taken out, as Debian does')")
    assert "python3-venv" in refused(start(project))


def test_a_folder_that_somebody_else_made_is_left_alone(project: Path) -> None:
    (project / ".venv").mkdir()
    (project / ".venv" / "letters").write_text("mine")
    assert "move it away" in refused(start(project))
    assert (project / ".venv" / "letters").read_text() == "mine"


@pytest.mark.parametrize(
    ("said", "meant"),
    [
        ("OSError: [Errno 28] No space left on device", "disk is full"),
        ("ERROR: Could not install: [Errno 13] Permission denied: 'x'", "see who owns it"),
        (
            "WARNING: Retrying after connection broken by 'ReadTimeoutError(\"Read timed out.",
            "network",
        ),
        ("ERROR: No matching distribution found for numpy==9", "no ready-made package"),
        ("ERROR: the dog ate it\n\n", "pip failed: ERROR: the dog ate it"),
        ("", "pip failed"),
    ],
)
def test_what_pip_says_becomes_a_sentence(said: str, meant: str) -> None:
    assert meant in loaded(ROOT).meaning(said)


@pytest.mark.parametrize("version", [(2, 7, 18), (3, 8, 0), (3, 10, 99)])
def test_an_old_python_is_refused(version: tuple[int, int, int]) -> None:
    assert f"this is Python {version[0]}.{version[1]}:" in loaded(ROOT).too_old(version)


@pytest.mark.parametrize("version", [(3, 11, 0), (3, 14, 2), (4, 0, 0)])
def test_a_python_of_today_is_welcome(version: tuple[int, int, int]) -> None:
    assert loaded(ROOT).too_old(version) == ""


def test_old_pythons_of_this_machine_read_the_file_and_say_so() -> None:
    names = ("python2.7", "python3.6", "python3.8", "python3.9", "python3.10")
    found = [shutil.which(name) for name in names]
    found += [str(path) for path in Path.home().glob(".pyenv/versions/*/bin/python")]
    ask = "import sys; sys.exit(46 if sys.version_info[:2] < (3, 11) else 0)"
    old = [p for p in found if p and subprocess.run([p, "-c", ask], check=False).returncode == 46]
    if not old:
        pytest.skip("no Python older than 3.11 on this machine")
    for python in old:
        run = subprocess.run(
            [python, ROOT / "start.py"], capture_output=True, text=True, check=False, cwd=ROOT
        )
        assert "Protoconch needs Python 3.11 or newer" in refused(run)
