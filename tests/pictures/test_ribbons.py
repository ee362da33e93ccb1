"""The season's ribbons, for a desk and for a phone."""

import re
from dataclasses import replace
from datetime import date

import numpy as np
import pytest

from protoconch.pictures.key import KEY_NUMBERS
from protoconch.pictures.lettering import collisions
from protoconch.pictures.ribbon import Ribbon, spans
from protoconch.pictures.ribbons import season_ribbons
from protoconch.pictures.ribbons_phone import COLUMNS, phone_key, phone_ribbons, phone_room
from protoconch.pictures.scales import Thickness, TimeScale
from protoconch.pictures.season_words import ribbons_meaning
from protoconch.pictures.stages import LOOKS, patterns
from protoconch.pictures.words import about, counted
from protoconch.season.answer import STAGES, DailyBatch, Spread
from tests.pictures.invented import BY, FIRST_DAY, season
from tests.pictures.markup import corners, parsed

SIZES = (0, 1, 3, 6, 12)
TODAY = date(2027, 8, 3)


@pytest.fixture(scope="module", params=SIZES)
def plan(request):
    return season(request.param)


@pytest.fixture(scope="module")
def pictures(plan):
    return [
        season_ribbons(plan, TODAY),
        phone_key(plan),
        *phone_ribbons(plan, TODAY),
        phone_room(plan, TODAY),
    ]


def said(picture):
    return [label.words for label in picture.labels]


def test_every_picture_is_well_formed_and_says_what_it_is(pictures):
    for picture in pictures:
        root = parsed(picture.svg)
        assert root.get("role") == "img"
        assert root[0].text == picture.title
        assert root[1].text == picture.meaning
        assert picture.meaning.endswith(".")


def test_no_words_touch_each_other_or_leave_the_picture(pictures):
    for picture in pictures:
        assert collisions(picture.labels) == []
        for label in picture.labels:
            left, top, right, bottom = label.box
            assert left >= -1
            assert top >= -2
            assert right <= picture.width + 1
            assert bottom <= picture.height + 1


def test_names_within_a_page_are_unique(pictures):
    ids = [i for p in pictures for i in re.findall(r'\bid="([^"]+)"', p.svg)]
    assert len(ids) == len(set(ids))


def test_every_pattern_asked_for_is_defined_in_the_same_picture(pictures):
    for picture in pictures:
        used = set(re.findall(r"url\(#([^)]+)\)", picture.svg))
        assert used <= set(re.findall(r'\bid="([^"]+)"', picture.svg))


def test_every_batch_stands_with_its_numbers_where_they_matter(plan):
    words = said(season_ribbons(plan, TODAY))
    for batch in plan.batches:
        assert f"Batch {batch.code}" in words
        assert f"{about(batch.stocked.p50)} stocked" in words
        assert any(w.startswith(about(batch.settled.p50)) for w in words)
        assert about(batch.released.p50, 3) in words
        assert f"{about(batch.released.p10)} to {about(batch.released.p90)}" in words


def test_every_batch_stands_on_the_phone_with_the_same_numbers(plan):
    columns = phone_ribbons(plan, TODAY)
    assert len(columns) == -(-len(plan.batches) // COLUMNS)
    words = [w for picture in columns for w in said(picture)]
    for batch in plan.batches:
        assert f"Batch {batch.code}" in words
        assert f"V {about(batch.stocked.p50)}" in words
        assert any(about(batch.settled.p50) in w for w in words)
        assert about(batch.released.p50, 3) in words


def test_the_phone_picture_is_drawn_for_a_phone_not_shrunk(plan):
    for picture in (*phone_ribbons(plan), phone_room(plan)):
        assert picture.width <= 344
        assert picture.height > picture.width


def test_today_and_the_date_asked_are_marked(plan):
    words = said(season_ribbons(plan, TODAY))
    assert "today, 3 Aug 2027" in words
    assert any(w.startswith("asked: ") and "31 Oct 2028" in w for w in words)


@pytest.mark.parametrize("month", range(4, 13))
@pytest.mark.parametrize("day", [1, 7, 14, 20, 26])
def test_today_is_named_on_the_phone_on_any_day(month, day):
    today = date(2027, month, day)
    for picture in (*phone_ribbons(season(3), today), phone_room(season(3), today)):
        assert "today" in said(picture)
        assert collisions(picture.labels) == []


def test_the_lines_of_today_and_of_the_date_asked_lie_at_their_days():
    plan = season(3)
    parts = _drawn(plan, TODAY)
    months = [float(e.get("x1")) for e in parts if e.get("class") == "rule" and _upright(e)]
    first, per_day = months[0], (months[1] - months[0]) / 30  # April has 30 days
    (asked,) = [float(e.get("x1")) for e in parts if e.get("class") == "mark"]
    assert asked == pytest.approx(first + per_day * (BY - FIRST_DAY).days, abs=1.5)
    todays = [float(e.get("x1")) for e in parts if e.get("class") == "base" and _tall(e)]
    assert todays == [pytest.approx(first + per_day * (TODAY - FIRST_DAY).days, abs=1.5)]


def _upright(line):
    return line.get("x1") == line.get("x2") and _tall(line)


def _tall(line):
    return float(line.get("y2", 0)) - float(line.get("y1", 0)) > 300


def test_a_day_outside_the_season_draws_no_line(plan):
    words = said(season_ribbons(plan, date(2040, 1, 1)))
    assert not [w for w in words if w.startswith("today")]


def test_the_room_shows_every_limit(plan):
    words = said(season_ribbons(plan))
    tanks = sum(tank.count for tank in plan.hatchery.larval_tanks)
    for name in ("Larval tanks", "Tray floor", "Nursery floor", "Algae for larvae", "Work"):
        assert name in words
    assert f"limit {tanks}" in words
    assert f"limit {plan.hatchery.nursery_area_m2:g}" in words


def test_the_key_shows_four_thicknesses_a_tenfold_apart(plan):
    words = said(season_ribbons(plan))
    assert [counted(n) for n in KEY_NUMBERS] == ["100,000", "10,000", "1,000", "100"]
    assert {counted(n) for n in KEY_NUMBERS} <= set(words)


def test_an_empty_season_says_so():
    assert "no batch in this plan" in said(season_ribbons(season(0)))
    assert phone_ribbons(season(0)) == ()


def test_the_sentence_is_worked_out_from_the_numbers():
    few, many = season(3), season(12)
    assert "in 3 batches" in ribbons_meaning(few)
    assert "in 12 batches" in ribbons_meaning(many)
    stocked = sum(batch.stocked.mean for batch in many.batches)
    ready = sum(batch.released.mean for batch in many.batches)
    assert ready == pytest.approx(many.expected)
    assert f"Of {about(stocked)} larvae stocked" in ribbons_meaning(many)
    settled = sum(batch.settled.mean for batch in many.batches)
    assert f"on average {about(settled)} settle" in ribbons_meaning(many)
    assert f"{about(ready, 3)} are of the size asked" in ribbons_meaning(many)


@pytest.mark.parametrize(
    ("settled", "to_nursery", "released", "worst"),
    [
        (100.0, 90.0, 80.0, "stocking and settling"),
        (8000.0, 90.0, 80.0, "settling and the nursery"),
        (8000.0, 7000.0, 80.0, "the nursery and the date"),
    ],
)
def test_the_greatest_loss_is_found_between_the_right_stages(settled, to_nursery, released, worst):
    def all_alike(number):
        return Spread(number, number, number, number)

    plan = season(1)
    batch = replace(
        plan.batches[0],
        stocked=all_alike(9000.0),
        settled=all_alike(settled),
        to_nursery=all_alike(to_nursery),
        released=all_alike(released),
    )
    sentence = ribbons_meaning(replace(plan, batches=(batch,)))
    assert f"greatest loss lies between {worst}." in sentence


def test_a_skewed_batch_is_summed_by_its_mean():
    plan = season(1)
    skewed = replace(plan.batches[0], settled=Spread(0.0, 100.0, 9000.0, 3000.0))
    assert "on average 3,000 settle" in ribbons_meaning(replace(plan, batches=(skewed,)))


def test_stages_differ_by_letter_word_and_pattern():
    assert tuple(look.word for look in LOOKS) == STAGES
    assert len({look.letter for look in LOOKS}) == len(LOOKS)
    assert len({look.pattern for look in LOOKS}) == len(LOOKS)
    parsed(f"<svg>{patterns('p')}</svg>")


def _ribbon(alive, stage, *, down=False):
    alive = np.asarray(alive, dtype=float)
    batch = DailyBatch("A", alive, alive, alive, alive, alive, alive, np.asarray(stage, np.int8))
    time = TimeScale(FIRST_DAY, FIRST_DAY.replace(day=1 + len(alive)), 0.0, 10.0 * len(alive))
    return Ribbon(batch, FIRST_DAY, time, Thickness(10.0), 100.0, down)


def _middle(ribbon):
    root = parsed("<svg>" + "".join(ribbon.parts("p")) + "</svg>")
    return [corners(e.get("d")) for e in root if e.get("class") == "middle"]


def test_a_tenfold_loss_is_drawn_as_the_same_step_wherever_it_happens():
    (edge,) = _middle(_ribbon([1e5, 1e4, 1e3, 1e2], [1, 1, 2, 3]))
    heights = [100.0 - y for _, y in edge]
    assert heights == [40.0, 10.0]  # a straight line: every day the same step of ten pixels
    (edge,) = _middle(_ribbon([1e5, 1e5, 1e2, 1e2], [1, 1, 3, 3]))
    assert [100.0 - y for _, y in edge] == [40.0, 40.0, 10.0, 10.0]


def test_a_ribbon_that_runs_down_has_the_same_thickness():
    (edge,) = _middle(_ribbon([1e5, 1e5, 1e2, 1e2], [1, 1, 3, 3], down=True))
    assert [x - 100.0 for x, _ in edge] == [40.0, 40.0, 10.0, 10.0]


def test_each_tenfold_layer_ends_where_the_number_falls_below_it():
    parts = _ribbon([5e4, 5e4, 5e2, 5e2], [1, 1, 3, 3]).parts("p")
    root = parsed("<svg>" + "".join(parts) + "</svg>")
    layers = {e.get("y1"): e.get("x2") for e in root if e.get("class") == "tenfold"}
    assert set(layers) == {"90", "80", "70"}
    assert float(layers["90"]) > float(layers["80"]) == float(layers["70"])


def test_what_is_sure_likely_and_seldom_is_drawn_apart():
    plan = season(1)
    parts = _drawn(plan)
    classes = [e.get("class") for e in parts]
    for class_ in ("sure", "half", "few", "seldom", "middle"):
        assert class_ in classes


def _drawn(plan, today=None):
    return list(parsed(season_ribbons(plan, today).svg).iter())


def test_a_batch_that_may_be_lost_whole_has_no_sure_part():
    daily = season(1).forecast.batches[0]
    lost = DailyBatch(
        "A", np.zeros_like(daily.alive_p10), daily.alive_p50, daily.alive_p90,
        daily.length_p10, daily.length_p50, daily.length_p90, daily.stage,
    )  # fmt: skip
    time = TimeScale(FIRST_DAY, BY, 0, 900)
    parts = "".join(Ribbon(lost, FIRST_DAY, time, Thickness(9), 100).parts("p"))
    assert 'class="sure"' not in parts
    assert 'class="half"' in parts


def test_runs_of_a_stage_are_found():
    assert list(spans(np.array([-1, 0, 0, 1, -1, 2, 2]))) == [(1, 2), (3, 3), (5, 6)]
    assert list(spans(np.array([], dtype=int))) == []
