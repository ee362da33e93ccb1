"""The bench of the algae room as it is asked from outside: medium, and chlorine taken out."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from protoconch import calculations
from protoconch.algae.medium import known_media, medium
from protoconch.algae.sterilising import CHLORINE_CAUTIONS, thiosulfate_ratio
from protoconch.errors import BadInput, MissingInput

KEYS = {"medium": ("nitrate_um", "phosphate_um", "silicate_um"), "neutralise-chlorine": ("grams",)}


@pytest.mark.parametrize("name", list(KEYS))
def test_each_has_its_keys_its_sources_and_sentences(name: str) -> None:
    one = calculations.known()[name]
    assert tuple(result.key for result in one.results) == KEYS[name]
    assert one.sources
    assert all(given.sentence.endswith(".") for given in one.inputs)


@pytest.mark.parametrize("name", known_media())
def test_a_batch_tells_what_it_holds_and_the_stocks_that_go_into_it(name: str) -> None:
    answer = calculations.run("medium", {"name": name, "volume": "20 L"})
    batch = medium(name, 20)
    for key, content in batch.content_um.items():
        assert answer.result[f"{key}_um"] == pytest.approx(content)
    for key, poured in batch.stock_ml.items():
        assert answer.result[f"{key}_stock_ml"] == pytest.approx(poured)
    assert set(batch.cautions) <= set(answer.cautions)


def test_a_medium_that_is_not_named_is_f_half() -> None:
    named = calculations.run("medium", {"name": "f/2", "volume": 5}).result
    assert calculations.run("medium", {"volume": 5}).result == named


def test_a_cubic_metre_is_a_thousand_litres() -> None:
    by_metre = calculations.run("medium", {"volume": "0.2 m3"}).result
    assert by_metre == pytest.approx(calculations.run("medium", {"volume": 200}).result)


def test_chlorine_is_taken_out_by_the_usual_ratio_unless_another_is_given() -> None:
    usual = calculations.run("neutralise-chlorine", {"volume": 200, "chlorine": 2})
    least = thiosulfate_ratio("thiosulfate-pentahydrate")
    assert usual.result["grams"] == pytest.approx(0.4 * 1.5 * least)
    given_ratio = calculations.run(
        "neutralise-chlorine", {"volume": 200, "chlorine": 2, "ratio": least}
    )
    assert given_ratio.result["grams"] == pytest.approx(0.4 * least)


@given(
    st.floats(min_value=0.1, max_value=1e5),
    st.floats(min_value=0, max_value=100),
    st.sampled_from(["thiosulfate-pentahydrate", "thiosulfate-anhydrous"]),
)
def test_what_is_weighed_in_by_default_is_enough_and_never_of_no_use(
    volume: float, chlorine: float, product: str
) -> None:
    asked = {"volume": volume, "chlorine": chlorine, "product": product}
    answer = calculations.run("neutralise-chlorine", asked)
    grams = answer.result["grams"]
    assert grams is not None
    mg = volume * chlorine
    assert mg * thiosulfate_ratio(product) <= grams * 1000 * (1 + 1e-9)
    assert grams * 1000 <= mg * thiosulfate_ratio(product, "tetrathionate") * (1 + 1e-9)
    assert set(CHLORINE_CAUTIONS) <= set(answer.cautions)
    assert not any("ratio" in caution for caution in answer.cautions)


def test_a_ratio_too_low_or_too_high_is_said() -> None:
    asked = {"volume": 100, "chlorine": 1}
    low = calculations.run("neutralise-chlorine", {**asked, "ratio": 0.5})
    assert any("0.5 is less than the 0.875 that chlorine needs" in c for c in low.cautions)
    high = calculations.run("neutralise-chlorine", {**asked, "ratio": 8})
    assert any("8 is more than can be of use; 7 is the most" in c for c in high.cautions)


@pytest.mark.parametrize("wrong", [-1, 0, math.nan, "salty"])
def test_volumes_that_cannot_be_are_refused(wrong: float | str) -> None:
    for name, more in (("medium", {}), ("neutralise-chlorine", {"chlorine": 1})):
        with pytest.raises(BadInput, match=r"volume|Volume"):
            calculations.run(name, {"volume": wrong, **more})


def test_unknown_names_and_missing_numbers_are_refused() -> None:
    with pytest.raises(BadInput, match="f3"):
        calculations.run("medium", {"name": "f3", "volume": 20})
    with pytest.raises(BadInput, match="vitamin-c"):
        calculations.run(
            "neutralise-chlorine", {"volume": 1, "chlorine": 1, "product": "vitamin-c"}
        )
    with pytest.raises(MissingInput, match="chlorine"):
        calculations.run("neutralise-chlorine", {"volume": 1})
