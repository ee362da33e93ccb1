"""The program's settings, with a data folder that lasts as long as the tests."""

import atexit
import os
import shutil
import tempfile

if "PROTOCONCH_DATA" not in os.environ:  # the workers of a run share the folder of the first
    os.environ["PROTOCONCH_DATA"] = tempfile.mkdtemp(prefix="protoconch-tests-")
    atexit.register(shutil.rmtree, os.environ["PROTOCONCH_DATA"], ignore_errors=True)
os.environ.setdefault("PROTOCONCH_SECRET", "known to everybody, for the tests only")

from protoconch.web.settings import *  # noqa: F403
from protoconch.web.settings import DATA, DATABASES

DATABASES["default"]["CONN_MAX_AGE"] = 0  # nothing is left open by the threads of a test's server
if "sqlite" in str(DATABASES["default"]["ENGINE"]):  # a file, so that a server can use it as well
    DATABASES["default"]["TEST"] = {"NAME": str(DATA / "test.sqlite3")}
    at_start = DATABASES["default"]["OPTIONS"]["init_command"]
    DATABASES["default"]["OPTIONS"]["init_command"] = at_start.replace("=FULL", "=OFF")
    # tests/durability kills a server that has the settings of the program

PASSWORD_HASHERS = ["tests.quick_hasher.QuickArgon2"]
