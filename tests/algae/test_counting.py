"""How sure a count of cells is, how many more to count, and what stops the feeding."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from protoconch.algae.counting import (
    cells_for_precision,
    count_cv,
    culture_count,
    dilution_for,
    feed_verdict,
    more_cells,
)
from protoconch.bench.chambers import ChamberCount, chamber_count
from protoconch.errors import BadInput, UnknownName
from protoconch.sources.reading import load_catalogue

CORNERS = {"squares": 4, "square_area_mm2": 1.0, "depth_mm": 0.1}
CELLS = st.integers(min_value=1, max_value=5000)
FEW = st.integers(min_value=1, max_value=10)
NOTES = tuple(load_catalogue("algae_counting")["notes"])


def loadings(*cells: float, **more: float) -> list[ChamberCount]:
    return [chamber_count(n, **CORNERS, **more) for n in cells]


@pytest.mark.parametrize(
    ("more", "per_ml"),
    [
        ({}, 6.25e5),
        ({"fixative_share": 0.05}, 6.5625e5),
        ({"fixative_share": 0.05, "dilution": 10}, 6.5625e6),
        ({"dilution": 10}, 6.25e6),
    ],
)
def test_fixative_and_dilution_thin_the_sample_and_are_counted_back(
    more: dict[str, float], per_ml: float
) -> None:
    """250 cells in four squares of 1 mm² at 0.1 mm; geometry of the improved Neubauer chamber."""
    found = culture_count(loadings(250, **more), [250])
    assert found.per_ml == pytest.approx(per_ml, rel=1e-12)
    assert found.limits.low < per_ml < found.limits.high
    assert found.cv == pytest.approx(count_cv(250))


@given(CELLS, st.floats(min_value=1, max_value=100), st.floats(min_value=0, max_value=0.2))
def test_dilution_changes_the_density_but_not_how_sure_it_is(
    cells: int, dilution: float, fixative: float
) -> None:
    plain = culture_count(loadings(cells), [cells])
    thinned = culture_count(loadings(cells, dilution=dilution, fixative_share=fixative), [cells])
    factor = dilution * (1 + fixative)
    assert thinned.per_ml == pytest.approx(plain.per_ml * factor)
    assert thinned.cv == plain.cv
    assert thinned.limits.low == pytest.approx(plain.limits.low * factor)
    assert thinned.limits.high == pytest.approx(plain.limits.high * factor)


@given(CELLS, FEW, FEW)
def test_more_cells_chambers_or_samples_never_make_a_count_less_sure(
    cells: int, chambers: int, samples: int
) -> None:
    here = count_cv(cells, chambers, samples)
    assert count_cv(cells + 1, chambers, samples) < here
    assert count_cv(cells, chambers + 1, samples) < here
    assert count_cv(cells, chambers, samples + 1) < here
    assert count_cv(cells, chambers, samples, clumped=True) > here


def test_cells_alone_cannot_beat_the_pipette() -> None:
    assert count_cv(1e12, 1, 1) == pytest.approx(math.hypot(0.046, 0.047), rel=1e-6)


@given(CELLS, st.floats(min_value=0.06, max_value=0.5), FEW, FEW)
def test_after_counting_the_cells_still_to_count_the_limits_are_as_near_as_asked(
    counted: int, precision: float, chambers: int, samples: int
) -> None:
    more = more_cells(counted, precision, chambers=chambers, pipettings=samples)
    if more is None:
        assert 1.959963985 * count_cv(1e15, chambers, samples) > precision * (1 - 1e-9)
        return
    reach = 1.959963985 * count_cv(counted + more, chambers, samples)
    assert reach <= precision * (1 + 1e-9)
    if more > 0:
        assert 1.959963985 * count_cv(counted + more - 1, chambers, samples) > precision
    else:
        assert counted >= 1


def test_one_chamber_and_one_pipette_never_give_ten_in_a_hundred() -> None:
    assert more_cells(400, 0.10) is None
    assert more_cells(400, 0.1297) is not None
    assert more_cells(400, 0.20, chambers=2, pipettings=2) == 0
    # 92² / ((15 / 1.96)² - (4.6² + 4.7²) / 2) = 229.1 cells, of which 100 are counted.
    assert more_cells(100, 0.15, chambers=2, pipettings=2) == 130


@given(st.floats(min_value=0.01, max_value=1))
def test_clumped_cells_need_about_twice_the_counting(precision: float) -> None:
    plain, clumped = cells_for_precision(precision), cells_for_precision(precision, clumped=True)
    assert clumped == pytest.approx(1.96 * plain, abs=2)
    assert 1.959963985 / math.sqrt(plain) <= precision * (1 + 1e-6)


def test_two_loadings_that_agree_are_averaged_and_trusted() -> None:
    cells = [240, 260]
    found = culture_count(loadings(*cells), cells, samples=2)
    assert found.per_ml == pytest.approx(6.25e5)
    assert found.dispersion == pytest.approx((100 + 100) / 250)
    assert found.cv == pytest.approx(count_cv(500, 2, 2))
    assert found.recount == ""
    spread = math.exp(1.959963985 * math.sqrt(math.log1p(found.cv**2)))
    assert found.limits.low == pytest.approx(6.25e5 / spread)
    assert found.limits.high == pytest.approx(6.25e5 * spread)


def test_loadings_that_differ_more_than_chance_widen_the_limits_and_ask_for_a_recount() -> None:
    cells = [200, 300]
    found = culture_count(loadings(*cells), cells)
    assert found.dispersion == pytest.approx(20)
    assert found.cv == pytest.approx(count_cv(500, 2, 1) * math.sqrt(20))
    assert "differ by more than 25% of their mean: mix and count again" in found.recount


def test_cells_thrown_at_random_scatter_about_as_much_as_their_mean() -> None:
    """Index over its degrees of freedom, Elliott 1971; by hand (16 + 0 + 16)/220/2."""
    cells = [216, 220, 224]
    found = culture_count(loadings(*cells), cells, samples=3)
    assert found.dispersion == pytest.approx(32 / 220 / 2)
    wide = [180, 220, 260]
    worse = culture_count(loadings(*wide), wide, samples=3)
    assert worse.dispersion == pytest.approx(3200 / 220 / 2)
    assert worse.cv / found.cv == pytest.approx(math.sqrt(worse.dispersion))


def test_too_few_cells_ask_for_more_squares() -> None:
    assert "Fewer than 200 cells in a loading" in culture_count(loadings(199), [199]).recount
    one = culture_count(loadings(200), [200])
    assert one.recount == ""
    assert math.isnan(one.dispersion)


def test_counts_that_do_not_fit_are_refused() -> None:
    for counts, cells in (
        ([], []),
        (loadings(250), [250, 250]),
        (loadings(0), [0]),
        (loadings(250, 250), [-10, 510]),
        (loadings(250), [math.nan]),
    ):
        with pytest.raises(BadInput, match="at least one loading with cells in it"):
            culture_count(counts, cells)


@given(st.floats(min_value=1e3, max_value=1e9))
def test_a_dilution_brings_the_count_to_where_the_chamber_can_be_read(expected: float) -> None:
    """20 to 60 cells per 1 mm² square: 2 to 6 times 10⁵ in a Neubauer chamber."""
    dilution = dilution_for(expected)
    assert expected / dilution <= 4e5 * (1 + 1e-9)
    if dilution > 1:
        assert expected / dilution >= 2e5
        assert expected / (dilution - 1) > 4e5 * (1 - 1e-9)


@pytest.mark.parametrize("note", NOTES)
def test_whatever_was_seen_beside_the_alga_larvae_get_none_of_it(note: str) -> None:
    row = load_catalogue("algae_counting")["notes"][note]
    verdict = feed_verdict([note])
    assert not verdict.larvae
    assert verdict.post_larvae == row["post_larvae"]
    assert verdict.what_to_do == (f"{row['name'].capitalize()}: {row['what_to_do']}",)


@given(st.lists(st.sampled_from(NOTES), unique=True))
def test_a_second_finding_never_makes_a_culture_better(notes: list[str]) -> None:
    verdict = feed_verdict(notes)
    assert len(verdict.what_to_do) == len(notes)
    for note in notes:
        alone = feed_verdict([note])
        assert verdict.larvae <= alone.larvae
        assert verdict.post_larvae <= alone.post_larvae


def test_a_clean_young_culture_may_be_fed() -> None:
    verdict = feed_verdict([], age_d=9, age_limit_d=9, ph=9.5, tcbs_per_ml=100)
    assert verdict.larvae
    assert verdict.post_larvae
    assert verdict.what_to_do == ()


def test_an_old_culture_a_high_ph_or_vibrios_keep_it_from_larvae() -> None:
    old = feed_verdict([], age_d=10, age_limit_d=9)
    assert not old.larvae
    assert old.post_larvae
    assert old.what_to_do == ("It is 10 days old, past 9: not for larvae.",)
    base = feed_verdict([], ph=9.6)
    assert not base.larvae
    assert base.post_larvae
    assert "pH is 9.6" in base.what_to_do[0]
    vibrios = feed_verdict([], tcbs_per_ml=101)
    assert not vibrios.larvae
    assert not vibrios.post_larvae
    assert "discard it" in vibrios.what_to_do[0]


@pytest.mark.parametrize("name", ["age_d", "ph", "tcbs_per_ml"])
@pytest.mark.parametrize("wrong", [math.nan, math.inf, -1])
def test_what_is_no_number_never_passes_as_fit_to_feed(name: str, wrong: float) -> None:
    with pytest.raises(BadInput):
        feed_verdict([], **{name: wrong})
    assert not feed_verdict([], age_d=3, age_limit_d=math.nan).larvae


def test_an_unknown_note_is_refused_with_what_is_known() -> None:
    with pytest.raises(UnknownName, match=r"no note cilliates; there are .*Did you mean ciliates"):
        feed_verdict(["cilliates"])


@pytest.mark.parametrize("wrong", [0, -1, math.nan, math.inf])
def test_numbers_that_cannot_be_are_refused(wrong: float) -> None:
    for refuse in (
        lambda: count_cv(wrong),
        lambda: count_cv(100, wrong),  # type: ignore[arg-type]
        lambda: count_cv(100, 1, wrong),  # type: ignore[arg-type]
        lambda: cells_for_precision(wrong),
        lambda: more_cells(100, wrong),
        lambda: more_cells(100, 0.2, chambers=wrong),  # type: ignore[arg-type]
        lambda: more_cells(100, 0.2, pipettings=wrong),  # type: ignore[arg-type]
        lambda: dilution_for(wrong),
    ):
        with pytest.raises(BadInput):
            refuse()
    if wrong != 0:
        with pytest.raises(BadInput):
            more_cells(wrong, 0.2)
