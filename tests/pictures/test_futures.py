"""Fifty equally likely futures as dots, and the chance of each number."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from protoconch.pictures.futures import (
    DOTS,
    chance_curve,
    chance_meaning,
    futures,
    futures_dots,
    futures_meaning,
    stacked,
)
from protoconch.pictures.lettering import collisions
from tests.pictures.invented import season, target
from tests.pictures.markup import parsed

numbers = st.lists(st.floats(0, 1e5), min_size=1, max_size=300).map(lambda n: np.sort(np.array(n)))


@given(numbers, st.integers(1, 100_000), st.integers(8, 33))
def test_dots_right_of_the_line_are_exactly_the_futures_that_meet_it(ready, asked, columns):
    drawn = futures(ready)
    dots = stacked(drawn, float(asked), columns)
    assert dots.met == int((drawn >= asked).sum())
    assert ((dots.columns >= 0) == (drawn >= asked)).all()


def test_a_future_that_gives_exactly_the_number_asked_meets_it():
    dots = stacked(np.full(DOTS, 1200.0), 1200.0, 20)
    assert dots.met == DOTS
    assert dots.columns.min() == 0


@given(st.integers(0, 10_000), st.floats(0, 0.6), st.integers(1, 6000))
def test_the_dots_tell_the_odds_to_within_one_dot(seed, lost, asked):
    rng = np.random.default_rng(seed)
    ready = np.sort(rng.gamma(4.0, 500.0, 1000) * (rng.random(1000) >= lost))
    met = stacked(futures(ready), float(asked), 20).met
    assert abs(met - round(DOTS * float(np.mean(ready >= asked)))) <= 1


@given(numbers, st.integers(1, 100_000))
def test_no_two_dots_share_a_place(ready, asked):
    dots = stacked(futures(ready), float(asked), 20)
    places = set(zip(dots.columns.tolist(), dots.rows.tolist(), strict=True))
    assert len(places) == DOTS


@pytest.mark.parametrize("batches", [1, 3, 6, 12])
def test_the_season_shows_its_odds_in_dots(batches):
    plan = season(batches)
    met, _ = _circles(futures_dots(plan))
    assert abs(len(met) - round(DOTS * plan.odds.value)) <= 1


@pytest.mark.parametrize("animals", [1, 50, 900, 1200, 5000, 60_000])
@pytest.mark.parametrize("batches", [1, 6])
def test_every_dot_that_meets_lies_right_of_the_line_and_every_other_left(animals, batches):
    plan = season(batches, asked=target(animals))
    drawn = futures_dots(plan)
    met, missed = _circles(drawn)
    assert len(met) + len(missed) == DOTS
    line = next(e for e in _parts(drawn) if e.get("class") == "mark")
    assert all(float(c.get("cx")) > float(line.get("x1")) for c in met)
    assert all(float(c.get("cx")) < float(line.get("x1")) for c in missed)
    assert collisions(drawn.labels) == []
    assert collisions(chance_curve(plan).labels) == []


def test_dots_do_not_overlap_even_when_all_futures_are_alike():
    plan = season(6)
    alike = replace(plan, forecast=replace(plan.forecast, ready=np.zeros(500)))
    _, missed = _circles(futures_dots(alike))
    spots = np.array([[float(c.get("cx")), float(c.get("cy"))] for c in missed])
    gaps = np.hypot(*(spots[:, None] - spots[None]).transpose(2, 0, 1)) + 1e3 * np.eye(DOTS)
    assert gaps.min() >= 2 * float(missed[0].get("r")) - 0.2
    assert float(missed[0].get("r")) >= 3


def test_the_sentences_are_worked_out_from_the_numbers():
    ready = futures(np.arange(1.0, 1001.0))
    assert futures_meaning(ready, 501).startswith("25 of 50 equally likely futures reach 501")
    assert "half of the 50 reach 500" in futures_meaning(ready, 501)
    assert "the worst five give 91 or fewer" in futures_meaning(ready, 501)
    assert futures_meaning(np.zeros(50), 10).startswith("No future")


def test_the_chance_sentence_names_the_number_for_each_degree_of_sureness():
    plan = season(6)
    even = replace(plan, forecast=replace(plan.forecast, ready=np.arange(0.0, 1001.0)))
    assert chance_meaning(even) == (
        "This plan lets one be nine in ten sure of 100, eight in ten sure of 200 and five in ten "
        "sure of 500."
    )
    assert "nothing is planned" in chance_meaning(season(0))


def _parts(picture):
    return list(parsed(picture.svg).iter())


def _circles(picture):
    circles = [e for e in _parts(picture) if e.tag.endswith("circle")]
    met = [c for c in circles if c.get("class") == "met"]
    return met, [c for c in circles if c.get("class") == "missed"]
