"""The search finds the smallest choice: as small as trying every choice, and as the proof says."""

from dataclasses import replace
from datetime import date
from itertools import pairwise, product

import numpy as np
import pytest

from protoconch.hatchery.description import LarvalTank
from protoconch.season.plan.proof import prove
from protoconch.season.plan.search import Search
from tests.season.seasons import TARGET, small_study

TARGETS = [(150, 0.5), (150, 0.7), (250, 0.4), (300, 0.55), (60, 0.8), (400, 0.3)]


def every_choice(search: Search):
    """All choices that fit the room, by brute force."""
    for lots in product(*(range(option.most + 1) for option in search.room.options)):
        choice = np.array(lots, dtype=np.int64)
        if search.room.fits(choice):
            yield choice


@pytest.fixture(scope="module")
def laid_out():
    return small_study()


@pytest.mark.parametrize(("animals", "sure"), TARGETS)
def test_the_search_is_as_good_as_trying_every_choice(laid_out, animals, sure):
    search = laid_out.search(animals)
    meeting = [
        choice
        for choice in every_choice(search)
        if search.odds(choice) >= sure and search.room.masses(choice).wide_enough
    ]
    found = search.smallest(sure)
    assert found.reaches == bool(meeting)
    if meeting:
        least = min(search.room.cost_of(choice) for choice in meeting)
        assert found.hours == pytest.approx(least)


@pytest.mark.parametrize("animals", [150, 300, 600])
def test_the_fullest_choice_has_the_best_odds_of_all(laid_out, animals):
    search = laid_out.search(animals)
    best = max(search.odds(choice) for choice in every_choice(search))
    assert search.fullest().odds == pytest.approx(best, abs=0.005)


@pytest.mark.parametrize(("animals", "sure"), TARGETS)
def test_the_proof_finds_what_trying_every_choice_finds(animals, sure):
    laid_out = small_study()
    rule = replace(laid_out.inputs.hatchery.genetics, min_masses=1, max_share=1.0)
    laid_out = small_study(genetics=rule)
    search = laid_out.search(animals)
    draws = 300

    def short_odds(choice):
        return float(np.mean(search.total(choice)[:draws] >= animals))

    def lot_hours(choice):
        starts = search.room.starts(choice)
        errands = sum(search.room.trip_hours + search.room.mass_hours[s] for s in starts)
        return float(search.room.cost @ choice + errands)

    meeting = [choice for choice in every_choice(search) if short_odds(choice) >= sure]
    proof = prove(search, sure, draws, 20.0)
    assert proof.proved
    if not meeting:
        assert proof.choice is None
    else:
        assert proof.hours == pytest.approx(min(map(lot_hours, meeting)), abs=0.05)
        assert short_odds(proof.choice) >= sure


@pytest.mark.parametrize("animals", [150, 300, 500])
def test_one_more_tank_never_makes_the_best_plan_worse(animals):
    one, two = (
        small_study(larval_tanks=(LarvalTank("tank", count, 300.0),)).search(animals)
        for count in (1, 2)
    )
    assert two.fullest().odds >= one.fullest().odds - 1e-12
    sure = one.fullest().odds
    assert two.smallest(sure).hours <= one.smallest(sure).hours + 1e-9


def test_more_target_less_odds_with_the_best_plan(laid_out):
    odds = [laid_out.search(animals).fullest().odds for animals in (50, 150, 300, 600, 1200)]
    assert all(more <= fewer for fewer, more in pairwise(odds))
    assert odds[0] > odds[-1]


def test_a_later_date_never_has_worse_odds():
    odds = [
        small_study(replace(TARGET, by=by)).search(200).fullest().odds
        for by in (date(2028, 6, 30), date(2028, 8, 31), date(2028, 10, 31))
    ]
    assert odds == sorted(odds)
