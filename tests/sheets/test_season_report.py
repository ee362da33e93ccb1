"""The season report: the answer first, complete in itself, safe with whatever people typed."""

import re
from dataclasses import replace
from datetime import date, timedelta
from functools import cache
from html.parser import HTMLParser
from itertools import pairwise

import pytest

from protoconch.animals.profiles import species
from protoconch.sheets.season_report import answer_written, season_report
from protoconch.work.tasks import day_tasks, season_tasks
from tests.pictures.invented import BY, DAYS, FIRST_DAY, season, target

PRINTED = date(2027, 4, 20)
HOSTILE = "</title><script>alert(1)</script><img src=x onerror=alert(2)>\"'&"
EMPTY = {"meta", "rect", "circle", "path", "line", "br"}


@cache
def report(batches=3, animals=None, name="Nowhere Cay practice hatchery"):
    plan = season(batches, asked=target(animals) if animals else None, name=name)
    return season_report(plan, chores(plan), PRINTED)


def chores(plan):
    """The tasks of a plan; of a large one those of every fifth day, which is quicker."""
    if len(plan.batches) <= 6:
        return season_tasks(plan, species("queen-conch"))
    days = (FIRST_DAY + timedelta(days=i) for i in range(0, DAYS, 5))
    return [task for day in days for task in day_tasks(plan, species("queen-conch"), day)]


class Page(HTMLParser):
    """The tags of a page, checked for their nesting, and its words."""

    def __init__(self, text):
        super().__init__(convert_charrefs=True)
        self.open, self.tags, self.words = [], [], []
        self.feed(text)
        self.close()

    def handle_starttag(self, tag, attrs):
        self.tags.append((tag, dict(attrs)))
        if tag not in EMPTY:
            self.open.append(tag)

    def handle_startendtag(self, tag, attrs):
        self.tags.append((tag, dict(attrs)))

    def handle_endtag(self, tag):
        assert self.open.pop() == tag

    def handle_data(self, data):
        if self.open and self.open[-1] != "style":
            self.words.append(data)

    @property
    def text(self):
        return re.sub(r"\s+", " ", " ".join(self.words).replace("\N{NO-BREAK SPACE}", " "))

    def all(self, tag):
        return [attrs for name, attrs in self.tags if name == tag]


@pytest.fixture(params=[(0, 1200), (1, None), (3, None), (6, 6000), (12, None)])
def page(request):
    return Page(report(*request.param))


def test_every_state_gives_a_well_nested_page_in_a_named_language(page):
    assert page.open == []
    assert page.all("html") == [{"lang": "en"}]
    assert any(meta.get("name") == "viewport" for meta in page.all("meta"))


def test_a_page_needs_no_script_and_nothing_from_outside(page):
    names = {name for name, _ in page.tags}
    assert names.isdisjoint({"script", "link", "iframe", "img", "object", "embed", "base", "form"})
    for name, attributes in page.tags:
        assert not [key for key in attributes if key.startswith("on")], name
        assert "src" not in attributes
        assert attributes.get("href", "#").startswith("#")
        assert "http" not in (attributes.get("style") or "")


def test_the_style_asks_for_nothing_from_outside():
    style = re.findall(r"<style>(.*?)</style>", report(), re.DOTALL)
    assert len(style) == 1
    assert "@import" not in style[0]
    assert not re.findall(r"url\((?!#)", style[0])


def test_links_within_the_page_lead_somewhere(page):
    ids = [attributes["id"] for _, attributes in page.tags if "id" in attributes]
    assert len(ids) == len(set(ids))
    assert {attributes["href"][1:] for attributes in page.all("a")} <= set(ids)
    named = {w for _, attrs in page.tags for w in attrs.get("aria-labelledby", "").split()}
    assert named <= set(ids)


def test_headings_go_down_one_step_at_a_time(page):
    levels = [int(name[1]) for name, _ in page.tags if re.fullmatch(r"h[1-6]", name)]
    assert levels[0] == 1
    assert levels.count(1) == 1
    assert all(lower <= higher + 1 for higher, lower in pairwise(levels))


def test_every_table_has_a_caption_and_headings_with_a_direction(page):
    names = [name for name, _ in page.tags]
    assert names.count("table") == names.count("caption") > 0
    assert all(head.get("scope") in {"col", "row"} for head in page.all("th"))


def test_the_title_is_the_answer_in_words():
    plan = season(6)
    asked = f"{plan.target.animals:,} juveniles of 80 mm are ready by 31 October 2028"
    words = answer_written(plan).replace("\N{NO-BREAK SPACE}", " ")
    assert words == f"Eight in ten that {asked}"
    assert f"<h1>{answer_written(plan)}</h1>" in report(6)
    assert report(6).count("<title>" + answer_written(plan)) == 1


def test_an_ask_that_cannot_be_met_says_so_first_and_offers_others():
    plan = season(6, asked=target(1600))
    said = answer_written(plan)
    assert "not the 80 in 100 asked" in said or "not the eight in ten asked" in said
    text = Page(report(6, 1600)).text
    for offer in plan.offers:
        assert offer.kind.capitalize() in text
        assert offer.sentence in text
        assert f"{offer.expected:,.0f}" in text
    assert "What could be asked instead" not in Page(report(6)).text


def test_a_season_without_batches_says_that_nothing_is_planned():
    text = Page(report(0, 1200)).text
    assert answer_written(season(0, asked=target(1200))).startswith("No plan")
    assert "Nothing is planned" in text
    assert "There is no work to list." in text


def test_one_animal_is_not_spoken_of_as_many():
    plan = replace(season(1), target=target(1))
    assert "1 juvenile of 80" in answer_written(plan)
    assert "mm is ready" in answer_written(plan)


def test_the_numbers_of_the_answer_stand_on_the_page():
    plan, text = season(3), Page(report(3)).text
    assert f"{round(100 * plan.odds.value)} %" in text
    assert f"at least {100 * plan.odds.at_least:.1f} %" in text
    assert f"{100 * plan.odds.error:.1f} points" in text
    for number in (plan.expected, plan.p10, plan.p90):
        assert f"{number:.0f}" in text or f"{round(number, -1):,.0f}" in text


def test_the_work_and_every_batch_stand_on_the_page():
    text = Page(report(3)).text
    assert "Feed the larvae" in text
    assert "Change the water" in text
    assert "There is no work to list." not in text


def test_an_invented_hatchery_is_said_to_be_invented():
    assert "This hatchery is invented." in Page(report()).text
    plan = season(3)
    real = replace(plan, hatchery=replace(plan.hatchery, invented=False))
    assert "invented" not in season_report(real, (), PRINTED)


def test_what_people_typed_never_becomes_markup():
    plan = season(3, name=HOSTILE)
    room = replace(
        plan.hatchery,
        place=HOSTILE,
        species=HOSTILE,
        larval_tanks=tuple(replace(t, name=HOSTILE) for t in plan.hatchery.larval_tanks),
    )
    batches = tuple(
        replace(
            batch,
            tanks=tuple(replace(tank, kind=HOSTILE) for tank in batch.tanks),
            trays={HOSTILE: 3},
        )
        for batch in plan.batches
    )
    limits = tuple(
        replace(one, name=HOSTILE, unit=HOSTILE, sentence=HOSTILE) for one in plan.limits
    )
    values = tuple(
        replace(v, name=HOSTILE, unit=HOSTILE, conditions=HOSTILE, source=HOSTILE, place=HOSTILE)
        for v in plan.assumptions
    )
    hostile = replace(
        plan, hatchery=room, batches=batches, limits=limits, assumptions=values, notes=(HOSTILE,),
        binding_limit=HOSTILE,
    )  # fmt: skip
    tasks = [replace(task, what=HOSTILE, where=HOSTILE, amount=HOSTILE, why=HOSTILE, kind=HOSTILE)
             for task in chores(plan)[:300]]  # fmt: skip
    text = season_report(hostile, tasks, PRINTED)
    page = Page(text)
    names = {name for name, _ in page.tags}
    assert names.isdisjoint({"script", "img"})
    assert not [key for _, attrs in page.tags for key in attrs if key.startswith("on")]
    assert page.text.count(HOSTILE.split(">", maxsplit=1)[0]) > 20


def test_the_pictures_are_there_once_for_the_desk_and_once_for_the_phone():
    text = report(6)
    assert text.count('class="desk"') == 1
    assert text.count('class="phone"') == 1
    pictures = Page(text).all("svg")
    assert all(a.get("role") == "img" for a in pictures)
    assert len(pictures) == 2 + 1 + (1 + 2 + 1) + 6


def test_a_report_of_a_usual_season_stays_small():
    assert len(report(6).encode()) < 400_000


def test_the_binding_limit_stands_first_with_what_one_more_is_worth():
    text = Page(report(3)).text
    limits = text[text.index("What is scarce") :]
    assert limits.index("Nursery") < limits.index("Larval tanks") < limits.index("Permit")
    assert "holds back most" in limits
    assert "+3.1 points" in limits
    assert "not computed" in limits


def test_a_season_that_nothing_holds_back_says_so():
    free = replace(season(3), binding_limit="none")
    text = Page(season_report(free, (), PRINTED)).text
    assert "Nothing in the room holds this season back noticeably." in text
    assert "holds back most" not in text


def test_law_comes_first_among_the_cautions():
    text = Page(report()).text
    care = text[text.index("Take care This report") :]
    order = [care.index(word) for word in ("Permit and law", "diving", "Electricity", "Peroxide")]
    assert order == sorted(order)
    assert "licensed" in care


def test_the_families_behind_the_release_are_told_with_their_rules():
    plan, text = season(6), Page(report(6)).text
    assert f"at least {plan.hatchery.genetics.min_masses}" in text
    left = [b.released.mean / b.egg_masses for b in plan.batches for _ in range(b.egg_masses)]
    share = max(left) / sum(left)
    assert f"Largest share of one mass {100 * share:.0f} %" in text


def test_dates_are_written_out_and_thousands_are_separated():
    text = Page(report(6)).text
    assert f"{BY.day} October {BY.year}" in text
    assert "2028-10-31" not in text
    assert not re.findall(r"\b[1-9]\d{4,}\b", text)
