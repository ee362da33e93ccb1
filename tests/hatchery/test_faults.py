"""The hatchery file: what is refused, line by line, in sentences."""

import pytest

from protoconch.errors import BadFile
from protoconch.hatchery.reading import read_hatchery
from tests.hatchery.typed import (
    DEMO,
    OWN,
    TEMPERATURES,
    changed,
    faults,
    hatchery_of,
    line_of,
)


def test_a_week_without_any_hours_is_refused():
    found = faults(changed(("= 9", "= 0"), ("sunday = 4", "sunday = 0")))
    assert found == [(line_of("[crew]"), "No weekday in [crew] has any hours of work.")]


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        ('volume = "400 L"', 'volume = "400 kg"', "measures something else"),
        ('volume = "400 L"', 'volume = "400 lirtes"', "Did you mean litres?"),
        ('volume = "400 L"', "volume = -400", "is -400 L, outside 1 to 50,000 L"),
        ('volume = "400 L"', "volume = 3_000_000", "is 3,000,000 L, outside 1 to 50,000 L"),
        ('volume = "400 L"', 'volume = "3 million L"', "outside 1 to 50,000 L"),
        ('volume = "400 L"', "volume = nan", "finite"),
        ('volume = "400 L"', f"volume = 1{'0' * 400}", "finite"),
        ('volume = "400 L"', "volume = [400]", "must be a number"),
        ('volume = "400 L"', "volume = true", "must be a number"),
        ('volume = "400 L"', 'volume = ""', "empty"),
        ('volume = "400 L"', 'volumes = "400 L"', "Did you mean volume?"),
        ("count = 6", "count = 0", "outside 1 to 500"),
        ("count = 6", "count = 1.5", "must be a whole number, not 1.5"),
        ("count = 6", 'count = "six"', "not a number"),
        ('name = "large"', "name = 3", "must be text"),
        ('name = "small"', 'name = "large"', "given twice"),
        ("places = 12", "places = 0", "outside 1 to 1,000"),
        ("places = 12", "palces = 12", "Did you mean places?"),
        ('size = "60 x 60 cm"', 'size = "60 x 60"', "must be two sides"),
        ('size = "60 x 60 cm"', 'size = "60 x 60 litres"', "measures something else"),
        ('size = "60 x 60 cm"', "size = 60", "must be two sides"),
        ('size = "60 x 60 cm"', 'size = "60 x 60 m"', "outside 50 to 100,000 cm2"),
        ('size = "60 x 60 cm"', 'diameter = "-50 cm"', "outside 50 to"),
        ('size = "60 x 60 cm"', 'diameter = "50 kg"', "measures something else"),
        ('size = "60 x 60 cm"', "diameter = [1]", "must be as in"),
        ('size = "60 x 60 cm"', 'area = 36\nsize = "6 x 6 cm"', "given twice"),
        ('dry_per_day = "20 g"', "dry_per_day = -1", "outside 0 to"),
        ("people = 2", "people = 0", "outside 1 to 500"),
        ("monday-friday = 9", "monday-friday = 60", "60 h of work for 2 people"),
        ("monday-friday = 9", "monday-friday = -1", "outside 0 to 48 h"),
        ("monday-friday = 9", 'monday-friday = "many"', "not a number"),
        ("monday-friday = 9", "monday-fryday = 9", "Did you mean Friday?"),
        ("saturday-sunday = 4", "friday-sunday = 4", "Friday is given twice"),
        ("egg_masses = 24", "egg_masses = 0", "outside 1 to 10,000"),
        ('"April to September"', '"Aprill"', "Did you mean April?"),
        ('"April to September"', '"May to July to June"', "not one range"),
        ('"April to September"', "[13]", '"13" is not a month'),
        ('"April to September"', "[0]", '"0" is not a month'),
        ('"April to September"', "[]", "months must be as in"),
        ('"April to September"', "[true]", "months must be as in"),
        ('number = "INVENTED-01"', 'number = ""', "number is empty"),
        ('max_share = "15 %"', "max_share = 15", "did you mean 0.15"),
        ("last_day = 2027-08-31", "last_day = 2027-03-31", "before first_day"),
        ("last_day = 2027-08-31", "last_day = 2028-08-31", "longer than a year"),
        ("last_day = 2027-08-31", 'last_day = "31 August"', "year-month-day"),
        ("last_day = 2027-08-31", 'last_day = "2027-02-31"', "year-month-day"),
        ("last_day = 2027-08-31", "last_day = 2027-08-31T00:00:00", "year-month-day"),
        ("last_day = 2027-08-31", "last_day = 0207-08-31", "in the year 207"),
        ("by = 2028-10-31", "by = 2026-10-31", "before the season has begun"),
        ("by = 2028-10-31", "by = 2027-04-01", "before the season has begun"),
        ("animals = 1200", "animals = 0", "outside 1 to"),
        ('size = "80 mm"', 'size = "80 m"', "outside 0.5 to 300 mm"),
        ('confidence = "80 %"', "confidence = 80", "did you mean 0.8, which is 80 %"),
        ('confidence = "80 %"', "confidence = 1", "outside 0.01 to 0.999"),
        ('species = "queen-conch"', 'species = "queen conch"', "Did you mean queen-conch?"),
        ('species = "queen-conch"', 'species = "periwinkle"', "there are fighting-conch"),
        ('regime = "well_fed"', 'regime = "wellfed"', "Did you mean well_fed?"),
        ("invented = true", 'invented = "yes"', "true or false"),
    ],
)
def test_each_fault_is_refused_at_the_line_that_was_typed(old, new, words):
    changed_line = DEMO[: DEMO.index(old)].count("\n") + 1 + new.count("\n")
    found = faults(changed((old, new)))
    assert any(line == changed_line and words in told for line, told in found), found


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ("280", "temperature of January is 280 °C, outside 5 to 40 °C; did you mean 28 °C"),
        ("-3", "outside 5 to 40 °C"),
        ('"28 kg"', "measures something else"),
        ('"warm"', "not a number"),
        ("true", "must be a number"),
    ],
)
def test_an_absurd_temperature_is_refused(typed, words):
    found = faults(changed(("temperature = [26.5", f"temperature = [{typed}")))
    assert [(line, words in told) for line, told in found] == [(line_of(TEMPERATURES), True)]


@pytest.mark.parametrize("typed", ["28", "[28, 29]", '"28"', "true", "[]"])
def test_temperatures_must_be_twelve(typed):
    found = faults(changed((TEMPERATURES, f"temperature = {typed}")))
    assert [(line, "12 values" in told) for line, told in found] == [(line_of(TEMPERATURES), True)]


REQUIRED = (
    "name", "place", "species", "temperature", "volume", "count", "places", "size", "dry_per_day",
    "saturday-sunday", "egg_masses", "months", "area", "number", "first_day", "last_day",
    "animals", "by", "confidence",
)  # fmt: skip


@pytest.mark.parametrize("key", REQUIRED)
def test_each_missing_value_is_named_and_the_section_shown(key):
    lines = DEMO.splitlines()
    at = next(i for i, line in enumerate(lines) if line.startswith(f"{key} ="))
    text = "\n".join(lines[:at] + lines[at + 1 :])
    assert any("missing" in told or "12 values" in told for _, told in faults(text))


@pytest.mark.parametrize(
    "section",
    ["hatchery", "water", "incubator", "algae", "crew", "permit", "season"],
)
def test_a_missing_section_is_one_fault(section):
    start = DEMO.index(f"[{section}]")
    end = DEMO.index("\n[", start) if "\n[" in DEMO[start:] else len(DEMO)
    assert faults(DEMO[:start] + DEMO[end:]) == [(1, f"The section [{section}] is missing.")]


@pytest.mark.parametrize("section", ["larval_tanks", "trays", "nursery"])
def test_a_missing_list_of_tanks_is_one_fault(section):
    text = DEMO.replace(f"[[{section}]]", f"[[wrong.{section}]]")
    assert (1, f"The section [[{section}]] is missing.") in faults(text)


def test_a_misspelt_section_is_shown_with_the_right_name():
    found = faults(changed(("[permit]", "[permitt]")))
    assert found[0] == (1, "The section [permit] is missing.")
    assert found[1][0] == line_of("[permit]")
    assert "Did you mean permit?" in found[1][1]


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        ('[[trays]]\nname = "tray"', '[trays]\nname = "tray"', "headed [[trays]]"),
        ("[incubator]", "[[incubator]]", "headed [incubator]"),
    ],
)
def test_the_wrong_kind_of_heading_is_explained(old, new, words):
    found = faults(changed((old, new)))
    assert any(words in told for _, told in found)


@pytest.mark.parametrize("typed", ["trays = [1, 2]", "trays = 3", 'trays = "two"'])
def test_a_list_of_tanks_must_be_headed_as_one(typed):
    start, end = DEMO.index("[[trays]]"), DEMO.index("[[nursery]]")
    found = faults(f"{typed}\n{DEMO[:start]}{DEMO[end:]}")
    assert found == [(1, "trays must be headed [[trays]], once for each kind.")]


@pytest.mark.parametrize("text", ["", "  \n\n", "\t"])
def test_an_empty_file_is_said_to_be_empty(text):
    assert faults(text) == [(1, "The file is empty; it begins with [hatchery].")]


def test_a_slip_of_syntax_is_shown_at_its_line():
    found = faults(changed(("[water]", "[water")))
    assert [(line, "not valid TOML" in told) for line, told in found] == [(line_of("[water"), True)]


def test_all_faults_are_told_at_once_in_the_order_of_the_lines():
    text = changed(
        ("queen-conch", "queen"), ("28.2", "282"), ("count = 6", "count = -6"),
        ("= 9", "= 99"), ("months", "month"), ("2027-08-31", "2026-08-31"), ("animals", "animal"),
    )  # fmt: skip
    lines = [line for line, _ in faults(text)]
    assert len(lines) >= 9
    assert lines == sorted(lines)


def test_each_fault_is_one_whole_sentence_with_file_and_line():
    text = changed(("28.2", "282"), ("count = 6", "count = -6"), ("months", "month"))
    with pytest.raises(BadFile) as refusal:
        read_hatchery(text, "mine.toml")
    for told in str(refusal.value).splitlines():
        assert told.startswith("mine.toml, line ")
        assert told.endswith((".", "?", "]."))


def test_a_sentence_says_what_is_wrong_and_what_would_be_right():
    text = changed(('volume = "400 L"', "volume = 3_000_000"), ("places = 12", "place = 12"))
    assert [told for _, told in faults(text)] == [
        "Volume of one larval tank is 3,000,000 L, outside 1 to 50,000 L.",
        "places is missing in [incubator]; for example places = 12.",
        "place is not known in [incubator]. Did you mean places?",
    ]


def test_a_season_outside_the_permit_is_refused():
    found = faults(changed(('"April to September"', '"October to March"')))
    assert [(line, "lies in a month of the permit" in told) for line, told in found] == [
        (line_of("first_day ="), True)
    ]


@pytest.mark.parametrize(
    ("months", "allowed"),
    [("October", False), ("November", True), ("January", True), ("February", True),
     ("March", False)],
)  # fmt: skip
def test_a_season_over_new_year_needs_one_of_its_months_in_the_permit(months, allowed):
    winter = [
        ("2027-04-01", "2027-11-15"), ("2027-08-31", "2028-02-15"),
        ('"April to September"', f'"{months}"'),
    ]  # fmt: skip
    if allowed:
        assert len(hatchery_of(*winter).permit.months) == 1
    else:
        assert ["lies in a month" in told for _, told in faults(changed(*winter))] == [True]


@pytest.mark.parametrize(
    ("own", "words"),
    [
        (OWN.replace("survival", "survivel"), "Did you mean veliger.survival?"),
        (OWN.replace('unit = "1"', 'unit = "mm"'), 'must be "1"'),
        (OWN.replace("value = 0.4", "value = 0.9"), "outside 0.2 to 0.6"),
        (OWN.replace('unit = "1"', ""), "has no unit"),
        (OWN + OWN.replace('"veliger.survival"', "veliger.survival"), "given twice"),
        ("\n[own]\nsurvival = 0.4\n", "must be a table"),
    ],
)
def test_a_faulty_own_number_is_refused(own, words):
    assert any(words in told for _, told in faults(DEMO + own))


def test_a_key_that_nobody_reads_is_refused_with_what_may_stand_there():
    found = faults(changed(("places = 12", "places = 12\ncolour = 3")))
    assert found == [
        (line_of("places") + 1, "colour is not known in [incubator]. It may hold places.")
    ]
