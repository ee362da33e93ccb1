"""What fits the room: every limit alone refuses a choice that only it forbids."""

from dataclasses import replace

import numpy as np
import pytest

from protoconch.hatchery.description import LarvalTank, Tray
from tests.season.seasons import small_hatchery, small_study

RULES = small_hatchery()


def lots(study, *counts):
    """A choice with so many lots of the first options."""
    choice = np.zeros(len(study.room.options), dtype=np.int64)
    choice[: len(counts)] = counts
    return choice


def test_a_modest_choice_fits():
    study = small_study()
    assert study.room.fits(lots(study, 1, 0, 1))


def test_more_tanks_than_there_are_do_not_fit():
    study = small_study(larval_tanks=(LarvalTank("tank", 1, 300.0),))
    assert study.room.fits(lots(study, 1))
    assert not study.room.fits(lots(study, 2))


def test_more_trays_than_there_are_do_not_fit():
    study = small_study(trays=(Tray("tray", 4, 3600.0),))
    assert not study.room.fits(lots(study, 1, 1))


def test_more_dates_than_the_permit_has_masses_do_not_fit():
    study = small_study(
        permit=replace(RULES.permit, egg_masses=1),
        genetics=replace(RULES.genetics, min_masses=1, max_share=1.0),
    )
    assert study.room.fits(lots(study, 1))
    assert not study.room.fits(lots(study, 1, 0, 1))


def test_a_batch_that_needs_more_masses_than_the_incubator_has_places_does_not_fit():
    study = small_study(
        incubator_places=1,
        larval_tanks=(LarvalTank("tank", 2, 1500.0),),
        trays=(Tray("tray", 60, 3600.0),),
        crew_hours=(24.0,) * 7,
        algae_dry_g_per_day=50.0,
        genetics=replace(RULES.genetics, min_masses=1, max_share=1.0),
    )
    assert study.room.options[0].eggs > 0.7 * study.room.setting.beliefs.eggs_per_mass
    assert study.room.fits(lots(study, 1))
    assert not study.room.fits(lots(study, 2))


def test_more_algae_than_there_are_do_not_fit():
    study = small_study(algae_dry_g_per_day=0.01)
    assert not study.room.fits(lots(study, 1))


@pytest.mark.parametrize("weekday", range(7))
def test_a_day_without_hands_fits_no_larvae(weekday):
    week = [12.0] * 7
    week[weekday] = 0.0
    study = small_study(crew_hours=tuple(week))
    assert not study.room.fits(lots(study, 1))


def test_masses_are_added_until_the_genetics_rule_is_kept():
    study = small_study(genetics=replace(RULES.genetics, min_masses=7, max_share=0.2))
    masses = study.room.masses(lots(study, 1, 0, 1))
    assert masses.wide_enough
    assert masses.total >= 7


def test_no_choice_costs_nothing_and_each_lot_costs_hours():
    study = small_study()
    costs = [study.room.cost_of(lots(study, *c)) for c in ((), (1,), (2,), (2, 0, 1))]
    assert costs[0] == 0.0
    assert costs == sorted(set(costs))
