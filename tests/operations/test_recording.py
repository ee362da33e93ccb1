"""Adding to the log."""

from datetime import UTC, datetime, timedelta
from uuid import UUID, uuid4

import pytest

from protoconch.operations.recording import confirm, correct, record, withdraw
from protoconch.records.models import Entry, Person, Role
from protoconch.records.queries.log import entries, rows, state

NOW = datetime(2027, 4, 20, 3, 0, tzinfo=UTC)
pytestmark = pytest.mark.django_db


def raw(kind="note", payload=None, **parts):
    return {
        "id": str(uuid4()),
        "kind": kind,
        "happened": (NOW - timedelta(hours=1)).isoformat(),
        "payload": payload or {"text": "the tank is clear"},
        **parts,
    }


def stocked(tank="large tank 1", animals=9000, **parts):
    payload = {"batch": "27A", "animals": animals, "litres": 400}
    return raw("stocked", payload, where=tank, **parts)


def test_an_entry_comes_out_of_the_log_as_it_went_in(crew):
    sent = stocked()
    answer = record(crew, [sent], NOW, sure=True)[0]
    assert answer.outcome == "added"
    kept = entries(rows(crew.site))[0]
    assert kept == answer.entry
    assert (str(kept.id), kept.who, kept.where) == (sent["id"], crew.name, "large tank 1")
    assert kept.arrived == NOW


def test_what_is_sent_twice_is_there_once(crew):
    sent = raw()
    assert [a.outcome for a in record(crew, [sent, sent], NOW)] == ["added", "there already"]
    again = record(crew, [sent], NOW + timedelta(days=1))[0]
    assert again.outcome == "there already"
    assert again.entry.arrived == NOW
    assert rows(crew.site).count() == 1


def test_a_faulty_entry_is_refused_with_every_reason_and_the_sound_ones_stand(crew):
    faulty = raw("counted", {"animals": -3, "colour": "green"}, where="large tank 77")
    answers = record(crew, [raw(), faulty, raw()], NOW)
    assert [a.outcome for a in answers] == ["added", "refused", "added"]
    said = " ".join(answers[1].sentences)
    assert "large tank 77" in said
    assert "colour" in said
    assert len(answers[1].sentences) >= 3
    assert rows(crew.site).count() == 2


@pytest.mark.parametrize("what", [None, [], "fed", 7, {}, {"id": 3}, {"id": "x", "kind": ["fed"]}])
def test_what_is_no_entry_at_all_is_refused_in_a_sentence(crew, what):
    answer = record(crew, [what], NOW)[0]
    assert answer.outcome == "refused"
    assert all(sentence.endswith((".", "?")) for sentence in answer.sentences)


def test_a_viewer_adds_nothing(viewer):
    answer = record(viewer, [raw()], NOW)[0]
    assert answer.outcome == "refused"
    assert rows(viewer.site).count() == 0


def test_a_manager_and_the_tablet_enter_for_others_and_the_crew_do_not(crew, manager):
    tablet = Person.objects.create_user(
        "tablet", site=crew.site, name="wet room tablet", role=Role.CREW, tablet=True
    )
    for person in (manager, tablet):
        assert record(person, [raw(who=crew.name)], NOW)[0].entry.who == crew.name
    assert record(crew, [raw(who=crew.name)], NOW)[0].outcome == "added"
    for person, who in ((crew, manager.name), (tablet, None), (tablet, tablet.name),
                        (manager, "nobody"), (manager, tablet.name), (tablet, ["x"])):  # fmt: skip
        assert record(person, [raw(who=who)], NOW)[0].outcome == "refused", (person, who)


def test_a_correction_changes_what_is_read_and_taking_it_back_restores_it(crew):
    first = record(crew, [stocked(animals=9000)], NOW, sure=True)[0].entry
    before = state(crew.site)
    assert before.holdings["large tank 1"].alive == 9000
    wrong = correct(
        crew, first.id, NOW, payload={"batch": "27A", "animals": 8000, "litres": 400}, why="a slip"
    )
    assert wrong.outcome == "added"
    assert state(crew.site).holdings["large tank 1"].alive == 8000
    assert withdraw(crew, wrong.entry.id, NOW).outcome == "added"
    assert state(crew.site).holdings == before.holdings
    assert withdraw(crew, first.id, NOW).outcome == "added"
    assert state(crew.site).holdings == {}


def test_a_correction_is_judged_by_the_kind_that_it_corrects(crew):
    first = record(crew, [stocked()], NOW, sure=True)[0].entry
    answer = correct(crew, first.id, NOW, payload={"batch": "27A"})
    assert answer.outcome == "refused"
    assert answer.sentences == ("The number of larvae is missing.",)
    assert correct(crew, first.id, NOW, where="no such tank").outcome == "refused"


def test_a_confirmation_says_who_looked(manager):
    first = record(manager, [stocked()], NOW, sure=True)[0].entry
    assert confirm(manager, first.id, NOW).entry.payload.by_whom == manager.name


def test_the_row_can_be_found_by_batch_and_by_what_it_corrects(crew):
    first = record(crew, [stocked()], NOW, sure=True)[0].entry
    withdraw(crew, first.id, NOW)
    assert Entry.objects.get(batch="27A").uuid == first.id
    assert Entry.objects.get(corrects=first.id).kind == "correction"


def test_an_id_of_another_hatchery_is_refused(crew, django_user_model):
    sent = raw()
    record(crew, [sent], NOW)
    site = crew.site
    site.pk = None
    site.save()
    for text in Person.objects.get(pk=crew.pk).site.descriptions.all():
        site.descriptions.create(text=text.text)
    stranger = Person.objects.create_user("stranger", site=site, name="stranger")
    assert record(stranger, [sent], NOW)[0].outcome == "refused"


def test_ids_may_come_as_uuids(crew):
    made = uuid4()
    assert record(crew, [raw(id=made)], NOW)[0].entry.id == made
    assert isinstance(Entry.objects.get().uuid, UUID)


def test_what_is_unlikely_is_asked_and_added_when_sure(crew):
    sent = stocked(animals=200_000)
    asked = record(crew, [sent], NOW)[0]
    assert asked.outcome == "unlikely"
    assert asked.sentences
    assert rows(crew.site).count() == 0
    assert record(crew, [sent], NOW, sure=True)[0].outcome == "added"


def test_what_cannot_be_is_refused_however_sure(crew):
    for impossible in (stocked(animals=90_000_000), raw(happened="2027-08-01T00:00+00:00")):
        answer = record(crew, [impossible], NOW, sure=True)[0]
        assert answer.outcome == "refused"
        assert answer.sentences


def test_each_is_judged_by_the_state_when_it_happened(crew):
    early, late = (NOW - timedelta(days=d) for d in (3, 1))
    record(crew, [stocked(happened=early.isoformat())], NOW, sure=True)
    empty = raw("counted", {"animals": 9000}, where="large tank 2", happened=late.isoformat())
    assert record(crew, [empty], NOW)[0].outcome == "unlikely"
    before = (early - timedelta(days=1)).isoformat()
    count = raw("counted", {"animals": 9000}, where="large tank 1", happened=before)
    assert record(crew, [count], NOW)[0].outcome == "unlikely"
    count |= {"happened": late.isoformat()}
    assert record(crew, [count], NOW)[0].outcome == "added"


def test_times_come_back_by_the_clock_of_the_hatchery(crew):
    record(crew, [stocked()], NOW, sure=True)
    kept = entries(rows(crew.site))[0]
    assert kept.happened.date().isoformat() == "2027-04-19"
    assert kept.happened == NOW - timedelta(hours=1)
    held = state(crew.site).holdings["large tank 1"]
    assert held.since.date().isoformat() == "2027-04-19"
