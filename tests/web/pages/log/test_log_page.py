"""The log, looked through and put right."""

import json
import re
from datetime import timedelta
from uuid import UUID, uuid4

import pytest

from protoconch.records.models import Entry
from protoconch.records.queries.log import state
from tests.web.pages.today.season_begun import NOON, begun, entry, logged, stop_the_clock

TANK = "large tank 3"


@pytest.fixture(autouse=True)
def noon(monkeypatch):
    stop_the_clock(monkeypatch)


@pytest.fixture
def crews(site, crew, client_of):
    logged(crew)
    return client_of(crew)


def shown(client, address="/log"):
    answer = client.get(address, follow=True)
    assert answer.status_code == 200
    return answer.content.decode()


def sentences(page):
    return re.findall(r'class="said">([^<]*)<', page)


def row(**asked):
    return Entry.objects.filter(**asked).latest("number")


def test_entries_are_sentences_the_latest_first(crews):
    said = sentences(shown(crews))
    assert len(said) == len(begun())
    assert "temperature of 28.4" in said[0]
    assert "C1" in said[-1]


def test_an_empty_log_says_where_entries_come_from(site, crew, client_of):
    page = shown(client_of(crew))
    assert "Nothing has been entered yet" in page
    assert "Today" in page


@pytest.mark.parametrize(
    ("asked", "found"),
    [
        ("words=reservoir", 1), ("kind=stocked", 2), ("where=large tank 3", 3), ("batch=27D", 3),
        ("who=crew A", 11), ("who=nobody", 0), ("since=2027-05-18", 3), ("until=2027-05-03", 2),
        ("since=2027-05-08&until=2027-05-08", 2), ("words=C1 incubator", 1), ("kind=nonsense", 11),
    ],
)  # fmt: skip
def test_the_log_is_searched_by_words_kind_place_batch_person_and_days(crews, asked, found):
    assert len(sentences(shown(crews, f"/log?{asked}"))) == found


def test_pages_follow_each_other_without_a_gap_or_a_repeat(site, crew, client_of):
    same = [entry("note", "", {"text": f"note {n}"}, "05-19") for n in range(30)]
    more = [entry("note", "", {"text": f"note {n}"}, "05-18", f"{n % 24:02}:00") for n in range(90)]
    logged(crew, same + more)
    client, address, seen = client_of(crew), "/log", []
    while address:
        page = shown(client, address)
        seen += re.findall(r'href="/log/([0-9a-f-]{36})"', page)
        onward = re.search(r'href="(/log\?before=[^"]+)"', page)
        address = onward.group(1).replace("&amp;", "&") if onward else ""
    assert sorted(seen) == sorted(one["id"] for one in same + more)


@pytest.mark.parametrize("mark", ["x", "2027_", "_", "2027-05-01T00:00_" + "0" * 32, "%00"])
def test_a_mark_that_is_none_shows_the_latest(crews, mark):
    assert len(sentences(shown(crews, f"/log?before={mark}"))) == len(begun())


def test_an_entry_tells_who_when_arrived_and_the_working_of_its_limits(crews):
    page = shown(crews, f"/log/{row(kind='counted').uuid}")
    assert "97 animals in 5 aliquots of 850 mL" in page
    assert "nineteen times in twenty" in page
    assert "Garwood 1936" in page
    assert "Arrived" in page
    assert "850 mL" in page


def corrected(client, uuid, **changed):
    """Send the form of an entry as it stands, but for what is changed."""
    page = client.get(f"/log/{uuid}/correct").context
    form = page["form"]
    sent = {name: "true" if form[name].value() is True else form[name].value() or ""
            for name in form.fields}  # fmt: skip
    sent |= {"id": str(uuid4()), "where": page["raw"]["where"], "happened": page["happened"]}
    return client.post(f"/log/{uuid}/correct", sent | changed)


def test_a_correction_is_an_entry_and_undoing_it_restores(site, crews):
    counted = row(kind="counted")
    before = state(site).holdings[TANK].alive
    answer = corrected(crews, counted.uuid, **{"payload.aliquots": "40 34 46 38 36"})
    assert answer.status_code == 302
    assert state(site).holdings[TANK].alive == pytest.approx(2 * before, abs=1)
    correction = row(kind="correction")
    assert correction.corrects == counted.uuid
    assert set(correction.payload) == {"of", "payload"}
    page = shown(crews, f"/log/{counted.uuid}")
    assert "It was corrected" in page
    assert "How it was first written" in page
    assert "Undo" in page
    crews.post(f"/log/{correction.uuid}/take-back", {"id": str(uuid4())})
    assert state(site).holdings[TANK].alive == before
    assert "It was corrected" not in shown(crews, f"/log/{counted.uuid}")


def test_place_and_time_are_corrected_alone(crews):
    measured = row(kind="measured")
    corrected(crews, measured.uuid, where="large tank 1", happened="2027-05-18T13:30", why="slip")
    said = row(kind="correction").payload
    assert said["where"] == "large tank 1"
    assert said["happened"].startswith("2027-05-18T13:30")
    assert said["why"] == "slip"
    assert "payload" not in said


def test_sending_the_form_unchanged_adds_nothing(crews):
    for uuid in Entry.objects.values_list("uuid", flat=True):
        assert corrected(crews, uuid).status_code == 302
    assert not Entry.objects.filter(kind="correction").exists()


def test_a_correction_that_cannot_be_is_refused_with_what_was_typed(crews):
    counted = row(kind="counted")
    answer = corrected(crews, counted.uuid, **{"payload.litres": "-4"})
    page = answer.content.decode()
    assert answer.status_code == 422
    assert 'value="-4"' in page
    assert "must be more than 0" in page
    assert not Entry.objects.filter(kind="correction").exists()


def test_an_entry_taken_back_stays_in_the_log_and_counts_no_more(site, crews):
    counted = row(kind="counted")
    crews.post(f"/log/{counted.uuid}/take-back", {"id": str(uuid4())})
    assert state(site).holdings[TANK].last_count is None
    page = shown(crews)
    assert "Taken back" in page
    assert "does not count" in shown(crews, f"/log/{counted.uuid}")


def test_a_doubt_stands_on_top_and_is_settled_by_an_entry(site, crew, crews):
    logged(crew, [entry("counted", "large tank 2", {"animals": 50}, "05-19")])
    page = shown(crews)
    assert "wants a decision" in page
    settle = re.search(r'action="/log/([0-9a-f-]{36})/settle"', page).group(1)
    assert settle == str(row(kind="counted").uuid)
    crews.post(f"/log/{settle}/settle", {"stands": "no", "id": str(uuid4())})
    assert row(kind="confirmed").payload["stands"] is False
    assert state(site).doubts == ()
    assert "wants a decision" not in shown(crews)


def test_a_viewer_reads_and_changes_nothing(crews, viewer, client_of):
    uuid = row(kind="counted").uuid
    client = client_of(viewer)
    page = shown(client, f"/log/{uuid}")
    assert "<form" not in page
    assert "Correct" not in page
    for there in (f"/log/{uuid}/correct", f"/log/{uuid}/take-back", f"/log/{uuid}/settle",
                  "/log/add/note", "/log/entries"):  # fmt: skip
        assert client.post(there, {}).status_code == 403


def test_an_entry_of_another_log_is_not_there(crews):
    for there in ("", "/correct", "/take-back", "/settle"):
        assert crews.get(f"/log/{UUID(int=7)}{there}").status_code == 404


def test_something_else_is_added_by_the_form_of_its_kind(site, crews):
    sent = {"id": str(uuid4()), "where": "reservoir", "payload.quantity": "salinity",
            "payload.value": "36,1", "happened": "2027-05-20T07:30"}  # fmt: skip
    for _ in range(2):
        assert crews.post("/log/add/read", sent).status_code == 302
    made = Entry.objects.get(uuid=sent["id"])
    assert made.payload == {"quantity": "salinity", "value": 36.1}
    assert made.happened.isoformat() == "2027-05-20T11:30:00+00:00"


def test_a_form_that_is_refused_keeps_all_that_was_typed(crews):
    sent = {"id": str(uuid4()), "where": "the moon", "payload.aliquots": "12 x 9",
            "payload.aliquot_ml": "50", "happened": "2027-05-20T07:30"}  # fmt: skip
    page = crews.post("/log/add/counted", sent)
    assert page.status_code == 422
    words = page.content.decode()
    assert 'value="12 x 9"' in words
    assert 'value="2027-05-20T07:30"' in words
    assert "has no the moon" in words


def test_a_place_can_be_given_by_the_address(crews):
    assert f"<option selected>{TANK}</option>" in shown(crews, f"/log/add/counted?where={TANK}")
    assert TANK in shown(crews, f"/log/add?where={TANK}")


def sent_batch(client, content, **more):
    return client.post("/log/entries", content, content_type="application/json", **more)


def test_a_batch_of_entries_is_answered_one_by_one(site, crew, client_of):
    good, bad = begun()[0], entry("counted", "nowhere", {"animals": 1}, "05-19")
    late = entry("note", "", {"text": "calm"}, "05-19")
    client = client_of(crew)
    for outcomes in (["added", "refused", "added"], ["there already", "refused", "there already"]):
        answer = sent_batch(client, json.dumps({"entries": [good, bad, late]}))
        found = answer.json()["answers"]
        assert [one["outcome"] for one in found] == outcomes
        assert [one["id"] for one in found] == [good["id"], bad["id"], late["id"]]
    assert "nowhere" in found[1]["sentences"][0]
    assert Entry.objects.count() == 2


@pytest.mark.parametrize("content", ["", "{", "[]", "7", '{"entries": 1}', '{"entries": [1]}',
                                     "[" * 100_000, '{"entries": [{}]}', "\ufffd"])  # fmt: skip
def test_a_batch_that_is_none_is_refused_in_a_sentence(site, crew, client_of, content):
    answer = sent_batch(client_of(crew), content)
    assert answer.status_code in {200, 400}
    said = answer.json()
    sentences_ = said.get("sentences") or said["answers"][0]["sentences"]
    assert all(sentence.endswith(".") for sentence in sentences_)


def test_a_batch_needs_the_token_of_the_page(site, crew):
    from django.test import Client

    client = Client(enforce_csrf_checks=True)
    client.force_login(crew)
    assert sent_batch(client, '{"entries": []}').status_code == 403
    client.get("/log/add/note")
    token = client.cookies["csrftoken"].value
    answer = sent_batch(client, '{"entries": []}', headers={"x-csrftoken": token})
    assert answer.status_code == 200


def test_times_are_shown_by_the_clock_of_the_hatchery(crews):
    assert "09:00" in shown(crews)
    assert NOON.utcoffset() == -timedelta(hours=4)
