"""The invented hatchery, made as a place to live in."""

from datetime import UTC, datetime

import pytest
from django.contrib.auth import authenticate

from protoconch.errors import BadInput
from protoconch.operations import demonstration
from protoconch.operations.keeping.looking_over import faults
from protoconch.records.models import Person, Role, Site
from protoconch.records.queries.answers import planned, tasks
from protoconch.records.queries.log import rows, state

NOW = datetime(2027, 7, 5, 14, tzinfo=UTC)
"""On this day the demonstration's dates are those of its file, whose plan the tests have."""
pytestmark = pytest.mark.django_db


@pytest.fixture
def begun(monkeypatch, quick_plan):
    """The demonstration, with a plan and a schedule made before."""
    plan, algae = quick_plan
    monkeypatch.setattr(demonstration, "season", lambda *_: plan)
    monkeypatch.setattr(demonstration, "season_algae", lambda *_: algae)
    return demonstration.begin_demonstration(NOW)


def test_half_a_season_is_logged_and_its_manager_alone_signs_in_with_what_was_told(begun):
    site = Site.objects.get()
    assert rows(site).count() > 1000
    assert state(site).batches
    assert planned(site).making == "ready"
    assert tasks(site, NOW.date())
    assert list(faults()) == []
    assert len(begun.password.split()) == 6
    assert begun.password != demonstration.new_code()
    person = authenticate(username=begun.name, password=begun.password)
    assert person.role == Role.MANAGER
    others = Person.objects.exclude(pk=person.pk)
    assert {other.role for other in others} == {Role.CREW}
    assert not any(other.has_usable_password() for other in others)
    before = rows(site).count()
    with pytest.raises(BadInput):  # it is not made among others
        demonstration.begin_demonstration(NOW)
    assert Site.objects.count() == 1
    assert rows(site).count() == before
