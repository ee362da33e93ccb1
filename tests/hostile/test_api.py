"""The API by its own document: every request it allows, and many it does not, is answered."""

import os
from collections.abc import Iterator

import pytest
import schemathesis
from django.core.signals import request_finished, request_started
from django.core.wsgi import get_wsgi_application
from django.db import close_old_connections
from django.utils import timezone
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st
from schemathesis import GenerationMode

from protoconch.operations.exchange.keys import API, make_key
from protoconch.web.pages.api.addresses import api

EXAMPLES = int(os.environ.get("PROTOCONCH_HOSTILE", "8"))
pytestmark = pytest.mark.django_db


@pytest.fixture
def schema() -> Iterator[object]:
    """The API's document over the real program, in the transaction of the test."""
    program = get_wsgi_application()

    def plainly(environ, start):
        environ.pop("HTTP_ACCEPT_ENCODING", None)
        return program(environ, start)

    found = schemathesis.openapi.from_dict(api.get_openapi_schema(path_prefix="/api/"))
    found.app = plainly
    for signal in (request_started, request_finished):
        signal.disconnect(close_old_connections)
    yield found
    for signal in (request_started, request_finished):
        signal.connect(close_old_connections)


@pytest.mark.parametrize("mode", list(GenerationMode))
def test_every_operation_answers_whatever_is_asked(schema, manager, mode):
    secret = make_key(manager, API, "the test", timezone.now())
    operations = [one.ok() for one in schema.get_all_operations()]
    assert len(operations) >= 10
    statuses = set()

    @settings(max_examples=EXAMPLES * len(operations), deadline=None, phases=[Phase.generate],
              suppress_health_check=list(HealthCheck))  # fmt: skip
    @given(st.one_of([one.as_strategy(generation_mode=mode) for one in operations]))
    def holds(case):
        answer = case.call(headers={"Authorization": f"Bearer {secret}"})
        statuses.add(answer.status_code)
        assert answer.status_code < 500, f"{case.method} {case.formatted_path}: {answer.text[:300]}"
        if answer.status_code >= 400:
            assert all(answer.json()["sentences"])

    holds()
    assert 401 not in statuses, "the test's own key is not known"
    assert 200 in statuses
