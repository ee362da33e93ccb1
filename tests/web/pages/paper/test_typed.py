"""A sheet of paper is typed in on one screen: all lines at once, each with its own answer."""

import re
from datetime import date
from html import unescape
from uuid import uuid4

import pytest

from protoconch.records.models import Entry, Person, Role
from protoconch.records.queries import answers
from protoconch.records.queries.answers import tasks
from protoconch.web.pages.paper.printed import boxes, on_paper, when
from tests.web.pages.paper.forms import fields_of
from tests.web.pages.today.season_begun import DAY, entry, logged, stop_the_clock

ON, TANK = date.fromisoformat(DAY), "large tank 3"
THERE = f"/paper/{DAY}/typed?p=20270520T060000"


@pytest.fixture
def begun(monkeypatch, planned_site, crew):
    stop_the_clock(monkeypatch)
    logged(crew)
    return planned_site


@pytest.fixture
def crews(begun, crew, client_of):
    return client_of(crew)


def task_of(site, kind, where=""):
    return next(t for t in tasks(site, ON) if t.kind == kind and where in t.where)


def prefix_of(sent, task):
    return next(name.partition("-")[0] for name, value in sent.items()
                if name.endswith("-key") and value == task.key)  # fmt: skip


def form(client, address=THERE):
    page = client.get(address)
    assert page.status_code == 200
    return fields_of(page.content.decode())


def boxes_of(sent, prefix, last):
    return sorted(name for name in sent if re.match(rf"{prefix}-e\.0\.{last}(\.\d+)?$", name))


def line(page, prefix):
    return unescape(
        re.search(rf'<li class="typed-line[^>]*id="{prefix}".*?</li>', page, re.DOTALL)[0]
    )


def test_the_screen_has_the_lines_and_boxes_of_the_paper_in_its_order(begun, crews):
    sent = form(crews)
    lines = on_paper(begun, answers.planned(begun), ON, when("20270520T060000"))
    assert [sent[f"l{one.number}-key"] for one in lines] == [one.task.key for one in lines]
    page = crews.get(THERE).content.decode()
    for one in lines:
        shown = line(page, f"l{one.number}").partition("<details")[0]
        assert f">{one.number}</b>" in shown
        for box in boxes(one.ways[0]):
            assert box.label in shown
        fields = re.findall(r'<input type="text" name="[^"]*"', shown)
        asked = sum(1 if "data-numbers" in shown else box.count for box in boxes(one.ways[0])
                    if not box.wide)  # fmt: skip
        assert len(fields) >= asked, one.task.what


def test_what_was_written_is_saved_with_one_press_and_the_rest_is_left_out(begun, crews, crew):
    sent = form(crews)
    count, water = task_of(begun, "count", TANK), task_of(begun, "change water", TANK)
    feed = task_of(begun, "feed", TANK)
    c, w, f = (prefix_of(sent, task) for task in (count, water, feed))
    for box, number in zip(boxes_of(sent, c, "aliquots"), (18, 21, 19, 22, 20), strict=True):
        sent[box] = str(number)
    sent |= {f"{c}-time": "07:40", f"{w}-mark": "done", f"{f}-mark": "not",
             f"{f}-note": "no culture left"}  # fmt: skip
    sent["n1-e.0.text"] = "the roof leaks over tank 2"
    answer = crews.post(THERE, sent)
    assert (answer.status_code, answer.headers["Location"]) == (302, THERE)
    made = {row.task: row for row in Entry.objects.filter(task__startswith=DAY)}
    assert set(made) == {count.key, water.key, feed.key}
    assert made[count.key].payload["aliquots"] == [18, 21, 19, 22, 20]
    assert made[count.key].happened.isoformat() == "2027-05-20T11:40:00+00:00"
    assert made[water.key].payload["litres"] == 400
    assert made[feed.key].payload == {"work": "feed", "skipped": True, "note": "no culture left"}
    assert Entry.objects.get(kind="note").payload["text"] == "the roof leaks over tank 2"
    assert {row.who for row in made.values()} == {crew.name}
    page = crews.get(THERE).content.decode()
    assert "4 lines are saved." in page
    assert "Done by crew A 07:40" in line(page, c)
    assert "Not done, said crew A" in line(page, f)


def test_pressing_twice_adds_once_and_says_so(begun, crews):
    sent = form(crews)
    water = task_of(begun, "change water", TANK)
    sent[f"{prefix_of(sent, water)}-mark"] = "done"
    for _ in range(3):
        assert crews.post(THERE, sent).status_code == 302
    assert Entry.objects.filter(task=water.key).count() == 1


def test_a_faulty_line_stays_with_a_sentence_and_nothing_else_is_lost(begun, crews):
    sent = form(crews)
    count, water = task_of(begun, "count", TANK), task_of(begun, "change water", TANK)
    c, w = prefix_of(sent, count), prefix_of(sent, water)
    typed = boxes_of(sent, c, "aliquots")
    sent |= dict.fromkeys(typed, "20") | {typed[2]: "2o", f"{c}-time": "07:40", f"{w}-mark": "done"}
    answer = crews.post(THERE, sent)
    page = answer.content.decode()
    assert answer.status_code == 422
    assert "1 line is saved." in page
    assert "1 line is not saved yet" in page
    assert "Saved." in line(page, w)
    said = re.search(r'value="2o"[^>]*>\s*<p class="error"[^>]*>([^<]*)', line(page, c), re.DOTALL)
    assert "without a unit" in said[1]
    assert line(page, c).count('class="field faulty"') == 1
    again = fields_of(page)
    assert again[f"{c}-time"] == "07:40"
    assert [again[name] for name in typed] == ["20", "20", "2o", "20", "20"]
    assert again[f"{c}-e.0.id"] == sent[f"{c}-e.0.id"]
    assert crews.post(THERE, again | {typed[2]: "20"}).status_code == 302
    assert Entry.objects.filter(task=count.key).count() == 1
    assert Entry.objects.filter(task=water.key).count() == 1


def test_an_unlikely_line_asks_and_is_saved_when_sure(begun, crews):
    sent = form(crews)
    water = task_of(begun, "change water", TANK)
    w = prefix_of(sent, water)
    (litres,) = boxes_of(sent, w, "litres")
    answer = crews.post(THERE, sent | {litres: "4000"})
    assert answer.status_code == 409
    again = fields_of(answer.content.decode())
    assert "Not saved yet." in line(answer.content.decode(), w)
    assert again[litres] == "4000"
    assert not Entry.objects.filter(task=water.key).exists()
    assert crews.post(THERE, again | {f"{w}-sure": "yes"}).status_code == 302
    assert Entry.objects.get(task=water.key).payload["litres"] == 4000


def test_what_somebody_entered_meanwhile_is_not_doubled(begun, crews, manager):
    sent = form(crews)
    water = task_of(begun, "change water", TANK)
    payload = {"share": 1.0, "litres": 390.0}
    logged(manager, [entry("water changed", TANK, payload, "05-20", "08:30", water.key)])
    w = prefix_of(sent, water)
    answer = crews.post(THERE, sent | {f"{w}-mark": "done"})
    page = answer.content.decode()
    assert answer.status_code == 200
    assert "Entered before by somebody else; nothing was added." in line(page, w)
    assert "manager A 08:30" in line(page, w)
    assert Entry.objects.filter(task=water.key).count() == 1


def test_a_line_that_says_both_is_asked_about(begun, crews):
    sent = form(crews)
    w = prefix_of(sent, task_of(begun, "change water", TANK))
    (litres,) = boxes_of(sent, w, "litres")
    answer = crews.post(THERE, sent | {f"{w}-mark": "not", litres: "380"})
    assert answer.status_code == 422
    assert "ticked as not done, and has numbers" in line(answer.content.decode(), w)


def test_without_a_time_the_hour_of_the_round_counts_and_never_one_to_come(begun, crews):
    sent = form(crews)
    water, feed = task_of(begun, "change water", TANK), task_of(begun, "feed", TANK)
    marks = {f"{prefix_of(sent, task)}-mark": "done" for task in (water, feed)}
    assert crews.post(THERE, sent | marks).status_code == 302
    hours = {task: Entry.objects.get(task=task.key).happened.isoformat()[11:16]
             for task in (water, feed)}  # fmt: skip
    rounds = {"morning": "12:00", "midday": "15:00", "evening": "15:00"}  # it is 11:00, 15:00 UTC
    assert hours == {task: rounds[task.round] for task in (water, feed)}


def test_a_manager_enters_for_who_wrote_it_and_crew_keeps_the_name_as_words(
    begun, crews, manager, crew, client_of
):
    water = task_of(begun, "change water", TANK)
    managers = client_of(manager)
    sent = form(managers)
    sent |= {f"{prefix_of(sent, water)}-mark": "done", "written": crew.name}
    assert managers.post(THERE, sent).status_code == 302
    assert Entry.objects.get(task=water.key).who == crew.name
    feed = task_of(begun, "feed", TANK)
    sent = form(crews)
    prefix = prefix_of(sent, feed)
    sent |= {f"{prefix}-mark": "done", f"{prefix}-who": manager.name}
    assert crews.post(THERE, sent).status_code == 302
    made = Entry.objects.get(task=feed.key)
    assert (made.who, made.payload["note"]) == (crew.name, "On paper by manager A.")


def test_on_the_tablet_of_the_room_whoever_types_it_in_is_asked_for_the_name(
    begun, crew, client_of
):
    tablet = Person.objects.create_user("room", "a password of the tests", site=begun,
                                        name="the room", role=Role.CREW, tablet=True)  # fmt: skip
    client = client_of(tablet)
    sent, water = form(client), task_of(begun, "change water", TANK)
    sent[f"{prefix_of(sent, water)}-mark"] = "done"
    asked = client.post(THERE, sent)
    assert asked.status_code == 428
    assert not Entry.objects.filter(task=water.key).exists()
    assert client.post(THERE, sent | {"who": str(crew.pk), "written": crew.name}).status_code == 302
    made = Entry.objects.get(task=water.key)
    assert (made.who, "note" in made.payload) == (crew.name, False)


def test_the_rows_of_a_blank_sheet_are_counts(begun, crews):
    there = "/paper/blank/counts/typed"
    sent = form(crews, there)
    row = next(name[:-6] for name, value in sent.items()
               if name.endswith("-place") and value == TANK)  # fmt: skip
    for box in boxes_of(sent, row, "aliquots"):
        sent[box] = "20"
    sent |= {f"{row}-e.0.aliquot_ml": "850", f"{row}-e.0.litres": "400", f"{row}-time": "06:10"}
    assert crews.post(there, sent).status_code == 302
    made = Entry.objects.filter(kind="counted").latest("number")
    assert (made.where, made.payload["aliquots"], made.payload["aliquot_ml"]) == (
        TANK, [20] * 5, 850.0)  # fmt: skip
    assert made.happened.isoformat() == "2027-05-20T10:10:00+00:00"


@pytest.mark.parametrize(
    ("slug", "typed", "kind", "payload"),
    [
        ("feeding", {"e.0.foods.0.food": "T-Iso", "e.0.foods.0.litres": "0,8"}, "fed",
         {"foods": [{"food": "T-Iso", "litres": 0.8}]}),
        ("losses", {"e.0.animals": "12", "e.0.cause": "stuck to the wall"}, "lost",
         {"animals": 12, "cause": "stuck to the wall"}),
    ],
)  # fmt: skip
def test_other_blank_sheets_make_their_entries(begun, crews, slug, typed, kind, payload):
    there = f"/paper/blank/{slug}/typed"
    sent = form(crews, there)
    row = next(n[:-6] for n, value in sent.items() if n.endswith("-place") and value == TANK)
    sent |= {f"{row}-{name}": value for name, value in typed.items()}
    assert crews.post(there, sent).status_code == 302
    made = Entry.objects.filter(kind=kind).latest("number")
    assert made.where == TANK
    assert {name: made.payload[name] for name in payload} == payload or kind == "fed"
    if kind == "fed":
        assert made.payload["foods"][0] | payload["foods"][0] == made.payload["foods"][0]


def test_what_was_read_of_one_place_is_one_entry_each(begun, crews):
    there = "/paper/blank/water/typed"
    sent = form(crews, there)
    row = next(n[:-6] for n, value in sent.items() if n.endswith("-place") and value == TANK)
    before = Entry.objects.filter(kind="read").count()
    sent |= {f"{row}-e.0.value": "28,1", f"{row}-e.1.value": "36"}
    assert crews.post(there, sent).status_code == 302
    made = Entry.objects.filter(kind="read", where=TANK)
    assert {(e.payload["quantity"], e.payload["value"]) for e in made} == {
        ("temperature", 28.1), ("salinity", 36.0)}  # fmt: skip
    assert Entry.objects.filter(kind="read").count() == before + 2


def test_a_row_without_a_place_is_refused_and_kept(begun, crews):
    there = "/paper/blank/losses/typed"
    sent = form(crews, there)
    row = next(n[:-6] for n, value in sent.items() if n.endswith("-place") and not value)
    answer = crews.post(there, sent | {f"{row}-e.0.animals": "3"})
    assert answer.status_code == 422
    assert fields_of(answer.content.decode())[f"{row}-e.0.animals"] == "3"


def test_a_sheet_of_another_day_happened_on_that_day(begun, crews):
    there = "/paper/blank/losses/typed"
    sent = form(crews, there)
    row = next(n[:-6] for n, value in sent.items() if n.endswith("-place") and value == TANK)
    sent |= {f"{row}-e.0.animals": "2", "day": "2027-05-18", f"{row}-time": "17:30"}
    assert crews.post(there, sent).status_code == 302
    happened = Entry.objects.get(kind="lost").happened.isoformat()
    assert happened == "2027-05-18T21:30:00+00:00"


def test_a_day_to_come_has_no_form_yet(begun, crews):
    page = crews.get("/paper/2027-05-21/typed").content.decode()
    assert "has not come yet" in page
    assert "Save all" not in page


def test_a_form_that_is_not_ours_is_answered_by_a_sentence(begun, crews):
    before = Entry.objects.count()
    for sent in ({}, {"lines": "l1"}, {"lines": "l1,../x"}, {"lines": "l1", "l1-e.0.asked": "{"},
                 {"lines": "l1", "l1-key": "a", "l1-mark": "done", "l1-e.0.id": str(uuid4()),
                  "l1-e.0.asked": '{"kind":"none","where":"","prefilled":{}}'}):  # fmt: skip
        answer = crews.post(THERE, sent, follow=True)
        assert answer.status_code in (200, 422), sent
    assert Entry.objects.count() == before


def test_a_viewer_types_nothing_in(begun, viewer, client_of):
    client = client_of(viewer)
    assert client.get(THERE).status_code == 403
    assert client.post("/at/large-tank-3", {"lines": ""}).status_code == 403


def test_a_place_shows_what_is_there_what_is_due_and_takes_it(begun, crews, viewer, client_of):
    page = crews.get("/at/large-tank-3").content.decode()
    assert "9,129 larvae of 27C" in page
    due = [t for t in tasks(begun, ON) if t.where == TANK]
    sent = fields_of(page)
    assert {t.key for t in due} <= {v for n, v in sent.items() if n.endswith("-key")}
    water = task_of(begun, "change water", TANK)
    sent |= {f"{prefix_of(sent, water)}-mark": "done", "d1-e.0.animals": "7"}
    assert crews.post("/at/large-tank-3", sent).status_code == 302
    assert Entry.objects.get(task=water.key).kind == "water changed"
    lost = Entry.objects.get(kind="lost")
    assert (lost.where, lost.payload["animals"]) == (TANK, 7)
    looked = client_of(viewer).get("/at/large-tank-3").content.decode()
    assert "Change the water" in looked
    assert "Save all" not in looked


def test_a_batch_leads_to_all_its_vessels(begun, crews):
    page = crews.get("/at/batch/27C").content.decode()
    assert TANK in page
    assert "Count the larvae" in page


def test_every_place_of_the_hatchery_answers(begun, crews):
    from protoconch.web.pages.paper.places import by_slug

    seen = {}
    for slug, vessel in by_slug(begun).items():
        seen.setdefault(vessel.kind, slug)
    assert len(seen) > 6
    for slug in seen.values():
        assert crews.get(f"/at/{slug}").status_code == 200


def test_a_typed_page_is_light_enough_for_a_phone(begun, crews):
    answer = crews.get(THERE, headers={"accept-encoding": "gzip"})
    assert len(answer.content) < 25_000
