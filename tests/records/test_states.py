"""The state from the table: any order of arrival, any cache or none, gives what one fold gives."""

from datetime import timedelta
from uuid import UUID

import pytest
from django.db import transaction

from protoconch.log.fold import as_of, fold
from protoconch.records.models import Snapshot
from protoconch.records.queries import states
from protoconch.records.queries.log import entries, rows, state
from protoconch.records.queries.site import hatchery
from tests.records.seasons import DAY_ONE, put, rolling, some_season

NOW = DAY_ONE + timedelta(days=200)
pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def _nothing_in_memory():
    states.forget()


def folded(site):
    return fold(entries(rows(site)), hatchery(site))


def sent(person, season):
    put(person, season, NOW)


@pytest.mark.parametrize("seed", range(6))
def test_any_order_of_arrival_gives_the_state_of_one_fold(crew, seed):
    dice = rolling(seed)
    season = some_season(dice, 300)
    late = dice.sample(range(len(season)), 40)
    order = [one for place, one in enumerate(season) if place not in late]
    order += [season[place] for place in late]
    while order:
        size = dice.randint(1, 60)
        part, order = order[:size], order[size:]
        sent(crew, part)
        if dice.random() < 0.3:
            states.keep_snapshots(crew.site)
        if dice.random() < 0.3:
            states.forget()
        assert state(crew.site) == folded(crew.site)


@pytest.mark.parametrize("seed", range(3))
def test_any_moment_of_the_past_is_as_one_fold_up_to_it_gives(crew, seed):
    dice = rolling(seed)
    sent(crew, some_season(dice, 250))
    states.keep_snapshots(crew.site)
    log = entries(rows(crew.site))
    for _ in range(12):
        moment = DAY_ONE + timedelta(hours=dice.uniform(-10, 24 * 130))
        assert state(crew.site, moment) == as_of(log, moment, hatchery(crew.site))


def test_deleting_all_snapshots_changes_nothing(crew):
    sent(crew, some_season(rolling(1), 300))
    states.keep_snapshots(crew.site)
    assert Snapshot.objects.exists()
    before = state(crew.site)
    states.forget()
    from_snapshots = state(crew.site)
    Snapshot.objects.all().delete()
    states.forget()
    assert before == from_snapshots == state(crew.site)


def test_deleting_some_snapshots_changes_nothing(crew):
    sent(crew, some_season(rolling(1), 400))
    states.keep_snapshots(crew.site)
    while Snapshot.objects.exists():
        Snapshot.objects.order_by("-entries").first().delete()
        states.forget()
        assert state(crew.site) == folded(crew.site)


def test_a_snapshot_that_cannot_be_read_is_passed_over(crew):
    sent(crew, some_season(rolling(1), 200))
    states.keep_snapshots(crew.site)
    Snapshot.objects.update(content=b"torn")
    states.forget()
    assert state(crew.site) == folded(crew.site)


def test_a_snapshot_of_another_fold_or_description_is_not_used(crew, monkeypatch):
    sent(crew, some_season(rolling(1), 200))
    states.keep_snapshots(crew.site)
    Snapshot.objects.update(version="older")
    states.forget()
    assert state(crew.site) == folded(crew.site)
    states.keep_snapshots(crew.site)
    assert not Snapshot.objects.filter(version="older").exists()


def test_few_snapshots_are_kept_of_a_long_log(crew):
    season = some_season(rolling(2), 900)
    for start in range(0, len(season), 100):
        sent(crew, season[start : start + 100])
        states.keep_snapshots(crew.site)
    assert 2 <= Snapshot.objects.count() <= 14


def test_the_table_is_read_from_a_snapshot_on(crew):
    season = some_season(rolling(3), 600)
    sent(crew, season[:-5])
    states.keep_snapshots(crew.site)
    sent(crew, season[-5:])
    states.forget()
    seen = []

    def counted(read):
        def counting(*args, **asked):
            found = read(*args, **asked)
            seen.append(len(found))
            return found

        return counting

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(states, "read", counted(states.read))
        assert state(crew.site) == folded(crew.site)
    assert sum(seen) <= 10


def test_what_was_rolled_back_is_not_remembered(crew):
    season = some_season(rolling(4), 60)
    sent(crew, season[:40])
    before = state(crew.site)
    with transaction.atomic():
        sent(crew, season[40:50])
        assert state(crew.site) != before
        transaction.set_rollback(True)
    assert state(crew.site) == before
    sent(crew, season[50:])
    assert state(crew.site) == folded(crew.site)


def test_a_page_asks_little_of_the_database_where_nothing_is_new(
    crew, django_assert_max_num_queries
):
    sent(crew, some_season(rolling(5), 100))
    state(crew.site)
    with django_assert_max_num_queries(2):
        state(crew.site)


def test_rows_are_found_by_what_is_asked(crew):
    sent(crew, some_season(rolling(6), 200))
    everything = rows(crew.site)
    moments = [row.happened for row in everything]
    assert moments == sorted(moments, reverse=True)
    for kind in ("fed", "read"):
        assert {row.kind for row in rows(crew.site, kind=kind)} == {kind}
    middle = moments[100]
    assert rows(crew.site, since=middle).count() + rows(crew.site, until=middle).count() >= 201
    assert {row.where for row in rows(crew.site, where="large tank 1")} == {"large tank 1"}
    assert all(row.batch == "27A" for row in rows(crew.site, batch="27A"))


def test_words_are_found_wherever_they_stand_in_a_row(crew):
    notes = ["Película verde en la bandeja", "green film on the tray", "100% clear"]
    sent(
        crew,
        [
            {"id": str(UUID(int=n + 1)), "kind": "note", "happened": DAY_ONE.isoformat(),
             "payload": {"text": text}, "where": "large tank 1"}
            for n, text in enumerate(notes)
        ],
    )  # fmt: skip

    def found(words):
        return sorted(row.payload["text"] for row in rows(crew.site, words=words))

    assert found("GREEN tray") == [notes[1]]
    assert found("película") == [notes[0]]
    assert found("100%") == [notes[2]]
    assert len(found("crew large")) == 3
    assert found("nowhere") == []
