"""The JSON API: who may, what it answers, and in which shape it refuses."""

import json
from datetime import UTC, datetime, timedelta
from uuid import uuid4

import pytest
from django.test import Client

from protoconch.operations.exchange.keys import API, CALENDAR, make_key
from protoconch.operations.people.roles import hands
from protoconch.operations.recording import record
from protoconch.records.models import Key, Person, Role, Site
from protoconch.records.queries.log import rows
from protoconch.web.pages.api.addresses import api
from protoconch.web.pages.api.entrance import ROLES

pytestmark = pytest.mark.django_db
NOW = datetime.now(UTC)
SCHEMA = api.get_openapi_schema(path_prefix="/api/")
OPERATIONS = [
    (method, address, max((name for name in ROLES if told["operationId"].endswith(f"_{name}")),
                          key=len))
    for address, methods in SCHEMA["paths"].items()
    for method, told in methods.items()
]  # fmt: skip


def raw(text="the tank is clear", **parts):
    happened = (NOW - timedelta(hours=1)).isoformat()
    return {"id": str(uuid4()), "kind": "note", "happened": happened, "payload": {"text": text},
            **parts}  # fmt: skip


def keyed(person, purpose=API):
    secret = make_key(person, purpose, "the test", NOW)
    return Client(raise_request_exception=False, headers={"Authorization": f"Bearer {secret}"})


def asked(client, method, address, body=None):
    there = address.replace("{id}", str(uuid4())).replace("{code}", "27A")
    body = {"entries": []} if body is None else body
    return getattr(client, method)(there, data=json.dumps(body) if method == "post" else None,
                                   content_type="application/json")  # fmt: skip


def test_the_document_is_openapi_3_1_and_names_every_operation(client):
    told = client.get("/api/openapi.json").json()
    assert told["openapi"].startswith("3.1")
    assert len(OPERATIONS) >= 10
    assert {name for _, _, name in OPERATIONS} == set(ROLES)


@pytest.mark.parametrize(("method", "address", "name"), OPERATIONS)
def test_only_who_may_is_answered(method, address, name, viewer, crew, manager):
    role = ROLES[name]
    order = [Role.VIEWER, Role.CREW, Role.MANAGER]
    stranger = asked(Client(raise_request_exception=False), method, address)
    assert stranger.status_code == 401
    assert stranger.json()["sentences"]
    for person in (viewer, crew, manager):
        for client in (keyed(person), signed_in(person)):
            answer = asked(client, method, address)
            if order.index(person.role) >= order.index(role):
                assert answer.status_code in (200, 404), (person.role, answer.content)
            else:
                assert answer.status_code == 403, (person.role, answer.content)
                assert answer.json()["sentences"]


def signed_in(person):
    client = Client(raise_request_exception=False)
    client.force_login(person)
    return client


def test_a_page_of_another_site_cannot_write_with_a_session(crew):
    client = Client(enforce_csrf_checks=True, raise_request_exception=False)
    client.force_login(crew)
    answer = asked(client, "post", "/api/entries", {"entries": [raw()]})
    assert answer.status_code == 403
    assert rows(crew.site).count() == 0


def test_the_tablet_of_the_room_writes_by_its_pages_only(crew):
    tablet = Person.objects.create_user("tablet", None, site=crew.site, name="tablet", tablet=True)
    assert hands(crew.site)
    assert asked(signed_in(tablet), "post", "/api/entries", {"entries": [raw()]}).status_code == 401


def test_a_key_is_kept_as_a_hash_and_ends_with_its_person(crew):
    secret = make_key(crew, API, "the test", NOW)
    client = Client(headers={"Authorization": f"Bearer {secret}"})
    assert client.get("/api/state").status_code == 200
    assert secret not in str(Key.objects.values())
    assert len(Key.objects.get().secret_hash) == 64
    Person.objects.filter(pk=crew.pk).update(active=False)
    assert client.get("/api/state").status_code == 401


def test_a_key_of_the_calendar_opens_no_api(crew):
    assert keyed(crew, CALENDAR).get("/api/state").status_code == 401


def test_a_key_sees_its_own_hatchery_only(crew):
    other = Site.objects.create(name="another invented hatchery")
    stranger = Person.objects.create_user("stranger", None, site=other, name="stranger")
    entry = record(crew, [raw()], NOW)[0].entry
    assert keyed(stranger).get(f"/api/entries/{entry.id}").status_code == 404
    assert keyed(stranger).get("/api/entries").json()["entries"] == []
    assert keyed(crew).get(f"/api/entries/{entry.id}").json()[
        "payload"
    ] == entry.payload.model_dump(exclude_defaults=True)


def test_entries_are_added_each_answered_by_itself_and_once(crew):
    client = keyed(crew)
    sound, wrong = raw(), raw(kind="counting")
    body = {"entries": [sound, wrong, sound]}
    told = asked(client, "post", "/api/entries", body).json()["answers"]
    assert [one["outcome"] for one in told] == ["added", "refused", "there already"]
    assert told[1]["sentences"]
    assert rows(crew.site).count() == 1


def test_an_unlikely_entry_is_added_when_it_is_sure(crew):
    many = {"batch": "27A", "animals": 900_000, "litres": 400}
    body = {"entries": [raw(kind="stocked", where="large tank 1", payload=many)]}
    client = keyed(crew)
    told = asked(client, "post", "/api/entries", body).json()["answers"]
    assert told[0]["outcome"] == "unlikely"
    told = asked(client, "post", "/api/entries", body | {"sure": True}).json()["answers"]
    assert told[0]["outcome"] == "added"
    state = client.get("/api/state").json()
    assert state["holdings"]["large tank 1"]["alive"] == 900_000
    before = client.get("/api/state", {"at": (NOW - timedelta(days=1)).isoformat()}).json()
    assert before["holdings"] == {}
    assert client.get("/api/batches/27A").json()["code"] == "27A"


def test_pages_follow_each_other_without_gap_or_repeat(crew):
    record(crew, [raw(f"note {n}") for n in range(7)], NOW)
    client, found, after = keyed(crew), [], 0
    while after is not None:
        page = client.get("/api/entries", {"limit": 3, "after": after}).json()
        found += [one["payload"]["text"] for one in page["entries"]]
        after = page["next"]
    assert found == [f"note {n}" for n in range(7)]


def test_readings_are_found_by_quantity_and_place(crew):
    record(crew, [
        raw(kind="read", where="large tank 1", payload={"quantity": "temperature", "value": 28.4}),
        raw(kind="read", where="large tank 1", payload={"quantity": "pH", "value": 8.1}),
    ], NOW, sure=True)  # fmt: skip
    page = keyed(crew).get("/api/readings", {"quantity": "pH", "where": "large tank 1"}).json()
    assert [one["payload"]["value"] for one in page["entries"]] == [8.1]


def test_the_work_and_the_plan_are_told(planned_site, viewer):
    client = keyed(viewer)
    plan = client.get("/api/plan").json()
    assert plan["making"] == "ready"
    day = plan["plan"]["batches"][0]["dates"]["hatch"]
    work = client.get("/api/tasks", {"day": day}).json()
    assert work["day"] == day
    assert work["tasks"]
    assert all(one["key"].startswith(day) for one in work["tasks"])


@pytest.mark.parametrize(
    ("method", "address", "body", "status"),
    [
        ("get", "/api/no/such/address", None, 404),
        ("delete", "/api/state", None, 405),
        ("get", "/api/state?at=yesterday", None, 422),
        ("get", "/api/state?at=0001-01-01", None, 422),
        ("get", "/api/tasks?day=9999-12-31", None, 422),
        ("get", "/api/entries?limit=0", None, 422),
        ("get", "/api/entries?after=99999999999999999999", None, 422),
        ("get", "/api/entries?where=%00", None, 422),
        ("get", "/api/entries/nobody", None, 404),
        ("post", "/api/entries", [1], 422),
        ("post", "/api/entries", {"entries": [raw() for _ in range(501)]}, 422),
    ],
)
def test_whatever_is_refused_is_refused_in_one_shape(crew, method, address, body, status):
    answer = asked(keyed(crew), method, address, body)
    assert answer.status_code == status
    assert all(isinstance(said, str) and said for said in answer.json()["sentences"])


def test_what_is_no_json_is_refused(crew):
    for body in (b"{", b"[" * 100_000, b"\xff\xfe", b'{"entries": [NaN]}'):
        answer = keyed(crew).post("/api/entries", body, content_type="application/json")
        assert answer.status_code in (400, 422), body[:20]
        assert answer.json()["sentences"]
