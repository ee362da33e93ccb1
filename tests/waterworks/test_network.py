"""The flows that settle in a network of any shape."""

from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import brentq

from protoconch.errors import BadInput
from protoconch.waterworks.hydraulics.line import pipe_loss
from protoconch.waterworks.hydraulics.pipes import pipe_size
from protoconch.waterworks.hydraulics.pumps import PumpCurve
from protoconch.waterworks.network.drains import drain_flow_l_min
from protoconch.waterworks.network.parts import Drain, Network, Pipe, Place, Pump, Valve
from protoconch.waterworks.network.solving import imbalance, settled
from protoconch.waterworks.network.what_if import (
    Change,
    doses_mj_cm2,
    effect,
    loaded,
    shut,
    tank_flows_l_min,
    usual_changes,
)
from protoconch.waterworks.water import L_MIN_PER_M3_S
from tests.waterworks.made_up_networks import (
    CURVE,
    SEA_28,
    changed,
    generated,
    one_line,
    small,
)

GALLON = 3.785411784


@settings(max_examples=50)
@given(st.integers(3, 200), st.integers(0, 10**6))
def test_every_network_of_up_to_200_parts_settles_with_its_water_in_balance(
    parts: int, seed: int
) -> None:
    network = generated(parts, seed)
    found = settled(network)
    assert imbalance(network, found) < 1e-9
    assert found.residual_m < 1e-8
    assert found.steps < 60


@settings(max_examples=40)
@given(st.integers(3, 60), st.integers(0, 10**6))
def test_heads_fall_along_every_open_part_by_what_it_takes(parts: int, seed: int) -> None:
    network = generated(parts, seed)
    found = settled(network)
    for part in network.pressed:
        flow = found.flow_l_min[part.name]
        here, there = found.head_m[part.start], found.head_m[part.end]
        if not isinstance(part, Pipe) or part.shut or flow < 1 or here is None or there is None:
            continue
        lost = pipe_loss(flow, part.size, part.length_m, network.water).head_loss_m
        assert here - there >= lost - 1e-3


@settings(max_examples=30)
@given(st.floats(0.5, 60), st.sampled_from([0.5, 0.75, 1.0, 1.5, 2.0]), st.floats(0.0, 0.8))
def test_a_second_pipe_beside_the_main_never_lowers_the_total_flow(
    length: float, nominal: float, load: float
) -> None:
    """In meshes with several tanks a new link between any two joints can (Braess's paradox in
    pipes, Calvert & Keady 1993); beside the one main that carries all it cannot."""
    network = loaded(small(), "5 µm", load)
    beside = Pipe(
        name="beside", start="d", end="e", size=pipe_size("pvc-sch40", nominal), length_m=length
    )
    wider = replace(network, parts=(*network.parts, beside))
    before, after = settled(network), settled(wider)
    assert after.flow_l_min["pump"] > before.flow_l_min["pump"]
    assert sum(tank_flows_l_min(wider, after).values()) == pytest.approx(
        after.flow_l_min["pump"], rel=1e-9
    )


@given(st.floats(0.0, 0.9), st.floats(0.01, 0.09), st.sampled_from(["25 µm", "5 µm"]))
@settings(max_examples=25)
def test_flow_falls_and_dose_rises_as_any_cartridge_loads(
    now: float, more: float, name: str
) -> None:
    lighter, heavier = loaded(small(), name, now), loaded(small(), name, now + more)
    first, second = settled(lighter), settled(heavier)
    assert second.flow_l_min["pump"] < first.flow_l_min["pump"]
    for tank in ("larvae", "nursery"):
        assert tank_flows_l_min(heavier, second)[tank] < tank_flows_l_min(lighter, first)[tank]
    weak, strong = doses_mj_cm2(lighter, first)["lamp"], doses_mj_cm2(heavier, second)["lamp"]
    assert weak is not None
    assert strong is not None
    assert strong > weak


def test_more_loss_or_more_height_means_less_flow() -> None:
    flows = [settled(changed(small(), "lamp", k=k)).flow_l_min["pump"] for k in (3.0, 30.0, 300.0)]
    assert all(less < more for more, less in pairwise(flows))
    raised = replace(small(), places=tuple(
        replace(p, height_m=p.height_m + 3) if p.kind == "tank" else p for p in small().places
    ))  # fmt: skip
    assert settled(raised).flow_l_min["pump"] < flows[0]


def split(lengths: tuple[float, float]) -> tuple[float, float]:
    """Flow through two 1-inch pipes side by side, 15 US gal/min in all [US gal/min]."""
    size = pipe_size("pvc-sch40", 1)
    steep = PumpCurve(((15 * GALLON - 0.001, 1000), (15 * GALLON + 0.001, 1)))
    network = Network(
        (Place("sea", "sea", 0.0), Place("a", "joint", 0.0), Place("end", "drain", 0.0)),
        (
            Pump(name="pump", start="sea", end="a", curve=steep, inlet_height_m=0.0),
            Pipe(name="one", start="a", end="end", size=size, length_m=lengths[0]),
            Pipe(name="two", start="a", end="end", size=size, length_m=lengths[1]),
        ),
        SEA_28,
    )
    found = settled(network).flow_l_min
    return found["one"] / GALLON, found["two"] / GALLON


def test_water_shares_itself_over_two_ways_side_by_side() -> None:
    """Oracle 25, regression and analytic: 10 m and 30 m of 1 inch; equal legs halve it."""
    short, long = split((10, 30))
    assert short == pytest.approx(9.76, abs=0.05)
    assert long == pytest.approx(5.24, abs=0.05)
    assert split((20, 20)) == pytest.approx((7.5, 7.5), abs=1e-3)


def test_two_equal_ways_take_a_third_of_the_head_of_one() -> None:
    size = pipe_size("pvc-sch40", 1)
    one = pipe_loss(15 * GALLON, size, 20, SEA_28).head_loss_m
    half = pipe_loss(7.5 * GALLON, size, 20, SEA_28).head_loss_m
    assert half / one == pytest.approx(0.29, abs=0.01)


def test_a_line_without_branches_agrees_with_a_root_finder() -> None:
    network = one_line(1.25)
    pump, line = network.parts
    assert isinstance(pump, Pump)
    assert isinstance(line, Pipe)

    def spare(flow: float) -> float:
        lost = pipe_loss(flow, line.size, line.length_m, SEA_28).head_loss_m
        return pump.curve.head_m(flow) - lost - 0.2 * flow / L_MIN_PER_M3_S

    expected = brentq(spare, 1e-6, 80.0, xtol=1e-12)
    assert settled(network).flow_l_min["line"] == pytest.approx(expected, rel=1e-8)


def test_a_pump_straight_into_a_tank_settles_too() -> None:
    network = Network(
        (Place("sea", "sea", 0.0), Place("tank", "tank", 20.0)),
        (Pump(name="pump", start="sea", end="tank", curve=CURVE, inlet_height_m=0.0),),
        SEA_28,
    )
    flow = settled(network).flow_l_min["pump"]
    assert CURVE.head_m(flow) == pytest.approx(20.0, abs=1e-3)


def test_nothing_runs_where_the_pump_cannot_lift_so_high() -> None:
    network = Network(
        (Place("sea", "sea", 0.0), Place("tank", "tank", 40.0)),
        (Pump(name="pump", start="sea", end="tank", curve=CURVE, inlet_height_m=0.0),),
        SEA_28,
    )
    assert abs(settled(network).flow_l_min["pump"]) < 1e-3


def test_tanks_give_no_water_back() -> None:
    """With the pump off a high tank does not drain into a low one through the ring."""
    still = shut(small(), "pump")
    flows = tank_flows_l_min(still, settled(still))
    assert all(abs(flow) < 1e-3 for flow in flows.values())


def test_joints_without_open_water_stand_still_and_have_no_head() -> None:
    cut = shut(shut(small(), "pump"), "main")
    found = settled(cut)
    assert found.head_m["a"] is None
    assert found.flow_l_min["lamp"] == 0.0
    assert found.pressure_kpa(cut, "a") is None
    everything = cut
    for part in cut.parts:
        everything = shut(everything, part.name)
    assert settled(everything).steps == 0


def test_a_check_valve_holds() -> None:
    network = Network(
        (Place("high", "reservoir", 10.0), Place("low", "reservoir", 0.0)),
        (
            Pipe(name="up", start="low", end="high", size=pipe_size("pvc-sch40", 2), length_m=5,
                 check_valve=True),
        ),
        SEA_28,
    )  # fmt: skip
    assert abs(settled(network).flow_l_min["up"]) < 1e-3
    free = changed(network, "up", check_valve=False)
    assert settled(free).flow_l_min["up"] < -100


def test_names_that_cannot_be_told_apart_are_refused_together() -> None:
    place = Place("a", "joint", 0.0)
    line = Valve(name="v", start="a", end="b", size=pipe_size("pvc-sch40", 1), k=1.0)
    round_about = replace(line, end="a")
    with pytest.raises(BadInput) as refusal:
        Network((place, place), (line, round_about), SEA_28)
    for sentence in (
        "Two places are called a.",
        "Two parts are called v.",
        "v leads to b, but there is no such place.",
        "v starts and ends at a.",
    ):
        assert sentence in str(refusal.value)


def test_what_shutting_a_valve_does_is_told_tank_by_tank() -> None:
    network = small()
    found = effect(network, Change("larvae valve shuts", shut(network, "larvae valve")))
    assert found.losing == {"larvae": pytest.approx(1.0, abs=1e-6)}
    assert found.to_tanks_l_min[1] < found.to_tanks_l_min[0]
    before, after = found.doses_mj_cm2["lamp"]
    assert before is not None
    assert after is not None
    assert after > before


def test_opening_a_way_around_the_lamp_leaves_tanks_without_light() -> None:
    opened = shut(small(), "way around", closed=False)
    found = effect(small(), Change("way around opens", opened))
    assert found.without_light == ("larvae", "nursery")
    assert effect(small(), Change("nothing", small())).without_light == ()


def test_the_usual_changes_are_every_stage_due_every_pump_off_every_valve_turned() -> None:
    network = small()
    said = {change.what for change in usual_changes(network, settled(network))}
    assert said == {
        "pump stops", "25 µm is due for changing", "5 µm is due for changing", "way around opens",
        "larvae valve shuts", "nursery valve shuts",
    }  # fmt: skip


def test_only_cartridges_clog_and_only_known_parts_change() -> None:
    with pytest.raises(BadInput, match="main is no cartridge"):
        loaded(small(), "main", 0.5)
    with pytest.raises(BadInput, match="There is no part 'mane'; there are pump"):
        shut(small(), "mane")


def test_a_drain_carries_what_its_fall_drives() -> None:
    drain = Drain(
        name="drain", start="tank", end="pit", size=pipe_size("pvc-sch40", 1.5), length_m=10,
        fall_m=0.4,
    )  # fmt: skip
    flow = drain_flow_l_min(drain, SEA_28)
    lost = pipe_loss(flow, drain.size, 10, SEA_28, 1.5).head_loss_m
    assert lost == pytest.approx(0.4, abs=1e-6)
    steeper = drain_flow_l_min(replace(drain, fall_m=0.8), SEA_28)
    assert steeper > flow
    with pytest.raises(BadInput, match="The fall of drain"):
        drain_flow_l_min(replace(drain, fall_m=0.0), SEA_28)
