"""Logs for Hypothesis to try: entries of every kind over a few vessels, right and wrong ones."""

import json
from datetime import UTC, datetime, timedelta
from typing import Any
from uuid import UUID

from hypothesis import strategies as st

from protoconch.hatchery.reading import demo_hatchery
from protoconch.log.entry import Entry
from protoconch.log.kinds import KINDS

HATCHERY = demo_hatchery()
FIRST = datetime(2027, 5, 1, 8, 0, tzinfo=UTC)
TANKS = ("large tank 1", "large tank 2", "small tank 1")
TRAYS = ("tray 1", "tray 2")
NURSERY = ("raceway 1", "raceway 2")
HOLDS = TANKS + TRAYS + NURSERY
INCUBATORS = ("incubator 1", "incubator 2")
ALGAE = ("flask 1", "bottle 1", "carboy 1")
BATCHES = ("27A", "27B")
TASKS = ("", "", "2027-05-01|count|large tank 1", "2027-05-02|feed|tray 1")

numbers = st.integers(0, 40_000)
few = st.integers(1, 500)
litres = st.integers(1, 400).map(float)
holds = st.sampled_from(HOLDS)
batches = st.sampled_from(BATCHES)


def _fields(**parts: Any) -> st.SearchStrategy[dict[str, Any]]:
    return st.fixed_dictionaries(
        {k: v if isinstance(v, st.SearchStrategy) else st.just(v) for k, v in parts.items()}
    )


maybe = st.one_of(st.none(), numbers)
aliquots = _fields(
    aliquots=st.lists(st.integers(0, 60), min_size=1, max_size=5).map(tuple), aliquot_ml=5.0,
    litres=400.0,
)  # fmt: skip
classes = st.lists(
    _fields(from_mm=st.just(5.0), to_mm=st.just(20.0), animals=few,
            to=st.sampled_from(("", *NURSERY))),
    min_size=1, max_size=3,
).map(tuple)  # fmt: skip

CONTENT: dict[str, tuple[tuple[str, ...], st.SearchStrategy[dict[str, Any]]]] = {
    "egg mass collected": (("",), _fields(mass=st.sampled_from("MNO"), eggs=maybe)),
    "incubator loaded": (INCUBATORS, _fields(batch=batches, masses=("M", "N"), eggs=maybe)),
    "hatched": (INCUBATORS, _fields(batch=batches, veligers=maybe)),
    "stocked": (TANKS, _fields(batch=batches, animals=numbers)),
    "counted": (HOLDS + INCUBATORS, st.one_of(_fields(animals=numbers), aliquots)),
    "measured": (HOLDS, _fields(lengths_mm=st.lists(st.just(1.5), min_size=1, max_size=3))),
    "competence checked": (TANKS, _fields(looked_at=50, competent=st.integers(0, 50))),
    "thinned": (HOLDS, _fields(kept=numbers, removed=maybe)),
    "moved": (HOLDS, _fields(to=st.lists(holds, min_size=1, max_size=3).map(tuple),
                             animals=maybe)),
    "settled": (TRAYS, _fields(animals=numbers, offered=maybe)),
    "graded": (NURSERY, _fields(classes=classes)),
    "weighed": (NURSERY, _fields(animals=few, grams=litres)),
    "lost": (HOLDS + INCUBATORS, _fields(animals=maybe)),
    "released": (NURSERY, _fields(animals=numbers)),
    "water changed": (HOLDS, _fields(share=st.sampled_from((0.5, 1.0)))),
    "fed": (HOLDS, _fields(foods=({"food": "t-iso", "litres": 3.0},))),
    "cleaned": (HOLDS + INCUBATORS + ALGAE, _fields(with_what="chlorine")),
    "done": (("",), _fields(work="siphon", skipped=st.booleans())),
    "inoculated": (ALGAE, _fields(species=st.sampled_from(("t-iso", "c-muelleri")), litres=litres,
                                  inoculum_l=st.sampled_from((None, 0.2, 2.0)),
                                  source=st.sampled_from(ALGAE))),
    "harvested": (ALGAE, _fields(litres=litres, refilled_l=st.sampled_from((0.0, 5.0)))),
    "culture counted": (ALGAE, st.one_of(
        _fields(cells_per_ml=2e6, found=st.sampled_from(("", "ciliates"))),
        _fields(chamber="Neubauer", loadings=st.lists(st.integers(0, 90), min_size=1, max_size=2)),
    )),
    "culture ended": (ALGAE, _fields(reason="crashed")),
    "medium made": (("",), _fields(medium="f/2", litres=litres)),
    "pumped": (("reservoir",), _fields(litres=litres)),
    "drawn": (("reservoir",), _fields(litres=litres)),
    "read": (("reservoir", "large tank 1", "tray loop"), st.one_of(
        _fields(quantity="level", value=litres), _fields(quantity="temperature", value=27.5),
    )),
    "cartridge changed": (("5 µm stage",), _fields(rating_um=5.0)),
    "lamp changed": (("UV unit",), _fields(hours_of_old=8000.0)),
    "received": (("",), _fields(item="f/2 stock", amount=litres, unit=st.sampled_from(("mL", "L")),
                                expires=st.sampled_from((None, "2027-06-01", "2028-01-01")))),
    "used": (("",), _fields(item="f/2 stock", amount=litres, unit="mL")),
    "note": (("", "large tank 1"), _fields(text="calm sea")),
    "photo": (("",), _fields(photo="ab12")),
}  # fmt: skip
"""Places and content of each kind that points at no other entry."""

ANIMAL_KINDS = ("stocked", "stocked", "counted", "thinned", "moved", "moved", "settled", "graded",
                "lost", "released")  # fmt: skip


def entry(kind: str, where: str, payload: dict[str, Any], *, minutes: float = 0.0, number: int = 1,
          who: str = "crew A", task: str = "") -> Entry:  # fmt: skip
    """One entry, so many minutes after the first morning; number becomes its id."""
    return Entry(
        UUID(int=number), kind, FIRST + timedelta(minutes=minutes),
        FIRST + timedelta(minutes=minutes + 5), who, where,
        KINDS[kind].payload.model_validate(payload), task,
    )  # fmt: skip


@st.composite
def plain_entries(draw: st.DrawFn, number: int, kinds: tuple[str, ...] = tuple(CONTENT)) -> Entry:
    """An entry that points at no other; its moment may be that of another."""
    kind = draw(st.sampled_from(kinds))
    places, content = CONTENT[kind]
    return entry(
        kind, draw(st.sampled_from(places)), draw(content), number=number,
        minutes=draw(st.integers(0, 30)) * 60, task=draw(st.sampled_from(TASKS)),
    )  # fmt: skip


@st.composite
def pointing_entries(draw: st.DrawFn, number: int, others: list[Entry]) -> Entry:
    """A correction or confirmation of one of the others, or of an entry that nobody has."""
    of = draw(st.sampled_from([*others, None]))
    minutes = draw(st.integers(0, 40)) * 60
    target = str(of.id if of is not None else UUID(int=999_999))
    if draw(st.integers(0, 3)) == 0:
        payload = {"of": target, "stands": draw(st.booleans())}
        return entry("confirmed", "", payload, number=number, minutes=minutes)
    change: dict[str, Any] = {"of": target}
    what = draw(st.sampled_from(("withdraw", "happened", "where", "payload")))
    if what == "withdraw" or of is None:
        change["withdraw"] = True
    elif what == "happened":
        change["happened"] = FIRST + timedelta(hours=draw(st.integers(0, 30)))
    elif what == "where":
        change["where"] = draw(holds)
    elif of.kind in CONTENT:
        change["payload"] = json.loads(json.dumps(draw(CONTENT[of.kind][1])))
    else:
        change["payload"] = {**of.payload.model_dump(mode="json", exclude_defaults=True),
                             "why": "again"}  # fmt: skip
    return entry("correction", "", change, number=number, minutes=minutes)


@st.composite
def logs(draw: st.DrawFn, *, kinds: tuple[str, ...] = tuple(CONTENT), most: int = 14,
         pointing: int = 5) -> list[Entry]:  # fmt: skip
    """A log in order of writing: plain entries, then corrections and confirmations of them."""
    found = [draw(plain_entries(n, kinds)) for n in range(1, draw(st.integers(0, most)) + 1)]
    numbers_ = draw(st.permutations(range(1, len(found) + 1)))
    found = [
        Entry(UUID(int=n), *(getattr(e, f) for f in
              ("kind", "happened", "arrived", "who", "where", "payload", "task")))
        for n, e in zip(numbers_, found, strict=True)
    ]  # fmt: skip
    for n in range(draw(st.integers(0, pointing)) if found else 0):
        found.append(draw(pointing_entries(1000 + n, found)))
    return found
