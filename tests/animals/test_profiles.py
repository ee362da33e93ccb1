"""Species profiles: complete, sourced, and honest about what is missing."""

import math
from importlib.resources import files

import pytest

from protoconch.animals.profiles import known_species, read_profile, species
from protoconch.errors import BadFile, MissingNumber, UnknownName
from protoconch.sources.reading import references

QUEEN = species("queen-conch")
EVERY = [
    "incubation.days",
    "incubation.reference_c",
    "incubation.q10",
    "incubation.hatch_share",
    "eggs.per_unit",
    "eggs.per_mm_strand",
    "veliger.hatch_length_um",
    "veliger.reference_c",
    "veliger.q10",
    "veliger.survival",
    "veliger.survival_days",
    "veliger.competence_spread",
    "veliger.competence_window_days",
    "veliger.longest_days",
    "veliger.density.day_0",
    "veliger.water_change_every_days",
    "settlement.metamorphosis_share",
    "settlement.larvae_per_cm2",
    "settlement.length_mm",
    "settlement.inducer_h",
    "settlement.peroxide_um",
    "post_larva.until_mm",
    "post_larva.growth_mm_d",
    "post_larva.survival",
    "small_juvenile.until_mm",
    "small_juvenile.growth_mm_d",
    "small_juvenile.survival",
    "juvenile.until_mm",
    "juvenile.growth_mm_d",
    "juvenile.survival",
    "growth.reference_c",
    "growth.q10",
    "growth.size_cv",
    "cover.factor",
    "cover.share_5_mm",
    "cover.share_20_mm",
    "cover.share_75_mm",
    "weight.a",
    "weight.b",
    "feed.to_20_mm",
    "feed.to_40_mm",
    "feed.to_80_mm",
    "sieve.hold_factor",
    "sieve.fast_factor",
    "variation.batch",
    "variation.tank",
    "variation.growth_site",
    "variation.growth_batch",
    "variation.metamorphosis",
    "loss.batch_share",
    "loss.tank_larval_share",
    "loss.tank_nursery_share",
    "water.anomaly_sd_c",
    "water.anomaly_day_correlation",
    "release.size_mm",
    "release.first_year_mortality",
    "release.second_year_mortality",
    "genetics.min_masses",
    "genetics.target_masses",
    "genetics.max_share",
    "genetics.min_effective",
    "limits.temperature_c",
    "spawn.least_temperature_c",
]
FED = [
    "veliger.density.day_4",
    "veliger.density.day_11",
    "veliger.ration.day_0",
    "veliger.ration.day_3",
    "veliger.ration.day_8",
    "veliger.ration.day_15",
]
NEVER_MISSING = [
    name for name in EVERY
    if name.split(".")[0] not in ("release", "spawn")
    and name not in ("eggs.per_mm_strand", "settlement.peroxide_um")
]  # fmt: skip


def profiles():
    return [species(key) for key in known_species()]


def test_four_species_are_known():
    assert known_species() == (
        "fighting-conch", "milk-conch", "queen-conch", "west-indian-top-shell",
    )  # fmt: skip


@pytest.mark.parametrize("key", known_species())
def test_each_profile_has_every_number_or_says_that_it_is_missing(key):
    profile = species(key)
    wanted = EVERY + (FED if profile.larvae_feed else [])
    assert [name for name in wanted if name not in profile.values] == []
    for value in profile.values.values():
        assert value.value is not None or value.missing, value.name


@pytest.mark.parametrize("key", known_species())
def test_each_profile_has_a_number_for_all_that_a_season_cannot_do_without(key):
    profile = species(key)
    assert all(math.isfinite(profile.number(name)) for name in NEVER_MISSING)


@pytest.mark.parametrize("key", known_species())
def test_each_regime_has_days_and_length_and_the_first_is_for_planning(key):
    profile = species(key)
    for regime in profile.regimes:
        assert profile.number(f"regime.{regime}.competence_days") > 0
        assert profile.number(f"regime.{regime}.competence_length_um") >= profile.number(
            "veliger.hatch_length_um"
        )


def test_the_queen_conch_is_planned_well_fed_and_keeps_the_published_trial():
    assert QUEEN.regimes == ("well_fed", "trial")
    days = QUEEN.value("regime.well_fed.competence_days")
    assert (days.number, days.low, days.high, days.confidence) == (21, 18, 24, "practice")
    trial = QUEEN.value("regime.trial.competence_days")
    assert (trial.number, trial.low, trial.high) == (27, 25, 29)
    assert trial.source == "brito-manzano-2004"


def test_the_queen_conch_borrows_nothing():
    assert not [v.name for v in QUEEN.values.values() if v.missing or v.borrowed_from]


def test_larval_survival_is_the_moments_of_the_six_published_months():
    """22, 34, 37, 38, 38, 20 %: Brito-Manzano & Aldana Aranda 2017."""
    months = [0.22, 0.34, 0.37, 0.38, 0.38, 0.20]
    mean = sum(months) / 6
    variance = sum((m - mean) ** 2 for m in months) / 5
    size = mean * (1 - mean) / variance - 1
    a, b = QUEEN.value("veliger.survival").beta
    assert a == pytest.approx(mean * size, abs=0.1)
    assert b == pytest.approx((1 - mean) * size, abs=0.1)


def test_the_spread_of_competence_follows_from_the_slowest_tenth():
    spread = QUEEN.value("veliger.competence_spread")
    for days_late, expected in ((4, spread.low), (5, spread.value), (6, spread.high)):
        assert math.log((27 + days_late) / 27) / 1.2816 == pytest.approx(expected, abs=0.005)


def test_rations_are_cells_of_a_small_flagellate_at_21_pg():
    cells = {0: 8000, 3: 15000, 8: 25000, 15: 35000}
    for day, per_ml in cells.items():
        ration = QUEEN.value(f"veliger.ration.day_{day}")
        assert ration.number == pytest.approx(per_ml * 21e-12 * 1e3 * 1e3)
        assert f"{per_ml // 1000} 000" in ration.conditions
    assert [day for day, _ in QUEEN.steps("veliger.ration")] == sorted(cells)


def test_the_default_growth_steps_take_the_435_days_that_the_notes_state():
    days = 28.0
    start = QUEEN.number("settlement.length_mm")
    for stage, end in (("post_larva", 5), ("small_juvenile", 20), ("juvenile", 75)):
        days += (end - start) / QUEEN.number(f"{stage}.growth_mm_d")
        start = end
    assert days == pytest.approx(435, abs=1)
    assert any("435 days" in note for note in QUEEN.notes)


@pytest.mark.parametrize(
    ("mm", "grams"), [(5, 0.009), (20, 0.76), (40, 7.0), (75, 52), (100, 131), (200, 1200)]
)
def test_live_weight_follows_the_common_sizes_it_is_anchored_on(mm, grams):
    """Common practice, no source: sizes and weights to which the placeholder was fitted."""
    weight = QUEEN.number("weight.a") * mm ** QUEEN.number("weight.b")
    assert weight == pytest.approx(grams, rel=0.02)


@pytest.mark.parametrize(
    ("mm", "per_m2"), [("5", 5000), ("20", 625), ("75", 89)]
)  # fmt: skip
def test_cover_shares_give_the_numbers_on_the_floor(mm, per_m2):
    """Common practice, no source."""
    share = QUEEN.number(f"cover.share_{mm}_mm")
    animals = share * 1e6 / (QUEEN.number("cover.factor") * float(mm) ** 2)
    assert animals == pytest.approx(per_m2, rel=0.01)


def test_milk_and_fighting_conch_grow_as_measured_against_the_queen_conch():
    """0.282, 0.215 and 0.213 mm/d after settling: Brownell 1977."""
    for key, rate in (("milk-conch", 0.282), ("fighting-conch", 0.215)):
        for stage in ("post_larva", "small_juvenile", "juvenile"):
            name = f"{stage}.growth_mm_d"
            ratio = species(key).number(name) / QUEEN.number(name)
            assert ratio == pytest.approx(rate / 0.213, rel=0.01)


def test_larvae_of_the_top_shell_are_not_fed_and_not_thinned():
    profile = species("west-indian-top-shell")
    assert not profile.larvae_feed
    assert profile.steps("veliger.ration") == ()
    assert len(profile.steps("veliger.density")) == 1
    days = profile.value("regime.yolk.competence_days")
    assert (days.low, days.high, days.source) == (3.5, 4.5, "bell-1992")
    assert profile.size_measure == "shell width"


@pytest.mark.parametrize("key", [key for key in known_species() if key != "queen-conch"])
def test_a_borrowed_number_is_the_lenders_and_counts_as_an_assumption(key):
    lent = [v for v in species(key).values.values() if v.borrowed_from]
    assert lent
    for value in lent:
        own = species(value.borrowed_from).value(value.name)
        assert (value.value, value.low, value.high, value.unit, value.beta) == (
            own.value, own.low, own.high, own.unit, own.beta,
        )  # fmt: skip
        assert (value.confidence, value.source) == ("assumption", own.source)
        assert value.missing


def test_a_number_that_nobody_lends_is_not_known_and_says_why():
    profile = species("west-indian-top-shell")
    assert profile.value("release.size_mm").value is None
    with pytest.raises(MissingNumber, match="no release size of this species was seen"):
        profile.number("release.size_mm")


def test_every_source_of_every_profile_is_in_the_list():
    for profile in profiles():
        assert {value.source for value in profile.values.values()} <= references().keys()


def test_what_was_not_read_in_a_publication_never_claims_to_be():
    for profile in profiles():
        for value in profile.values.values():
            if value.confidence == "read":
                assert references()[value.source].seen in ("read", "abstract"), value.name


def test_a_profile_is_read_once():
    assert species("queen-conch") is QUEEN


def test_an_unknown_species_is_named_with_the_nearest_and_the_list():
    with pytest.raises(UnknownName) as refusal:
        species("queen-conc")
    assert "Did you mean queen-conch?" in str(refusal.value)
    assert all(key in str(refusal.value) for key in known_species())


HEADER = """\
[species]
scientific_name = "Testa invented"
common_name = "trial snail"
size_measure = "shell length"
egg_unit = "egg mass"
larvae_feed = true
months = [4, 5]
months_source = "practice"
regimes = []
notes = []
"""


def faults(text):
    with pytest.raises(BadFile) as refusal:
        read_profile("trial", text, "trial.toml")
    return [(problem.line, problem.sentence) for problem in refusal.value.problems]


def test_a_small_profile_is_read():
    loan = '[growth.q10]\nmissing = "not seen"\nborrow = "queen-conch"\nunit = "1"\n'
    profile = read_profile("trial", HEADER + loan, "trial.toml")
    assert profile.months == (4, 5)
    assert profile.number("growth.q10") == QUEEN.number("growth.q10")


@pytest.mark.parametrize(
    ("old", "new", "line", "words"),
    [
        ("months = [4, 5]", "months = [0, 13]", 7, "laying months"),
        ("months = [4, 5]", "months = []", 7, "laying months"),
        ("months = [4, 5]", "", 1, "laying months"),
        ("larvae_feed = true", 'larvae_feed = "yes"', 6, "true or false"),
        ('"shell length"', '"shell height"', 4, "size_measure must be one of"),
        ('"practice"', '"practise"', 8, "Did you mean practice?"),
        ("regimes = []", 'regimes = ["rich"]', 9, "regime rich"),
        ("notes = []", "notes = 3", 10, "list of texts"),
        ("notes = []", "note = []", 10, "Did you mean notes?"),
        ('common_name = "trial snail"', "", 1, "common_name is empty"),
        ("[species]", "[specie]", 1, "needs a table [species]"),
    ],
)
def test_a_faulty_header_is_refused_at_its_line(old, new, line, words):
    found = faults(HEADER.replace(old, new))
    assert any(at == line and words in sentence for at, sentence in found), found


@pytest.mark.parametrize(
    ("name", "lender", "unit", "words"),
    [
        ("growth.q10", "queen-conc", "1", "Did you mean queen-conch?"),
        ("growth.q10", "trial", "1", "has no profile"),
        ("growth.q11", "queen-conch", "1", "no such number"),
        ("spawn.least_temperature_c", "milk-conch", "°C", "no such number of its own"),
        ("growth.q10", "milk-conch", "1", "no such number of its own"),
        ("growth.q10", "queen-conch", "d", "queen-conch has it in 1"),
    ],
)
def test_a_loan_that_cannot_be_had_is_refused(name, lender, unit, words):
    loan = f'[{name}]\nmissing = "not seen"\nborrow = "{lender}"\nunit = "{unit}"\n'
    assert [(line, words in s) for line, s in faults(HEADER + loan)] == [(13, True)]


def test_a_regime_with_days_must_be_listed():
    days = '[regime.rich.competence_days]\nvalue = 20\nunit = "d"\nsource = "practice"\n'
    found = faults(HEADER + days + 'confidence = "practice"\n')
    assert [line for line, _ in found] == [9]


def test_no_profile_names_a_species_file_that_is_not_there():
    folder = files("protoconch.sources").joinpath("species")
    assert {entry.name for entry in folder.iterdir()} == {f"{k}.toml" for k in known_species()}
