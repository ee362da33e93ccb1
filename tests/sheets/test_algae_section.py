"""The algae room on a page."""

import re
from dataclasses import replace

from protoconch.sheets.algae_section import (
    algae_page,
    algae_section,
    algae_words,
    moves_on,
    tray_words,
)
from tests.pictures.algae_answer import FIRST, small_answer


def test_the_page_stands_alone():
    page = algae_page(small_answer(), "<b>Nowhere & Co</b>", FIRST, invented=True)
    assert "<script" not in page
    assert "&lt;b&gt;Nowhere &amp; Co" in page
    assert "This hatchery is invented" in page
    assert not re.search(r'(src|href)="http', page)
    assert len(page.encode()) < 300_000


def test_a_real_hatchery_is_not_called_invented():
    assert "invented" not in algae_page(small_answer(), "Real", FIRST, invented=False)


def test_every_start_of_the_first_fortnight_is_listed():
    answer = small_answer()
    section = algae_section(answer)
    starts = [life for life in answer.plan.lives if 0 <= life.started < 14]
    assert starts
    assert section.count("start ") >= len(starts)
    assert sum(what.startswith("start") for n in range(14) for what, _, _ in moves_on(answer, n)) \
        == len(starts)  # fmt: skip


def test_shortages_come_with_what_to_do():
    assert "no tank goes short" in algae_section(small_answer())
    starved = small_answer(80.0)
    section = algae_section(starved)
    assert "tank 1 lacks" in section
    assert ("of paste, thinning alone" in section) or ("instead" in section)
    if len(starved.short) > 12:
        assert f"And {len(starved.short) - 12} more like these." in section


def test_the_words_say_what_is_reached():
    answer = small_answer()
    assert ("which reaches" in algae_words(answer)) == answer.sure.enough
    failed = replace(answer, sure=replace(answer.sure, enough=False))
    assert "which does not reach" in algae_words(failed)


def test_the_page_says_what_the_trays_get():
    said = tray_words(small_answer())
    # 0.05 g at 33 pg a cell
    assert "Navicula, Amphora and Nitzschia (films), sown as film, at most 1.5 billion" in said
    assert "from 1 May 2027 to 15 May 2027" in said
    assert said in algae_section(small_answer())
    answer = small_answer()
    larvae = tuple(food for food in answer.demand.tanks if not food.trays)
    assert tray_words(replace(answer, demand=replace(answer.demand, tanks=larvae))) == ""


def test_each_species_has_its_expected_curve():
    section = algae_section(small_answer())
    assert section.count("It was not counted yet") >= 3
    assert "Tisochrysis lutea (T-Iso), the first carboy" in section


def test_chemicals_are_listed_for_the_litres():
    section = algae_section(small_answer())
    assert "sodium nitrate" in section
    assert "f/2-double-silicate" in section


def test_people_are_warned():
    section = algae_section(small_answer())
    assert "Never mix it with acid or ammonia" in section
    assert "licensed electrician" in section
