"""What people type is read as they mean it, or refused in a sentence."""

import math
import subprocess
import sys

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from protoconch.errors import BadInput, WrongUnit
from protoconch.units import not_negative, positive, quantity, read, text
from protoconch.units.words import library_unit, table

SENSIBLE = st.floats(min_value=1e-3, max_value=1e9)


@pytest.mark.parametrize(
    ("typed", "unit", "value"),
    [
        (18, "L/min", 18),
        ("19", "L/min", 19),
        (np.int64(5), "L", 5),
        (np.float32(2.5), "L", 2.5),
        (" 75 mm ", "mm", 75),
        ("7.5cm", "mm", 75),
        ("3 in", "mm", 76.2),
        ("1-1/2 in", "mm", 38.1),
        ("1 1/2", "in", 1.5),
        ("3/4", "in", 0.75),
        ("85 °F", "°C", 29.4444),
        ("85 F", "°C", 29.4444),
        ("28 C", "°C", 28),
        ("301.15 K", "°C", 28),
        ("3 lb", "g", 1360.777),
        ("20 ‰", "psu", 20),
        ("35 ppt", "psu", 35),
        ("35 g/kg", "psu", 35),
        ("80 %", "1", 0.8),
        ("20 ‰", "1", 0.02),
        ("85 %", "% per cm", None),
        ("85 %/cm", "% per cm", 85),
        ("1e6 cells/mL", "cells/mL", 1e6),
        ("1e9 cells/L", "cells/mL", 1e6),
        ("4 million cells/mL", "cells/mL", 4e6),
        ("2 x 10^6 cells per mL", "cells/mL", 2e6),
        ("2×10⁶", "cells/mL", 2e6),
        ("10^6", "cells/mL", 1e6),
        ("10^-3 L", "mL", 1),
        ("10 L", "L", 10),
        ("12 thousand cells/mL", "cells/mL", 12_000),
        ("50 µM", "µM", 50),
        ("50 \u03bcM", "µM", 50),
        ("0.05 mmol/L", "µM", 50),
        ("2.35 meq/kg", "µmol/kg", 2350),
        ("0.7/day", "per day", 0.7),
        ("0.7 d-1", "/d", 0.7),
        ("2 mg/g/h", "mg/g/h", 2),
        ("2 µmol kg-1", "µmol/kg", 2),
        ("1 cm²", "mm2", 100),
        ("3 m^3", "L", 3000),
        ("3 %", "% w/v", 3),
        ("30 g/L", "% w/v", 3),
        ("2 ppm", "mg/L", 2),
        ("1 mg N/L", "mg/L", 1),
        ("100 larvae/L", "per L", 100),
        ("1200 animals", "1", 1200),
        ("-2 m", "m", -2),
        ("\u22122 m", "m", -2),
        ("+2", "m", 2),
        ("5'", "m", 1.524),
        ("5 litres", "L", 5),
        ("5 LITRES", "L", 5),
    ],
)
def test_what_is_typed_means_what_people_mean(
    typed: str | float, unit: str, value: float | None
) -> None:
    if value is None:
        with pytest.raises(WrongUnit):
            quantity(typed, unit, "light")
    else:
        assert quantity(typed, unit, "it") == pytest.approx(value, rel=1e-5)


@pytest.mark.parametrize(
    ("typed", "value"),
    [
        ("1,5", 1.5),
        ("1,25 L", 1.25),
        ("0,125", 0.125),
        (",5", 0.5),
        ("1,2345", 1.2345),
        ("1,200", 1200),
        ("12,500 L", 12500),
        ("1,200,000", 1.2e6),
        ("1,200.5", 1200.5),
        ("1.234,5", 1234.5),
        ("1.200.000", 1.2e6),
        ("1 200", 1200),
        ("1\u202f200 L", 1200),
        ("1 200,5", 1200.5),
        ("1'200", 1200),
        ("1.200", 1.2),
        ("1,5e3", 1500),
        ("5.", 5),
    ],
)
def test_a_comma_before_three_digits_parts_thousands_and_any_other_is_decimal(
    typed: str, value: float
) -> None:
    assert quantity(typed, "L", "tank") == value


def test_a_number_that_could_be_meant_in_two_ways_is_remarked() -> None:
    assert "1,200 is read as 1200" in read("1,200", "1", "wanted").notes[0]
    assert read("1,200.5", "1", "wanted").notes == ()
    assert read("1,5", "1", "wanted").notes == ()


@pytest.mark.parametrize(
    ("us", "imperial", "us_litres", "imperial_litres"),
    [
        ("US gal", "imp gal", 3.785411784, 4.54609),
        ("U.S. gallon", "UK gallons", 3.785411784, 4.54609),
        ("gal (US)", "imperial gal", 3.785411784, 4.54609),
        ("US fl oz", "imp. fl. oz.", 0.0295735295625, 0.0284130625),
        ("US fluid ounces", "British fluid ounce", 0.0295735295625, 0.0284130625),
        ("US pt", "UK pint", 0.473176473, 0.56826125),
        ("US quart", "imp qt", 0.946352946, 1.1365225),
    ],
)  # NIST Handbook 44 (2023) appendix C and UK Weights and Measures Act 1985, from memory
def test_us_and_imperial_measures_are_told_apart(
    us: str, imperial: str, us_litres: float, imperial_litres: float
) -> None:
    assert read(f"1 {us}", "L", "it").value == pytest.approx(us_litres, rel=1e-9)
    assert read(f"1 {imperial}", "L", "it").value == pytest.approx(imperial_litres, rel=1e-9)
    assert read(f"1 {us}", "L", "it").notes == read(f"1 {imperial}", "L", "it").notes == ()


@pytest.mark.parametrize("typed", ["18 gal/min", "18 gpm", "18 gallons per minute", "18 GPM"])
def test_a_bare_gallon_is_us_and_the_answer_says_so(typed: str) -> None:
    reading = read(typed, "L/min", "flow")
    assert reading.value == pytest.approx(18 * 3.785411784)
    assert len(reading.notes) == 1
    assert "US gallon" in reading.notes[0]


def test_a_unit_typed_as_it_was_asked_for_needs_no_remark() -> None:
    assert read("18 gal", "gal", "tank").notes == ()
    assert "US gallon" in read("18 gal", "US gal", "tank").notes[0]
    assert read("2 ppm", "mg/L", "chlorine").notes == ("ppm is read as mg/L.",)
    assert read("2 ppm", "1", "share").notes == ()
    assert read("2 mg/L", "µg/L", "chlorine").notes == ()


@pytest.mark.parametrize(
    ("typed", "unit", "words"),
    [
        ("", "L", ["Tank is empty", "12 L"]),
        ("   ", "L", ["empty"]),
        ("abc", "L", ["'abc'", "not a number"]),
        ("nan", "L", ["'nan'"]),
        ("inf L", "L", ["'inf L'"]),
        ("-inf", "L", ["not a number"]),
        (math.nan, "L", ["not finite"]),
        (math.inf, "L", ["not finite"]),
        ("1e999", "L", ["not finite"]),
        (10**400, "L", ["not finite"]),
        ("1e40", "L", ["more than there is"]),
        ("5-6 L", "L", ["not one number"]),
        ("5 6 L", "L", ["not a number"]),
        ("1.5.2", "L", ["not a number"]),
        ("12,34,5", "L", ["not a number"]),
        ("1/0", "in", ["not a number"]),
        ("9" * 100, "L", ["not a number"]),
        (True, "L", ["True"]),
        (None, "L", ["None"]),
        ([5], "L", ["[5]"]),
    ],
)
def test_what_is_no_number_is_refused_by_name_with_what_would_be_right(
    typed: str | float, unit: str, words: list[str]
) -> None:
    with pytest.raises(BadInput) as refused:
        quantity(typed, unit, "tank")
    sentence = str(refused.value)
    assert sentence.startswith("Tank is ")
    assert sentence.endswith(".")
    for word in words:
        assert word in sentence


@pytest.mark.parametrize(
    ("typed", "unit", "words"),
    [
        ("5 kg", "L", ["in kg", "something else", "give it in L"]),
        ("5 L", "1", ["without a unit"]),
        ("5 mm", "mm2", ["give it in mm2"]),
        ("5 furlong", "L", ["'furlong'", "not known", "give it in L"]),
        ("5 ML", "L", ["'ML'", "Did you mean mL?"]),
        ("5 Mm", "mm", ["'Mm'", "Did you mean mm?"]),
        ("5 litrs", "L", ["Did you mean litre"]),
        ("5 gall/min", "L/min", ["Did you mean gal"]),
        ("5 C", "L", ["'C'"]),
        ("35 ppt", "mg/L", ["something else"]),
        ("5 L/", "L", ["'L/'"]),
        ("5 m^9", "m", ["'m^9'"]),
    ],
)
def test_a_wrong_unit_is_refused_with_the_right_one(
    typed: str, unit: str, words: list[str]
) -> None:
    with pytest.raises(WrongUnit) as refused:
        quantity(typed, unit, "tank")
    for word in ["Tank is in", *words]:
        assert word in str(refused.value)


@given(st.text(max_size=80), st.sampled_from(["L", "1", "°C", "cells/mL", "psu", "% w/v", "in"]))
def test_no_text_ever_makes_anything_but_a_number_or_a_sentence(typed: str, unit: str) -> None:
    try:
        value = quantity(typed, unit, "tank")
    except BadInput as refused:
        assert str(refused).endswith((".", "?"))  # noqa: PT017
    else:
        assert math.isfinite(value)


@given(st.from_regex(r"[-+]?[0-9.,/ e^x]{1,12} ?[a-zµ%/²0-9]{0,8}", fullmatch=True))
def test_nearly_right_texts_do_not_break_it_either(typed: str) -> None:
    try:
        assert math.isfinite(quantity(typed, "L", "tank"))
    except BadInput as refused:
        assert str(refused)  # noqa: PT017


@given(st.floats(min_value=-1e15, max_value=1e15))
def test_a_number_written_out_by_python_comes_back_exactly(value: float) -> None:
    assert quantity(f"{value!r} L", "L", "tank") == value


@given(st.integers(min_value=0, max_value=10**15))
def test_thousands_apart_mean_the_same_number(value: int) -> None:
    assert quantity(f"{value:,}", "1", "animals") == value
    assert quantity(f"{value:,}".replace(",", " "), "1", "animals") == value


@given(st.floats(min_value=1e-6, max_value=1e14))
def test_what_the_program_writes_it_also_reads(value: float) -> None:
    assert quantity(text(value, "L"), "L", "tank") == pytest.approx(value, rel=5.1e-4)


@given(
    SENSIBLE,
    st.sampled_from(
        [
            ("L", "US gal"),
            ("L/min", "imp gal/h"),
            ("mm", "in"),
            ("°C", "°F"),
            ("g", "lb"),
            ("kPa", "psi"),
            ("cells/mL", "cells/L"),
            ("mm2", "ft2"),
            ("µM", "mmol/L"),
            ("per day", "per hour"),
            ("W", "hp"),
        ]
    ),
)
def test_there_and_back_is_the_same(value: float, units: tuple[str, str]) -> None:
    one, other = units
    there = quantity(f"{value!r} {one}", other, "it")
    assert quantity(f"{there!r} {other}", one, "it") == pytest.approx(value, rel=1e-9, abs=1e-9)


def test_every_word_of_the_table_is_a_unit() -> None:
    for word in table().keys() - {"1"}:
        assert quantity(f"2 {word}", word, "it") == 2
        assert library_unit(word) == table()[word]


@pytest.mark.parametrize(
    ("value", "unit", "written"),
    [
        (0, "L", "0 L"),
        (29891, "animals", "29,891 animals"),
        (1.8844, "L", "1.884 L"),
        (1.0, "1", "1"),
        (-2.5, "m", "-2.5 m"),
        (1234567.8, "L", "1,234,568 L"),
        (0.00012345, "g", "0.0001234 g"),
        (1e20, "cells", "1.000e+20 cells"),
        (6e-12, "1", "6.000e-12"),
    ],
)
def test_numbers_are_written_for_people(value: float, unit: str, written: str) -> None:
    assert text(value, unit) == written


@pytest.mark.parametrize("value", [0, -1, math.nan, math.inf])
def test_what_must_be_above_nothing_is_refused_at_and_below_it(value: float) -> None:
    with pytest.raises(BadInput, match=r"^Tank is .*more than 0\.$"):
        positive(value, "L", "tank")
    assert positive(0.1, "L", "tank") == 0.1


@pytest.mark.parametrize("value", [-0.1, math.nan, math.inf])
def test_what_may_be_nothing_is_refused_below_it(value: float) -> None:
    with pytest.raises(BadInput, match=r"0 or more\.$"):
        not_negative(value, "L", "tank")
    assert not_negative(0, "L", "tank") == 0


def test_a_number_in_the_unit_asked_for_does_not_load_the_units_library() -> None:
    code = (
        "import sys; from protoconch.units import quantity\n"
        "quantity('5 L', 'L', 'tank'); quantity('1e6 cells per mL', 'cells/mL', 'culture')\n"
        "sys.exit('pint' in sys.modules)"
    )
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0
