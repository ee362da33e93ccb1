"""What every test run shares.

The fixtures of everybody: `site`, `manager`, `crew`, `viewer`, `client_of`, `planned_site` in
fixtures/site.py; `live`, `chromium`, `browser_page`, `signed_in_page`, `faults_of_page` in
fixtures/browser.py; `phone`, `secure` in fixtures/phones.py.
"""

import os

import pytest
from hypothesis import settings

pytest_plugins = ["tests.fixtures.site", "tests.fixtures.browser", "tests.fixtures.phones"]

# pytest-xdist fills the cores with tests; numpy must not fill them again under each of them.
for threads in ("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS", "MKL_NUM_THREADS"):
    os.environ.setdefault(threads, "1")

os.environ.setdefault("PROTOCONCH_LANGUAGE", "en")  # whatever language the machine is in

settings.register_profile("here", deadline=None)
settings.register_profile("ci", deadline=None, derandomize=True, print_blob=True)
settings.register_profile("deep", deadline=None, max_examples=2000)
settings.load_profile(
    os.environ.get("HYPOTHESIS_PROFILE") or ("ci" if os.environ.get("CI") else "here")
)


@pytest.fixture(autouse=True)
def _english_on_no_clock() -> None:
    """Each test begins in English, by no hatchery's clock, whoever signed in in the test before.

    A page is answered in the thread of its test and leaves there the language and the zone of its
    person; who reads the texts is said once for the whole process.
    """
    from django.utils import timezone, translation

    from protoconch.web.shell.reading import reader
    from protoconch.words import read_by

    translation.deactivate()
    timezone.deactivate()
    read_by(reader)


HEAVY = (
    "tests/durability/", "tests/cli/test_plan.py", "tests/cli/test_algae_demo_days.py",
    "tests/season/outlook/", "tests/operations/test_outlook.py", "tests/algae/chain/",
    "tests/browser/",
)  # fmt: skip
"""What takes longest by the file, which one process runs from end to end: begun last, it would be
waited for by the others."""


@pytest.hookimpl(trylast=True)
def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """Put the heavy files first; on PostgreSQL leave out what asks no database anything."""
    items.sort(key=lambda item: not item.nodeid.startswith(HEAVY))
    if os.environ.get("DATABASE_URL", "").startswith("postgres"):
        left = [item for item in items if not _asks_the_database(item)]
        config.hook.pytest_deselected(items=left)
        items[:] = [item for item in items if _asks_the_database(item)]


def _asks_the_database(item: pytest.Item) -> bool:
    asked = {"db", "transactional_db"}.intersection(getattr(item, "fixturenames", ()))
    return bool(asked) or item.get_closest_marker("django_db") is not None
