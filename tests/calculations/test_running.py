"""A calculation reads what was typed, tells every problem at once, and shows its sources."""

import doctest
import math
from collections.abc import Mapping

import pytest
from hypothesis import given
from hypothesis import strategies as st

from protoconch import calculations
from protoconch.calculations import Calculation, Found, Result, choice, number, numbers, pairs
from protoconch.calculations.declaration import Needed
from protoconch.errors import (
    BadInput,
    MissingInput,
    OutOfRange,
    ProtoconchError,
    UnknownName,
    WrongUnit,
)

RATION = {"tank": "500 L", "wanted": 20000, "present": 5000, "culture": "4e6"}


def _echo(
    flow: float,
    counts: tuple[float, ...],
    curve: tuple[tuple[float, float], ...],
    material: str,
    limit: float | None,
) -> Found:
    values = {
        "flow": flow,
        "highest": max(head for _, head in curve),
        "sum": sum(counts),
        "hours": limit,
        f"{material}_um": 1,
    }
    return Found(values, units={f"{material}_um": "µM"}, cautions=("Mind this.",), sources=("S2",))


EVERY_KIND = Calculation(
    name="every-kind",
    purpose="Shows every kind of input.",
    inputs=(
        number("flow", "L/min", "A flow.", above=0, high=1000),
        numbers("counts", "1", "Counts.", low=0, whole=True),
        pairs("curve", ("L/min", "m"), "A pump curve.", low=0),
        choice("material", ("pvc-sch40", "Copper"), "What it is made of.", default="pvc-sch40"),
        number("limit", "h", "A limit.", default=None, default_says="from the rest"),
    ),
    results=tuple(Result(key, "1", "It.") for key in ("flow", "highest", "sum", "hours")),
    function=_echo,
    sources=("S1",),
    cautions=("Mind that.",),
)
GOOD = {"flow": "10 imp gal/min", "counts": "1, 2,3", "curve": "0:12, 60 L/min:8 m"}


@pytest.fixture
def every_kind(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(calculations.running, "known", lambda: {"every-kind": EVERY_KIND})


@pytest.mark.usefixtures("every_kind")
class TestKinds:
    def test_numbers_lists_pairs_and_words_arrive_in_their_units(self) -> None:
        answer = calculations.run("every-kind", GOOD)
        assert answer.inputs["flow"] == pytest.approx(45.4609)
        assert answer.inputs["counts"] == (1, 2, 3)
        assert answer.inputs["curve"] == ((0, 12), (60, 8))
        assert answer.inputs["material"] == "pvc-sch40"
        assert answer.inputs["limit"] is None
        assert answer.result["highest"] == 12

    def test_a_result_that_does_not_exist_is_none_and_new_keys_bring_their_unit(self) -> None:
        answer = calculations.run("every-kind", GOOD)
        assert answer.result["hours"] is None
        assert answer.units["pvc-sch40_um"] == "µM"
        assert answer.units["sum"] == "1"
        assert set(answer.units) == set(answer.result)

    def test_sources_and_cautions_of_the_answer_join_those_of_the_calculation(self) -> None:
        answer = calculations.run("every-kind", GOOD | {"flow": "3 gal/min"})
        assert answer.source == ("S1", "S2")
        assert "US gallon" in answer.cautions[0]
        assert answer.cautions[1:] == ("Mind this.", "Mind that.")

    def test_a_bare_gallon_is_remarked_wherever_it_stands(self) -> None:
        answer = calculations.run("every-kind", GOOD | {"curve": "0:12, 3 gal/min:8"})
        assert "US gallon" in answer.cautions[0]

    @pytest.mark.parametrize(
        ("key", "typed", "arrives"),
        [
            ("counts", [1, "2", 3.0], (1, 2, 3)),
            ("counts", 7, (7,)),
            ("counts", "7", (7,)),
            ("counts", "1; 2; 3", (1, 2, 3)),
            ("curve", "0:12", ((0, 12),)),
            ("curve", [[0, 12], [60, "8 m"]], ((0, 12), (60, 8))),
            ("curve", "0,5:12; 1,5:8", ((0.5, 12), (1.5, 8))),
            ("curve", "0:10 ft", ((0, pytest.approx(3.048)),)),
            ("material", "COPPER", "Copper"),
            ("limit", "90 min", 1.5),
        ],
    )
    def test_every_way_of_typing_arrives(self, key: str, typed: object, arrives: object) -> None:
        assert calculations.run("every-kind", GOOD | {key: typed}).inputs[key] == arrives

    @pytest.mark.parametrize(
        ("key", "typed", "kind", "words"),
        [
            ("flow", [1, 2], BadInput, "Flow is a list; give one number"),
            ("flow", "0", BadInput, "Flow is 0 L/min; it must be more than 0 L/min"),
            ("flow", "1001", OutOfRange, "Flow is 1001 L/min, outside 0 to 1000 L/min"),
            ("flow", "5 kg", WrongUnit, "give it in L/min"),
            ("counts", "1,,2", BadInput, "Counts has an empty place"),
            ("counts", "", BadInput, "Counts has an empty place"),
            ("counts", [], BadInput, "Counts has an empty place"),
            ("counts", "1,2.5", BadInput, "Counts has 2.5; give whole numbers"),
            ("counts", "1,-2", OutOfRange, "Counts is -2"),
            ("curve", "0:12, 60", BadInput, "give pairs like 0:12, 60:8"),
            ("curve", "0:12:3", BadInput, "give pairs like"),
            ("curve", 5, BadInput, "give pairs like"),
            ("curve", "-1:5", OutOfRange, "Curve is -1 L/min"),
            ("curve", "0:-1", OutOfRange, "Curve is -1 m"),
            ("material", "coper", UnknownName, "did you mean Copper?.*pvc-sch40 and Copper"),
            ("material", 4, UnknownName, "Material '4' is not known"),
        ],
    )
    def test_what_does_not_fit_is_refused(
        self, key: str, typed: object, kind: type[BadInput], words: str
    ) -> None:
        with pytest.raises(kind, match=words):
            calculations.run("every-kind", GOOD | {key: typed})

    def test_a_result_that_is_no_number_is_never_shown(
        self, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        broken = Calculation("broken", "", (), (), lambda: Found({"x": math.nan}, {"x": "1"}), ())
        monkeypatch.setattr(calculations.running, "known", lambda: {"broken": broken})
        with pytest.raises(BadInput, match="no finite answer"):
            calculations.run("broken", {})


def test_the_example_of_the_package_is_true() -> None:
    assert doctest.testmod(calculations).attempted > 0
    assert doctest.testmod(calculations).failed == 0


def test_sizes_beyond_any_float_are_a_mistake_of_the_input() -> None:
    typed = {"wanted": 1, "survival": 1, "density": 1e-200, "tank": 1e-200}
    with pytest.raises(BadInput, match="no finite answer"):
        calculations.run("stocking", typed)


def test_a_number_may_stand_where_text_does() -> None:
    typed = calculations.run("ration", RATION)
    given_ = calculations.run("ration", RATION | {"tank": 500.0})
    assert typed.result == given_.result


def test_dashes_in_keys_are_read_as_the_underscores_they_stand_for() -> None:
    assert calculations.run("screen", {"shell-length": 300}).inputs == {"shell_length": 300}


def test_one_problem_keeps_its_kind() -> None:
    with pytest.raises(MissingInput, match=r"^ration needs tank \(L\) as well\.$"):
        calculations.run("ration", {"wanted": 2, "culture": 3})
    with pytest.raises(UnknownName, match="no input tnk; did you mean tank"):
        calculations.run("ration", RATION | {"tnk": 5})
    with pytest.raises(UnknownName, match="no calculation raton; did you mean ration"):
        calculations.run("raton", {})


def test_all_problems_are_told_together() -> None:
    with pytest.raises(BadInput) as refused:
        calculations.run("ration", {"tank": -3, "wanted": "x", "present": "5 kg", "tnk": 1})
    for words in ("input tnk", "Tank is -3", "'x'", "in kg", "needs culture (cells/mL)"):
        assert words in str(refused.value)


def test_a_share_typed_as_percent_gets_the_hint() -> None:
    typed = {"wanted": 1000, "survival": "85", "density": 100, "tank": 100}
    with pytest.raises(OutOfRange, match=r"Did you mean 0\.85 or 85 %"):
        calculations.run("stocking", typed)
    for survival, hinted in (("1.5", True), ("100", True), ("100.5", False)):
        with pytest.raises(OutOfRange) as refused:
            calculations.run("stocking", typed | {"survival": survival})
        assert ("Did you mean" in str(refused.value)) is hinted


def test_whole_results_stay_whole_and_others_are_plain_floats() -> None:
    found = calculations.run("breeders", {"contributions": "5,5"}).result
    assert [type(value) for value in found.values()] == [float, int, float]


def test_two_calculations_of_one_name_are_a_mistake_of_the_programmer(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    module = calculations.running.importlib.import_module("protoconch.calculations.feeding")
    monkeypatch.setattr(module, "CALCULATIONS", (EVERY_KIND, EVERY_KIND))
    with pytest.raises(ValueError, match="Two calculations are called every-kind"):
        calculations.running.known.__wrapped__()


NAMES = sorted(calculations.known())
TYPED = st.one_of(
    st.text(max_size=12),
    st.floats(),
    st.integers(min_value=-(10**6), max_value=10**6).map(str),
    st.lists(st.floats(), max_size=4),
)


@pytest.mark.parametrize("name", NAMES)
def test_every_calculation_says_what_it_is(name: str) -> None:
    one = calculations.calculation(name)
    for sentence in (one.purpose, *(given_.sentence for given_ in one.inputs)):
        assert sentence[0].isupper()
        assert sentence.endswith(".")
    assert all(result.sentence.endswith(".") for result in one.results)
    assert one.sources
    assert len({given_.key for given_ in one.inputs}) == len(one.inputs)


@pytest.mark.parametrize("name", NAMES)
@given(typed=st.data())
def test_no_input_makes_a_trace(name: str, typed: st.DataObject) -> None:
    one = calculations.calculation(name)
    values: Mapping[str, object] = {
        given_.key: typed.draw(TYPED | st.sampled_from(given_.choices or ("1",)))
        for given_ in one.inputs
        if isinstance(given_.default, Needed) or typed.draw(st.booleans())
    }
    try:
        answer = calculations.run(name, values)  # type: ignore[arg-type]
    except ProtoconchError as refused:
        assert str(refused)  # noqa: PT017
    else:
        assert all(value is None or math.isfinite(value) for value in answer.result.values())
        assert set(answer.units) == set(answer.result)
