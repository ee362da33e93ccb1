"""Sets Protoconch up in .venv beside this file and runs it. Needs Python 3.11, nothing else.

python3 start.py              makes the invented hatchery, half a season logged, and serves it
python3 start.py test ...     runs every check and test; further words go to pytest
python3 start.py check ...    tidies the code, then does the same
python3 start.py words        gathers the texts of the program for each language's folder
python3 start.py lock ...     remakes locks/ from pyproject.toml; further words go to uv
python3 start.py hooks        lets git run the quick checks before each commit
python3 start.py WORD ...     anything else goes to protoconch, such as: plan demo --json

Written so that Pythons too old to run it can still read it and say so.
"""

import sys


def too_old(version):
    """The sentence for a Python that is too old, empty for one that will do."""
    if tuple(version[:2]) >= (3, 11):
        return ""
    return (
        "Protoconch needs Python 3.11 or newer, and this is Python %d.%d: install a newer one"
        " and start this file with it." % tuple(version[:2])
    )


if too_old(sys.version_info):
    sys.exit(too_old(sys.version_info))

import hashlib
import json
import os
import shutil
import subprocess
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parent
VENV = ROOT / ".venv"
STAMP = VENV / "protoconch.json"
PYTHON = VENV / ("Scripts/python.exe" if os.name == "nt" else "bin/python")
JOBS = {  # word: the lock it needs, what it starts
    "test": ("test", ["check.py"]),
    "check": ("test", ["check.py", "--tidy"]),
    "words": ("test", ["catalogue.py"]),
    "lock": ("tools", ["locks/remake.py"]),
    "hooks": ("tools", ["-m", "pre_commit", "install"]),
    "quick": ("test", ["check.py", "--quick"]),  # what the hook runs
}
NEEDED_MB = {"run": 500, "test": 1200, "tools": 200}  # measured, rounded up
PIP_SAYS = {  # its words: what they mean
    "DO NOT MATCH THE HASHES": "A fetched package is not the one that the lock names, so nothing"
    " was installed: empty pip's cache (pip cache purge)",
    "Hashes are required": "A package of the lock has no hash: remake it (python3 start.py lock)",
    "No space left|Errno 28|WinError 112": "The disk is full: make room",
    "ermission denied|Errno 13|WinError 5]": "The folder .venv cannot be written: see who owns it",
    "Connection|onnect timeout|Read timed out|ProxyError|SSLError|HTTP error|Name or service": (
        "The packages could not be fetched: check the network"
    ),
    "No matching distribution": "pip finds no ready-made package for this Python and machine: check"
    " the network and pip's settings (PIP_NO_INDEX), or try Python 3.11 to 3.14",
}


class Trouble(Exception):
    """One sentence that says what is wrong and what to do."""


def say(text):
    """Progress goes to stderr, so that stdout holds nothing but the answer."""
    sys.stderr.write(text + "\n")
    sys.stderr.flush()


def free_mb():
    """Free space where .venv goes [MB]."""
    return shutil.disk_usage(str(ROOT)).free / 1e6


def digest(name):
    """Hash of a file of the project."""
    if not (ROOT / name).is_file():
        raise Trouble(
            "The file %s is missing: get it back (git checkout %s) and run this again."
            % (name, name)
        )
    return hashlib.sha256((ROOT / name).read_bytes()).hexdigest()


def stamp_read():
    """What the last set-up left in .venv: hashes of what it followed, and what it put there."""
    try:
        return json.loads(STAMP.read_text())
    except (OSError, ValueError):
        return {}


def fault(stamp):
    """Why the .venv that is there cannot be used, empty if it can."""
    if stamp.get("unfinished"):
        return "the last set-up was cut short"
    if stamp.get("place", str(ROOT)) != str(ROOT):
        return "the folder has moved"
    try:
        subprocess.check_output([str(PYTHON), "-c", ""], stderr=subprocess.STDOUT)
        lost = set(stamp.get("holds", [])) - set(os.listdir(stamp.get("site", str(VENV))))
    except (OSError, subprocess.CalledProcessError):
        return "its Python or its packages are gone"
    return "it has lost " + min(lost) if lost else ""


def make_venv(why):
    """Make .venv, in place of a broken one that Python made earlier."""
    try:
        import ensurepip  # noqa: F401
        import venv  # noqa: F401
    except ImportError:
        raise Trouble(
            "This Python cannot make virtual environments: install its venv module"
            " (on Debian or Ubuntu: apt install python3-venv) and run this again."
        )
    if VENV.exists() and not (VENV / "pyvenv.cfg").exists():
        raise Trouble("%s is in the way and Python did not make it: move it away." % VENV)
    if VENV.exists():
        shutil.rmtree(str(VENV))
    say("Making .venv" + (" anew: " + why if why else ""))
    words = [sys.executable, "-m", "venv", str(VENV)]
    made = subprocess.run(words, capture_output=True, text=True, check=False)
    if made.returncode:
        said = (made.stdout + made.stderr).strip() or "no reason given"
        raise Trouble("Python could not make .venv: " + said.splitlines()[-1])


def meaning(said):
    """The sentence for a pip that failed saying this."""
    for signs, sentence in PIP_SAYS.items():
        if any(sign in said for sign in signs.split("|")):
            return sentence + ", and run this again."
    return "pip failed: " + ([""] + [line for line in said.splitlines() if line.strip()])[-1]


def pip(words, names):
    """Install; names are those still to come, counted down. A Trouble if pip fails."""
    drop = ("PIP_TARGET", "PIP_PREFIX", "PIP_REQUIRE_VIRTUALENV", "PYTHONPATH", "PYTHONHOME")
    settings = {name: value for name, value in os.environ.items() if name not in drop}
    settings.update(PIP_USER="0", PIP_NO_INPUT="1", PIP_DISABLE_PIP_VERSION_CHECK="1")
    words = [str(PYTHON), "-m", "pip", "install", "--no-deps", "--progress-bar", "off"] + words
    pipe = {"stdout": subprocess.PIPE, "stderr": subprocess.STDOUT, "errors": "replace"}
    said = ""
    with subprocess.Popen(words, env=settings, **pipe) as run:
        for line in run.stdout:
            said += line
            if line.startswith("Collecting "):
                names.discard(line.split()[1].split("==")[0].lower())
                if sys.stderr.isatty():
                    sys.stderr.write("\r  fetching, %d to go " % len(names))
            elif names and line.startswith("Installing collected"):
                say("\r  putting them in place")
    if run.returncode:
        raise Trouble(meaning(said))


def prepare(name):
    """See to it that .venv holds locks/NAME.txt and the project; quick where it does already."""
    wanted = {part: digest("locks/%s.txt" % part) for part in ("run", name)}  # each holds run.txt
    wanted["project"] = digest("pyproject.toml")
    stamp = stamp_read()
    why = fault(stamp) if VENV.exists() else ""
    have = stamp if VENV.exists() and not why else {}
    if all(have.get(part) == found for part, found in wanted.items()):
        return
    began = time.time()
    if free_mb() < NEEDED_MB[name]:
        raise Trouble(
            "The disk has %.0f MB free and the set-up needs %d MB: make room and run this again."
            % (free_mb(), NEEDED_MB[name])
        )
    if why or not VENV.exists():
        make_venv(why)
    STAMP.write_text(json.dumps({"unfinished": True}))
    lock = ROOT / "locks" / (name + ".txt")
    names = {line.split("==")[0] for line in lock.read_text().splitlines() if "==" in line}
    say("Installing the %d packages of locks/%s.txt" % (len(names), name))
    try:
        pip(["--require-hashes", "--only-binary", ":all:", "-r", str(lock)], names)
        pip(["--no-build-isolation", "--no-index", "-e", str(ROOT)], set())
    except Trouble:
        STAMP.write_text(json.dumps(have))
        raise
    ask = "import sysconfig; print(sysconfig.get_path('purelib'))"
    site = subprocess.check_output([str(PYTHON), "-c", ask], text=True).strip()
    have = dict(have, place=str(ROOT), site=site, holds=os.listdir(site), **wanted)
    STAMP.write_text(json.dumps(have))
    say("Set up in %.0f s" % (time.time() - began))


def main(words):
    """Set up what the first word needs, start it, and give its status."""
    words = words or ["demo"]
    lock, job = JOBS.get(words[0], ("run", ["-m", "protoconch.cli.main", words[0]]))
    try:
        prepare(lock)
        where = str(ROOT) if words[0] in JOBS else None
        return subprocess.call([str(PYTHON)] + job + words[1:], cwd=where)
    except Trouble as trouble:
        say(str(trouble))
    except OSError as error:
        say("The set-up could not go on: %s." % error)
    except KeyboardInterrupt:
        say("Stopped: run the same again to go on.")
    return 1


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
