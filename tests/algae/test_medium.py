"""Nutrients for cultures: what a batch holds, what goes into it, how the stocks are made."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from protoconch.algae.medium import known_media, medium, molarity_um, shopping_g, stock_recipe
from protoconch.errors import BadInput, UnknownName
from protoconch.sources.reading import load_catalogue

TABLE = load_catalogue("media")
STOCKS = tuple(TABLE["stocks"])
LITRES = st.floats(min_value=0.01, max_value=10_000)
MEDIA = st.sampled_from(known_media())


@pytest.mark.parametrize(
    ("nutrient", "micromolar"),
    [
        ("nitrate", 882), ("phosphate", 36.2), ("silicate", 106), ("iron", 11.7), ("edta", 11.7),
        ("manganese", 0.910), ("zinc", 0.0765), ("cobalt", 0.0420), ("copper", 0.0392),
        ("molybdate", 0.0260), ("thiamine", 0.296), ("biotin", 0.00205), ("b12", 0.000369),
    ],
)  # fmt: skip
def test_f_half_holds_what_guillard_gave_it(nutrient: str, micromolar: float) -> None:
    """Guillard & Ryther 1962, Guillard 1975; three digits."""
    assert float(f"{medium('f/2', 20).content_um[nutrient]:.3g}") == micromolar


def test_no_nutrient_of_f_half_is_left_untested() -> None:
    assert len(medium("f/2", 1).content_um) == 13


@pytest.mark.parametrize(
    ("name", "nitrate", "silicate"),
    [("f/2-without-silicate", 1, 0), ("f/2-double-silicate", 1, 2), ("f", 2, 2), ("f/4", 0.5, 0.5)],
)
def test_the_other_media_are_f_half_in_other_strengths(
    name: str, nitrate: float, silicate: float
) -> None:
    plain, other = medium("f/2", 10), medium(name, 10)
    for key, content in other.content_um.items():
        times = silicate if key == "silicate" else nitrate
        assert content == pytest.approx(times * plain.content_um[key])
    for key, poured in other.stock_ml.items():
        times = silicate if key == "silicate" else nitrate
        assert poured == pytest.approx(times * plain.stock_ml[key])


def test_a_litre_of_f_half_takes_a_millilitre_of_each_stock_and_half_of_vitamins() -> None:
    assert medium("f/2", 1).stock_ml == {
        "nitrate": 1, "phosphate": 1, "silicate": 1, "trace": 1, "vitamin": 0.5,
    }  # fmt: skip


@given(LITRES, MEDIA)
def test_what_is_weighed_in_is_what_the_batch_holds(litres: float, name: str) -> None:
    batch = medium(name, litres)
    for key, part in TABLE["components"].items():
        grams = batch.weighed_g.get(part["name"], 0.0)
        moles = batch.content_um[key] * litres / 1e6
        assert grams == pytest.approx(moles * part["molar_mass"].number)


@given(LITRES, MEDIA)
def test_the_stocks_poured_in_carry_what_the_batch_holds(litres: float, name: str) -> None:
    batch = medium(name, litres)
    for stock in STOCKS:
        recipe = stock_recipe(stock)
        for part in (p for p in TABLE["components"].values() if p["stock"] == stock):
            chemical = part["name"]
            by_primary = (
                recipe.primary_ml.get(chemical, 0) * recipe.primary_g.get(chemical, 0) / 100
            )
            g_l = recipe.weighed_g.get(chemical, 0) + by_primary
            carried = g_l * batch.stock_ml[stock] / 1000
            assert carried == pytest.approx(batch.weighed_g.get(chemical, 0.0))


@given(st.floats(min_value=0, max_value=5))
def test_silicate_is_counted_in_doses_of_f_half_whatever_the_strength(doses: float) -> None:
    plain = medium("f/2", 1).content_um["silicate"]
    for name in known_media():
        batch = medium(name, 1, silicate_doses=doses)
        assert batch.content_um["silicate"] == pytest.approx(doses * plain)
        assert batch.content_um["nitrate"] == medium(name, 1).content_um["nitrate"]


def test_silicate_is_warned_of_where_it_clouds() -> None:
    assert len(medium("f/2-without-silicate", 1).cautions) == 1
    some = medium("f/2", 1).cautions
    assert len(some) == 2
    assert "Silicate goes in last" in some[1]
    assert len(medium("f/2", 1, silicate_doses=3).cautions) == 2
    much = medium("f/2", 1, silicate_doses=3.5).cautions
    assert "More than 3 times the silicate of f/2 falls out" in much[2]


def test_a_thousand_litres_of_f_half_on_the_shopping_list() -> None:
    """Worked by hand from the recipe of Guillard 1975."""
    assert shopping_g({"f/2": 1000}) == pytest.approx({
        "sodium nitrate": 75, "sodium phosphate, monobasic, one water": 5,
        "sodium silicate, nine waters": 30, "iron(III) chloride, six waters": 3.15,
        "EDTA, disodium, two waters": 4.36, "manganese chloride, four waters": 0.18,
        "zinc sulfate, seven waters": 0.022, "cobalt chloride, six waters": 0.010,
        "copper sulfate, five waters": 0.0098, "sodium molybdate, two waters": 0.0063,
        "thiamine hydrochloride (B1)": 0.1, "biotin (H)": 0.0005, "cyanocobalamin (B12)": 0.0005,
    })  # fmt: skip


@given(st.dictionaries(MEDIA, LITRES))
def test_the_shopping_list_is_the_sum_of_the_batches(batches: dict[str, float]) -> None:
    bought = shopping_g(batches)
    weighed = sum(sum(medium(name, litres).weighed_g.values()) for name, litres in batches.items())
    assert sum(bought.values()) == pytest.approx(weighed)
    assert shopping_g({}) == {}
    if "sodium silicate, nine waters" in bought:
        assert set(batches) - {"f/2-without-silicate"}


def test_trace_metals_go_through_primary_stocks_and_nitrate_does_not() -> None:
    trace = stock_recipe("trace", 2)
    assert trace.weighed_g["iron(III) chloride, six waters"] == pytest.approx(6.30)
    assert trace.primary_ml["manganese chloride, four waters"] == 2
    assert trace.primary_g["manganese chloride, four waters"] == pytest.approx(18.0)
    assert "pH 4.5" in trace.how
    nitrate = stock_recipe("nitrate")
    assert nitrate.weighed_g == {"sodium nitrate": 75}
    assert nitrate.primary_ml == {}
    assert nitrate.name == "nitrate stock"


def test_other_hydrates_are_weighed_by_their_molar_mass() -> None:
    """IUPAC masses: NaH2PO4 119.98, its dihydrate 156.01; Na2SiO3.5H2O 212.14 g/mol."""
    hydrates = TABLE["hydrates"]
    assert hydrates["phosphate_anhydrous"].number == pytest.approx(119.98 / 137.99, abs=5e-4)
    assert hydrates["phosphate_dihydrate"].number == pytest.approx(156.01 / 137.99, abs=5e-4)
    assert hydrates["silicate_pentahydrate"].number == pytest.approx(212.14 / 284.20, abs=5e-4)


def test_unknown_media_and_stocks_are_refused_with_what_is_known() -> None:
    with pytest.raises(UnknownName, match=r"no medium f2; there are f/2, .*Did you mean f/2"):
        medium("f2", 20)
    with pytest.raises(UnknownName, match="no stock iron; there are nitrate, phosphate"):
        stock_recipe("iron")
    with pytest.raises(UnknownName, match="no medium broth"):
        shopping_g({"broth": 1})


@pytest.mark.parametrize("wrong", [-1, math.nan, math.inf])
def test_numbers_that_cannot_be_are_refused(wrong: float) -> None:
    for refuse in (
        lambda: medium("f/2", wrong),
        lambda: medium("f/2", 0),
        lambda: medium("f/2", 1, silicate_doses=wrong),
        lambda: stock_recipe("nitrate", wrong),
        lambda: molarity_um(75, wrong),
        lambda: molarity_um(wrong, 84.995),
    ):
        with pytest.raises(BadInput):
            refuse()
