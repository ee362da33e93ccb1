"""The program's settings, with a data folder that lasts as long as the tests."""

import os
import tempfile

os.environ.setdefault("PROTOCONCH_DATA", tempfile.mkdtemp(prefix="protoconch-tests-"))
os.environ.setdefault("PROTOCONCH_SECRET", "known to everybody, for the tests only")

from protoconch.web.settings import *  # noqa: E402, F403
