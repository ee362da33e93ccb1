"""Who goes short after a loss, from when to when, and what to do, in words."""

from datetime import date

import pytest

from protoconch.algae.chain.loss import after_loss, spell_told, spells
from protoconch.algae.chain.shortfalls import Shortfall
from tests.pictures.algae_answer import small_answer

FIRST = date(2027, 4, 28)


def shortfall(day, tank="tank 1", species="t-iso", missing=0.5, **changes):
    given = {"shift_to": (("c-muelleri", 0.2),), "thin_share": 0.3, "trays": False, "remedy": ""}
    given |= changes
    return Shortfall(day, tank, "A", species, missing, **given)


def test_days_near_each_other_are_one_spell_and_amounts_add_up():
    one, other = spells([shortfall(1), shortfall(2), shortfall(4, thin_share=0.4), shortfall(9)])
    assert (one.first, one.last, one.days, one.missing_g) == (1, 4, 3, 1.5)
    assert one.remedy == (
        "give 0.6 g of c-muelleri instead; buy 0.9 g dry of paste, or thin the tank by 40%"
    )
    assert (other.first, other.days) == (9, 1)


def test_each_tank_and_species_has_its_own_spell():
    mixed = [shortfall(1), shortfall(1, species="pavlova"), shortfall(1, tank="tank 2")]
    assert {(s.tank, s.species) for s in spells(mixed)} == {
        ("tank 1", "t-iso"), ("tank 1", "pavlova"), ("tank 2", "t-iso"),
    }  # fmt: skip


def test_a_spell_names_tank_days_and_what_to_do():
    (one,) = spells([shortfall(5)])
    assert spell_told(one, FIRST) == (
        "Tank 1 lacks 0.5 g of t-iso on 3 May: give 0.2 g of c-muelleri instead;"
        " buy 0.3 g dry of paste, or thin the tank by 30%."
    )
    trays = {"tank": "trays of batch B", "species": "navicula", "shift_to": (), "trays": True}
    (two,) = spells([shortfall(2, **trays), shortfall(5, **trays)])
    assert spell_told(two, FIRST) == (
        "Trays of batch B lack 1 g of navicula on 2 days from 30 April to 3 May:"
        " buy 1 g dry of diatom paste, or thin the trays by 30%."
    )


@pytest.mark.parametrize("day", [10, 25, 40])
def test_a_loss_that_leaves_nobody_short_says_so(day):
    answer = small_answer()
    there = [x.vessel for x in answer.plan.lives
             if x.started < day and (x.ended is None or x.ended >= day)]  # fmt: skip
    for vessel in there:
        found = after_loss(answer, day, lost=(vessel,))
        assert ("No tank goes short." in found.sentences) == (not found.spells)
        assert len(found.sentences) == 1 + max(1, len(found.spells))
        assert found.replan.day == day
