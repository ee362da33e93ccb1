"""Whatever is sent to a form is answered by a page with a sentence, never by a fault of ours.

PROTOCONCH_HOSTILE says how many examples each form gets; few by default, so that all forms
together stay under half a minute.
"""

import json
import os
from uuid import uuid4

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from protoconch.hatchery.reading import whole_demo_text
from protoconch.log.kinds import KINDS
from protoconch.log.table import columns

EXAMPLES = int(os.environ.get("PROTOCONCH_HOSTILE", "8"))
HOSTILE = settings(
    max_examples=EXAMPLES, deadline=None,
    suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow],
)  # fmt: skip
pytestmark = pytest.mark.django_db

ODD = st.sampled_from([
    "", " ", "0", "-1", "1e309", "nan", "inf", "9" * 400, "1/0", "12 furlongs", "2027-02-31",
    "9999-12-31T23:59:59+14:00", "0001-01-01T00:00-12:00", "large tank 1", "27A", "yes", "null",
    "\0", "\ud7ff\ue000", "\u202e", "\U0001f469\u200d\U0001f52c", "<script>alert(1)</script>",
    "{{ 7*7 }}",
    "%s%n", "'; --",
    "../../etc", "[" * 50, "=1+1", "a" * 5000, str(uuid4()), "1,5", "12; 15; 11", "-0", "٣",
])  # fmt: skip
TYPED = ODD | st.text(max_size=40)
FIELDS = st.sampled_from([
    "id", "kind", "happened", "where", "task", "sure", "csrfmiddlewaretoken", "day", "minutes",
    "skip", "action", "answer", "count", "way", "who", "pin", "name", "role", "language",
    "password", "old", "new", "sign_in", "code", "next", "text", "zone", "place", "stands",
    "purpose", "words", "number", "what", "file", "delimiter", "decimal", "order",
    "heading_line", "every_min", "target_0", "unit_0", "target_1", "unit_1",
    *(f"payload.{name}" for name in columns(KINDS)[:80]),
    "payload.foods.0.litres", "payload.foods.99999.food", "payload.classes.0.to",
])  # fmt: skip
FORMS = [
    "/log/add/counted", "/log/add/fed", "/log/add/graded", "/log/add/moved", "/log/add/read",
    "/log/add/stocked", "/log/add/received", "/log/add/culture-counted", "/log/add/inoculated",
    "/today/2027-07-14/settle", "/site/own-values/", "/site/waterworks/", "/site/text/",
    "/site/change/tanks/", "/site/change/target/", "/site/change/place/", "/welcome/place/",
    "/welcome/tanks/", "/welcome/target/", "/people/invite/", "/people/tablet/", "/me/password/",
    "/exchange/import", "/exchange/keys", "/season/what-if", "/sign-in/", "/join/", "/language/",
]  # fmt: skip
LOOKED_FOR = ["/log", "/season/what-if", "/today/2027-07-14", "/reports/work", "/water", "/batches"]


@pytest.fixture
def client(manager):
    client = Client(raise_request_exception=False)
    client.force_login(manager)
    return client


def sound(answer, sent):
    assert answer.status_code < 500, f"{answer.status_code} for {sent!r}"
    if answer.status_code >= 400 and "html" in answer.headers.get("Content-Type", ""):
        assert len(answer.content) > 200, f"nothing is said to {sent!r}"


@pytest.mark.parametrize("address", FORMS)
def test_no_form_breaks(client, address):
    @HOSTILE
    @given(st.dictionaries(FIELDS, TYPED, max_size=12))
    def holds(sent):
        sound(client.post(address, sent), (address, sent))

    holds()


@pytest.mark.parametrize("slug", sorted(kind.replace(" ", "-") for kind in KINDS))
def test_no_field_of_any_kind_breaks_its_form(client, slug):
    kind = slug.replace("-", " ")
    own = [f"payload.{name}" for name in KINDS[kind].payload.model_fields]
    places = st.sampled_from(["", "large tank 1", "incubator 1", "reservoir", "nowhere"])

    @settings(HOSTILE, max_examples=max(4, EXAMPLES // 2))
    @given(st.fixed_dictionaries(dict.fromkeys(own, TYPED)), places, TYPED)
    def holds(sent, where, happened):
        whole = {"id": str(uuid4()), "where": where, "happened": happened, "sure": "on", **sent}
        sound(client.post(f"/log/add/{slug}", whole), whole)

    holds()


@pytest.mark.parametrize("address", LOOKED_FOR)
def test_no_question_in_an_address_breaks(client, address):
    names = st.sampled_from(["words", "kind", "where", "batch", "who", "since", "until", "before",
                             "month", "next", "what", "target", "day"])  # fmt: skip

    @HOSTILE
    @given(st.dictionaries(names, TYPED, max_size=6))
    def holds(asked):
        sound(client.get(address, asked), (address, asked))

    holds()


LEAF = st.none() | st.booleans() | st.integers() | st.floats() | TYPED
INNER = LEAF | st.lists(LEAF, max_size=4) | st.dictionaries(TYPED, LEAF, max_size=4)
JSON = INNER | st.lists(INNER, max_size=3) | st.dictionaries(TYPED, INNER, max_size=3)
RAW = st.fixed_dictionaries(
    {},
    optional={
        "id": TYPED | st.uuids().map(str), "kind": st.sampled_from([*KINDS]) | JSON,
        "happened": TYPED | st.datetimes().map(lambda moment: f"{moment.isoformat()}+00:00"),
        "where": st.sampled_from(["large tank 1", "incubator 1"]) | JSON,
        "payload": st.dictionaries(st.sampled_from(columns(KINDS)) | TYPED, JSON) | JSON,
        "task": JSON, "who": JSON,
    },
)  # fmt: skip


@settings(HOSTILE, max_examples=EXAMPLES * 6)
@given(sent=st.lists(RAW | JSON, max_size=3))
def test_no_entry_sent_as_json_breaks(client, sent):
    body = json.dumps({"entries": sent})
    answer = client.post("/log/entries", body, content_type="application/json")
    sound(answer, sent)
    assert answer.json()


@settings(HOSTILE, max_examples=EXAMPLES * 3)
@given(text=st.lists(st.lists(TYPED, max_size=6), max_size=6), sign=st.sampled_from(",;\t|"),
       what=st.sampled_from(["entries", "readings"]),
       options=st.dictionaries(FIELDS, TYPED))  # fmt: skip
def test_no_table_breaks_the_import(client, text, sign, what, options):
    heads = sign.join(("kind", "happened", "where", "animals", "text", "temperature"))
    whole = "\n".join([heads, *(sign.join(cells) for cells in text)])
    for action in ("read", "check", "take"):
        told = {f"target_{n}": name for n, name in enumerate(heads.split(sign))}
        sent = {**told, **options, "text": whole, "what": what, "action": action, "sure": "on"}
        sound(client.post("/exchange/import", sent), sent)


@settings(HOSTILE, max_examples=EXAMPLES * 3)
@given(content=st.binary(max_size=300), what=st.sampled_from(["entries", "readings"]))
def test_no_file_breaks_the_import(client, content, what):
    file = SimpleUploadedFile("table.csv", content)
    sound(client.post("/exchange/import", {"what": what, "file": file}), content)


@settings(HOSTILE, max_examples=EXAMPLES)
@given(data=st.data())
def test_no_change_of_a_sound_description_breaks_its_page(client, data):
    lines = whole_demo_text().splitlines()
    at = data.draw(st.integers(0, len(lines) - 1))
    lines[at] = data.draw(TYPED | st.just(lines[at].partition("=")[0] + "= ").flatmap(
        lambda key: TYPED.map(lambda value: f"{key}{value}")))  # fmt: skip
    sound(client.post("/site/text/", {"text": "\n".join(lines)}), lines[at])
