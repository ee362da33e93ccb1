"""What every test run shares.

The fixtures of everybody: `site`, `manager`, `crew`, `viewer`, `client_of`, `planned_site` in
fixtures/site.py; `live`, `chromium`, `browser_page`, `signed_in_page`, `faults_of_page` in
fixtures/browser.py; `phone`, `secure` in fixtures/phones.py.
"""

import os

from hypothesis import settings

pytest_plugins = ["tests.fixtures.site", "tests.fixtures.browser", "tests.fixtures.phones"]

# pytest-xdist fills the cores with tests; numpy must not fill them again under each of them.
for threads in ("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS", "MKL_NUM_THREADS"):
    os.environ.setdefault(threads, "1")

settings.register_profile("here", deadline=None)
settings.register_profile("ci", deadline=None, derandomize=True, print_blob=True)
settings.register_profile("deep", deadline=None, max_examples=2000)
settings.load_profile(
    os.environ.get("HYPOTHESIS_PROFILE") or ("ci" if os.environ.get("CI") else "here")
)
