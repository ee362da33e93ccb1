"""The species grown as food, and how much of one stands in for another."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from protoconch.algae.species import Basis, alga, equivalent, known_algae, ration_basis
from protoconch.algae.weather import growth_at_per_d
from protoconch.errors import MissingNumber, UnknownName

SPECIES = st.sampled_from(known_algae())
BASES: tuple[Basis, ...] = ("dry", "organic", "volume")


def known_on(basis: Basis) -> list[str]:
    found = []
    for key in known_algae():
        try:
            alga(key).cell_mass_pg(basis)
        except MissingNumber:
            continue
        found.append(key)
    return found


def test_a_small_hatchery_has_flagellates_diatoms_and_films_to_choose_from() -> None:
    assert {"t-iso", "c-muelleri", "tetraselmis", "navicula"} <= set(known_algae())
    assert {alga(key).kind for key in known_algae()} == {
        "flagellate", "diatom", "film diatom", "other",
    }  # fmt: skip


def test_only_diatoms_are_given_silicate() -> None:
    for key in known_algae():
        one = alga(key)
        assert (one.silicate_doses > 0) == ("diatom" in one.kind)
        assert (one.medium == "f/2-without-silicate") == (one.silicate_doses == 0)


@pytest.mark.parametrize("key", known_algae())
def test_each_grows_as_the_table_says_where_it_is_warm_enough_and_not_at_the_ends(key: str) -> None:
    one = alga(key)
    ends = {name: one.number(name) for name in ("coldest_c", "best_c", "hottest_c")}
    most = one.number("growth_per_d")
    assert growth_at_per_d(ends["best_c"], most_per_d=most, **ends) == pytest.approx(most)
    assert growth_at_per_d(ends["coldest_c"], most_per_d=most, **ends) == 0
    assert growth_at_per_d(ends["hottest_c"], most_per_d=most, **ends) == 0


@pytest.mark.parametrize("key", known_algae())
def test_a_larger_vessel_is_harvested_thinner(key: str) -> None:
    vessels = ("flask", "bottle", "carboy", "column")
    densities = [alga(key).number(f"harvest_per_ml.{vessel}") for vessel in vessels]
    assert densities == sorted(densities, reverse=True)
    assert alga(key).number("start_per_ml") < densities[-1]


@pytest.mark.parametrize("basis", BASES)
def test_equivalents_of_one_basis_multiply_and_turn_round(basis: Basis) -> None:
    known = known_on(basis)
    assert len(known) > 5
    for first in known:
        assert equivalent(first, first, basis) == 1
        for second in known:
            there, back = equivalent(first, second, basis), equivalent(second, first, basis)
            assert there * back == pytest.approx(1)
            way_round = equivalent(first, "t-iso", basis) * equivalent("t-iso", second, basis)
            assert there == pytest.approx(way_round)


@pytest.mark.parametrize(
    ("key", "organic", "volume", "dry"),
    [
        ("tetraselmis", 9.3, 6.7, 5.7),
        ("c-calcitrans", 0.33, 0.78, 0.38),
        ("c-muelleri", 1.40, 1.78, 2.52),
        ("thalassiosira", 1.02, 1.00, 0.96),
    ],
)
def test_how_many_t_iso_a_cell_replaces(
    key: str, organic: float, volume: float, dry: float
) -> None:
    """Ratios of Creswell 2010, Table 1, and of Brown 1991 (from memory)."""
    assert equivalent(key, basis="organic") == pytest.approx(organic, abs=0.006)
    assert equivalent(key, basis="volume") == pytest.approx(volume, abs=0.04)
    assert equivalent(key, basis="dry") == pytest.approx(dry, abs=0.04)


def test_a_basis_that_is_not_known_is_never_borrowed_from_another() -> None:
    with pytest.raises(MissingNumber, match="no size was found"):
        equivalent("pavlova", basis="volume")
    with pytest.raises(MissingNumber, match="weigh it"):
        alga("navicula").cell_mass_pg("dry")


@pytest.mark.parametrize("key", known_algae())
def test_the_mass_of_the_rations_is_organic_for_every_species(key: str) -> None:
    """T-Iso 21.5 pg, Creswell 2010, SRAC 5004, Table 1; one basis for all that is fed."""
    one = alga(key)
    assert one.number("ration_pg") == one.cell_mass_pg("organic") == one.cell_mass_pg()
    assert alga("t-iso").number("ration_pg") == 21.5


def test_cells_are_compared_by_organic_mass_where_nothing_else_is_asked() -> None:
    basis, why = ration_basis()
    assert basis == "organic"
    assert "silica" in why
    for key in ("c-muelleri", "pavlova"):
        # by dry mass one cell would stand for more of T-Iso, and fewer cells would be fed
        assert equivalent(key) == equivalent(key, basis="organic") < equivalent(key, basis="dry")


def test_hardy_flagellates_are_drawn_from_and_diatoms_are_harvested_whole() -> None:
    assert alga("tetraselmis").drawn
    assert alga("t-iso").drawn
    assert not alga("c-muelleri").drawn
    assert not alga("navicula").drawn


def test_an_unknown_alga_number_or_basis_is_refused_with_what_is_known() -> None:
    with pytest.raises(UnknownName, match=r"no alga t-isso; there are t-iso.*Did you mean t-iso"):
        alga("t-isso")
    with pytest.raises(MissingNumber, match=r"has no number called colour; weigh or count it"):
        alga("t-iso").number("colour")
    with pytest.raises(UnknownName, match="wet is no basis; there are dry, organic, volume"):
        alga("t-iso").cell_mass_pg("wet")  # type: ignore[arg-type]


@given(SPECIES)
def test_every_number_of_a_species_names_its_source(key: str) -> None:
    for number in alga(key).numbers.values():
        assert number.source or number.missing
        assert number.unit
