"""Two phones that were apart: however their entries come back, the log and its state are the same.

A real server over a real database. Requests are cut off on the wire before they are whole, answers
are lost after they were sent, what was acknowledged is sent once more, and the two interleave.
"""

import http.client
import socket
from datetime import UTC, datetime, timedelta
from itertools import count
from urllib.parse import urlencode
from zoneinfo import ZoneInfo

import pytest
from django.conf import settings as django
from django.test import Client
from hypothesis import HealthCheck, settings
from hypothesis import strategies as st
from hypothesis.stateful import (
    RuleBasedStateMachine,
    initialize,
    precondition,
    rule,
    run_state_machine_as_test,
)

from protoconch.hatchery.reading import whole_demo_text
from protoconch.log.fold import fold
from protoconch.log.reading import read_entry
from protoconch.records.models import Description, Entry, Person, Role, Site
from protoconch.records.queries.log import state
from protoconch.records.queries.site import hatchery
from tests.fixtures.site import ZONE

EXAMPLES, STEPS = 12, 14
TANKS = ("large tank 1", "large tank 2", "large tank 3")
TOKEN = "a" * 32
START = datetime.now(ZoneInfo(ZONE)).replace(microsecond=0) - timedelta(days=3)
numbers = count(1)
TEXT = whole_demo_text()
UNTARGETED = TEXT[: TEXT.index("[target]")] + TEXT[TEXT.index("[algae_room]") :]
pytestmark = pytest.mark.timeout(240)


@st.composite
def happenings(draw):
    """Something that a person enters: kind, place, content as the form has it, task."""
    tank, other = draw(st.sampled_from(TANKS)), draw(st.sampled_from(TANKS))
    batch, number = draw(st.sampled_from(["27A", "27B"])), draw(st.sampled_from([40, 900, 9000]))
    return draw(
        st.sampled_from(
            [
                ("stocked", tank, {"batch": batch, "animals": number, "litres": 400}, ""),
                ("counted", tank, {"animals": number}, ""),
                ("moved", tank, {"to.0": other}, ""),
                ("lost", tank, {"animals": number}, ""),
                ("released", tank, {"animals": number, "site": "a reef"}, ""),
                ("fed", tank, {"foods.0.food": "flagellate", "foods.0.litres": 1}, f"feed {tank}"),
                ("measured", tank, {"mean_mm": 0.7, "animals": 30}, ""),
                ("egg mass collected", "", {"mass": batch, "eggs": 200_000}, ""),
                ("read", tank, {"quantity": "temperature", "value": 28}, ""),
                ("read", tank, {"quantity": "temperature", "value": 2800}, ""),  # never true
            ]
        )
    )


queues = st.lists(
    st.tuples(happenings(), st.integers(0, 2880), st.uuids(version=4)), min_size=1, max_size=6,
    unique_by=lambda one: one[2],
)  # fmt: skip


class Phones(RuleBasedStateMachine):
    """Two queues and one server. waiting: what each phone still has; gone: what it was told of."""

    live = None

    @initialize(first=queues, second=queues)
    def part(self, first, second):
        """The phones leave the network, and somebody types."""
        self.site = Site.objects.create(name=f"site {next(numbers)}", zone=ZONE)
        Description.objects.create(site=self.site, text=UNTARGETED, by="the test")
        self.forms, self.people = [], []
        for place, queue in enumerate((first, second)):
            person = Person.objects.create(
                sign_in=f"crew-{next(numbers)}",
                site=self.site,
                name=f"crew {place}",
                role=Role.CREW,
            )
            client = Client()
            client.force_login(person)
            self.people.append((person, client.cookies[django.SESSION_COOKIE_NAME].value))
            order = sorted(queue, key=lambda one: one[1])
            # numbers stay apart from those of other examples: an id is one of all hatcheries
            self.forms.append([Form(*one, next(numbers), person) for one in order])
        self.waiting = [list(forms) for forms in self.forms]
        self.gone = [[], []]

    @rule(phone=st.integers(0, 1), many=st.integers(1, 3))
    def send(self, phone, many):
        """Some go up, one after the other, each until the server says what became of it."""
        for form in self.waiting[phone][:many]:
            self.answered(phone, form)

    @rule(phone=st.integers(0, 1), share=st.floats(0.1, 0.99))
    @precondition(lambda self: any(self.waiting))
    def lose_the_request(self, phone, share):
        """The network goes before all of it is out."""
        for form in self.waiting[phone][:1]:
            self.cut(phone, form, share)

    @rule(phone=st.integers(0, 1))
    @precondition(lambda self: any(self.waiting))
    def lose_the_answer(self, phone):
        """The network goes when all of it is out; the phone does not know."""
        for form in self.waiting[phone][:1]:
            self.cut(phone, form, 1.0)

    @rule(phone=st.integers(0, 1))
    @precondition(lambda self: any(self.gone))
    def repeat(self, phone):
        """What was answered is sent once more."""
        for form in self.gone[phone][-1:]:
            assert self.asked(phone, form)["outcome"] != "saved"

    def answered(self, phone, form):
        told = self.asked(phone, form)
        assert (told["outcome"] == "refused") == form.impossible, told
        self.waiting[phone].remove(form)
        self.gone[phone].append(form)

    def teardown(self):
        """In the end all of it is up: once, and the state is that of all entries in their order."""
        if not hasattr(self, "waiting"):
            return
        while any(self.waiting):
            for phone in (1, 0):
                for form in self.waiting[phone][:1]:
                    self.answered(phone, form)
        here = hatchery(self.site)
        expected = [
            form.entry(here) for forms in self.forms for form in forms if not form.impossible
        ]
        kept = list(Entry.objects.filter(site=self.site).values_list("uuid", flat=True))
        assert sorted(kept) == sorted(entry.id for entry in expected)
        assert state(self.site) == fold(expected, here)

    def body(self, phone, form):
        person, session = self.people[phone]
        text = urlencode(form.fields(person))
        return text, {
            "Cookie": f"{django.SESSION_COOKIE_NAME}={session}; csrftoken={TOKEN}",
            "X-CSRFToken": TOKEN, "Content-Type": "application/x-www-form-urlencoded",
        }  # fmt: skip

    def asked(self, phone, form):
        import json

        text, headers = self.body(phone, form)
        line = http.client.HTTPConnection(*self.live, timeout=30)
        line.request("POST", "/carried/take", text, headers)
        answer = line.getresponse()
        said = answer.read()
        line.close()
        assert answer.status == 200, (answer.status, said[:300])
        return json.loads(said)

    def cut(self, phone, form, share):
        text, headers = self.body(phone, form)
        head = "".join(f"{name}: {value}\r\n" for name, value in headers.items())
        whole = (f"POST /carried/take HTTP/1.1\r\nHost: x\r\nContent-Length: {len(text)}\r\n"
                 f"{head}\r\n{text}").encode()  # fmt: skip
        with socket.create_connection(self.live) as line:
            line.sendall(whole[: int(len(whole) * share)])


class Form:
    """A form as a phone keeps it."""

    def __init__(self, happening, minutes, identity, number, person):
        self.kind, self.where, self.payload, self.task = happening
        self.at = START + timedelta(minutes=minutes)
        self.id = str(identity)[:-12] + f"{number:012x}"
        self.who = person.name
        self.impossible = self.payload.get("value") == 2800

    def fields(self, person):
        at = self.at.timestamp() * 1000
        now = datetime.now(UTC).timestamp() * 1000
        return {
            "id": self.id, "where": self.where, "task": self.task,
            **{f"payload.{name}": value for name, value in self.payload.items()},
            "carried.address": f"/log/add/{self.kind.replace(' ', '-')}",
            "carried.person": person.pk, "carried.at": at, "carried.sent": now,
            "carried.ahead": 0, "carried.seen": at - 1000, "carried.steady": "yes",
        }  # fmt: skip

    def entry(self, here):
        payload = dict(self.payload)
        if "to.0" in payload:
            payload = {"to": [payload["to.0"]]}
        if "foods.0.food" in payload:
            payload = {"foods": [{"food": "flagellate", "litres": 1}]}
        told = {"id": self.id, "kind": self.kind, "where": self.where, "task": self.task,
                "payload": payload, "happened": self.at, "arrived": datetime.now(UTC),
                "who": self.who, "unasked": True}  # fmt: skip
        return read_entry(told, here)


def test_any_way_in_which_two_phones_come_back_gives_the_same_log(live):
    host, port = live.url.removeprefix("http://").split(":")
    Phones.live = (host, int(port))
    run_state_machine_as_test(
        Phones,
        settings=settings(
            max_examples=EXAMPLES,
            stateful_step_count=STEPS,
            deadline=None,
            suppress_health_check=list(HealthCheck),
        ),
    )
