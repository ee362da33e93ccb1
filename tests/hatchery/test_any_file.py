"""Whatever is typed, a hatchery file is read or refused in sentences, and survives a round trip."""

from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

from hypothesis import given
from hypothesis import strategies as st

from protoconch.animals.profiles import known_species, species
from protoconch.errors import BadFile
from protoconch.hatchery.description import (
    Genetics,
    Hatchery,
    LarvalTank,
    NurseryTank,
    Permit,
    Prices,
    Target,
    Tray,
)
from protoconch.hatchery.reading import demo_hatchery, read_hatchery
from protoconch.hatchery.writing import hatchery_text
from protoconch.sources.values import SourcedValue

DEMO = Path(__file__).with_name("made_up.toml").read_text(encoding="utf-8")
LINES = DEMO.splitlines()
TOKENS = (
    "", "nan", "-1", "1e400", "[]", "{}", '""', "true", "2027-01-01", "07:32:00", '"x"', "[1, [2]]",
    '"60 x"', '"x x x cm"', '"1/0 L"', "0", "99999999999999999999", '"1e9 L"', "[{}]", '"-"',
    '"to"', "2027-01-01T00:00:00Z", "0x10", '"١٢"', '"½ L"', "{ a = 1 }", '"20 %%"', '"° °"',
)  # fmt: skip


def outcome(text):
    """Read or refused; any other end is an exception, which fails the test."""
    try:
        hatchery = read_hatchery(text, "mine.toml")
    except BadFile as refusal:
        last = text.count("\n") + 1
        sound = all(1 <= p.line <= last and p.sentence.strip() for p in refusal.problems)
        return "refused" if refusal.problems and sound else repr(refusal.problems)
    return "read" if isinstance(hatchery, Hatchery) else repr(hatchery)


KEYS = ("x = 1", "own = 1", '"" = 1', "a.b = 1", "own.growth.q10 = 1", "waterworks = 3")


@given(st.text(max_size=300))
def test_any_text_is_read_or_refused(text):
    assert outcome(text) in ("read", "refused")


@st.composite
def mutated(draw):
    """The demonstration with a few slips of the keyboard."""
    lines = list(LINES)
    for _ in range(draw(st.integers(1, 4))):
        at = draw(st.integers(0, len(lines) - 1))
        kind = draw(st.sampled_from(("drop", "twice", "value", "key", "cut", "swap", "typo")))
        if kind == "drop":
            del lines[at]
        elif kind == "twice":
            lines.insert(at, lines[at])
        elif kind == "value" and "=" in lines[at]:
            lines[at] = f"{lines[at].split('=')[0]}= {draw(st.sampled_from(TOKENS))}"
        elif kind == "key" and "=" in lines[at]:
            lines[at] = draw(st.sampled_from(KEYS))
        elif kind == "cut":
            lines[at] = lines[at][: draw(st.integers(0, 20))]
        elif kind == "swap":
            other = draw(st.integers(0, len(lines) - 1))
            lines[at], lines[other] = lines[other], lines[at]
        else:
            place = draw(st.integers(0, len(lines[at])))
            lines[at] = lines[at][:place] + draw(st.characters()) + lines[at][place:]
        if not lines:
            return ""
    return "\n".join(lines)


@given(mutated())
def test_any_slip_in_the_demonstration_is_read_or_refused(text):
    assert outcome(text) in ("read", "refused")


def between(low, high):
    return st.floats(low, high, allow_nan=False)


NAMES = st.text(st.characters(exclude_categories=("Cs",)), min_size=1, max_size=12).filter(
    lambda name: name == name.strip() and name
)
DAYS = st.dates(date(2001, 1, 1), date(2090, 1, 1))


def kinds(make, low, high):
    """Some tanks of one sort, each with its own name."""
    counts = st.integers(1, 300)
    return st.lists(
        st.builds(make, NAMES, counts, between(low, high)),
        min_size=1, max_size=3, unique_by=lambda tank: tank.name,
    ).map(tuple)  # fmt: skip


@st.composite
def hatcheries(draw):
    """Any hatchery that makes sense."""
    profile = species(draw(st.sampled_from(known_species())))
    first = draw(DAYS)
    last = first + timedelta(days=draw(st.integers(0, 300)))
    months = draw(st.sets(st.integers(1, 12))) | {first.month}
    target = st.builds(
        Target, st.integers(1, 10**6), between(0.5, 300),
        st.integers(1, 900).map(lambda days: first + timedelta(days=days)), between(0.01, 0.999),
    )  # fmt: skip
    own = SourcedValue(
        "juvenile.growth_mm_d", draw(between(0.1, 0.3)), "mm/d", "own-log", "own", 0.1, 0.3,
        conditions=draw(NAMES), shape="pert",
    )  # fmt: skip
    return Hatchery(
        name=draw(NAMES), species=profile.key, regime=draw(st.sampled_from(profile.regimes)),
        place=draw(NAMES), invented=draw(st.booleans()),
        temperature_c=tuple(draw(st.lists(between(5, 40), min_size=12, max_size=12))),
        larval_tanks=draw(kinds(LarvalTank, 1, 50000)), incubator_places=draw(st.integers(1, 99)),
        trays=draw(kinds(Tray, 50, 100000)), nursery=draw(kinds(NurseryTank, 0.05, 2000)),
        algae_dry_g_per_day=draw(between(0, 1e5)),
        crew_hours=(*draw(st.lists(between(0, 200), min_size=6, max_size=6)), 8.0),
        permit=Permit(
            draw(st.integers(1, 999)), tuple(sorted(months)), draw(NAMES), draw(NAMES)
        ),
        genetics=Genetics(draw(st.integers(1, 99)), draw(between(0.001, 1))),
        first_day=first, last_day=last, target=draw(st.none() | target),
        own_values=draw(st.sampled_from(({}, {own.name: own}))),
        prices=draw(st.none() | st.builds(
            Prices, NAMES, between(0, 1e9), st.none() | between(0, 1e9), st.none() | between(0, 1e9)
        )),
    )  # fmt: skip


@given(hatcheries())
def test_a_hatchery_written_and_read_again_is_the_same(hatchery):
    back = read_hatchery(hatchery_text(hatchery), "mine.toml")
    assert replace(back, notes=()) == hatchery


@given(hatcheries())
def test_a_hatchery_read_and_written_and_read_keeps_its_notes(hatchery):
    once = read_hatchery(hatchery_text(hatchery), "mine.toml")
    assert read_hatchery(hatchery_text(once), "mine.toml") == once


def test_the_demonstration_survives_a_round_trip():
    hatchery = demo_hatchery()
    assert read_hatchery(hatchery_text(hatchery), "mine.toml") == hatchery
