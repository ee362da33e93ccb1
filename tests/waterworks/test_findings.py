"""Each fault of a waterworks gives its finding, and a sound one gives none."""

from dataclasses import replace
from datetime import date

import pytest

from protoconch.waterworks.assessment import Assessment, assessment
from protoconch.waterworks.description import LoopPlan, StoreKeeping, Waterworks
from protoconch.waterworks.findings.finding import WEIGHTS, Finding, ranked
from protoconch.waterworks.hydraulics.pipes import pipe_size
from protoconch.waterworks.hydraulics.pumps import PumpCurve
from protoconch.waterworks.network.parts import Drain, Fixture, Network, Pipe, Place, Valve
from protoconch.waterworks.network.what_if import shut
from protoconch.waterworks.outage.order import StockedTank
from protoconch.waterworks.outage.power import Load
from protoconch.waterworks.storage.reservoir import Store
from protoconch.waterworks.treatment.cartridges import stage
from protoconch.waterworks.treatment.uv import Lamp
from tests.waterworks.made_up_networks import changed, one_line, small

DAY = date(2027, 6, 1)


def judged(network: Network, **more: object) -> Assessment:
    return assessment(Waterworks(network, **more), first=DAY)  # type: ignore[arg-type]


def about(seen: Assessment, subject: str) -> list[Finding]:
    return [finding for finding in seen.findings if finding.subject == subject]


def test_a_sound_waterworks_has_nothing_to_put_right() -> None:
    seen = judged(small())
    assert [f for f in seen.findings if f.weight in ("danger", "fault")] == []


@pytest.mark.parametrize("gallons", [15, 20])
def test_one_inch_pipe_at_15_to_20_gallons_is_too_fast_and_the_next_size_is_named(
    gallons: float,
) -> None:
    flow = gallons * 3.785411784
    network = one_line(1, length=3.0, flow_l_min=flow)
    seen = judged(network)
    assert seen.solution.flow_l_min["line"] == pytest.approx(flow, rel=0.2)
    (finding,) = about(seen, "water too fast")
    assert finding.where == "line"
    assert "1-inch" in finding.what
    assert "1¼-inch" in finding.remedy
    assert about(judged(one_line(1.5, length=3.0, flow_l_min=flow)), "water too fast") == []


def test_an_open_way_around_the_lamp_is_a_danger_and_names_its_valve() -> None:
    (finding,) = about(judged(changed(small(), "way around", shut=False)), "way around the UV")
    assert (finding.weight, finding.where) == ("danger", "way around")
    (closed,) = about(judged(small()), "way around the UV")
    assert (closed.weight, closed.where) == ("weakness", "way around")
    without = replace(small(), parts=tuple(p for p in small().parts if p.name != "way around"))
    assert about(judged(without), "way around the UV") == []


def test_a_copper_fitting_is_a_danger_and_says_how_soon_it_harms() -> None:
    gauge = Fixture("gauge", "main", "brass", 20.0)
    seen = judged(replace(small(), fixtures=(gauge,)))
    (finding,) = about(seen, "material")
    assert finding.weight == "danger"
    assert "20 cm² of it in 500 L" in finding.what
    assert "2.3 days" in finding.what
    assert "PVC" in finding.remedy
    copper_main = changed(small(), "main", material="copper")
    assert about(judged(copper_main), "material")[0].where == "main"


def test_steel_is_for_the_dry_side_and_an_unknown_stuff_is_asked_about() -> None:
    steel = judged(replace(small(), fixtures=(Fixture("clamp", "main", "316", 5.0),)))
    assert about(steel, "material")[0].weight == "fault"
    odd = judged(replace(small(), fixtures=(Fixture("knob", "main", "unobtainium", 5.0),)))
    assert about(odd, "material not known")[0].weight == "weakness"
    zinc = judged(replace(small(), fixtures=(Fixture("clip", "main", "galvanized", 100.0),)))
    assert "2.4 days" in about(zinc, "material")[0].what


def test_a_tank_that_no_way_leads_to_is_a_danger() -> None:
    lost = replace(small(), places=(*small().places, Place("quarantine", "tank", 1.0)))
    (finding,) = about(judged(lost), "tank not reached")
    assert (finding.weight, finding.where) == ("danger", "quarantine")
    turned = changed(small(), "main", start="e", end="d", check_valve=True)
    assert {f.where for f in about(judged(turned), "tank not reached")} == {"larvae", "nursery"}


def test_a_tank_behind_a_shut_valve_and_one_left_out_are_told() -> None:
    closed = judged(shut(small(), "larvae valve"))
    assert about(closed, "tank shut off")[0].where == "larvae"
    assert about(closed, "no flow")[0].where == "larvae"
    seen = assessment(Waterworks(small()), first=DAY, expected_tanks=("larvae", "trays"))
    assert about(seen, "tank left out")[0].where == "trays"


def test_a_pump_below_its_curve_beyond_it_or_without_flow_is_told() -> None:
    throttled = changed(changed(small(), "larvae valve", k=40_000), "nursery valve", k=90_000)
    (below,) = about(judged(throttled), "below the pump's curve")
    assert "20 L/min" in below.what
    wide = changed(changed(small(), "larvae valve", k=1), "nursery valve", k=1)
    short = changed(wide, "pump", curve=PumpCurve(((20, 22), (50, 20), (60, 19))))
    assert about(judged(short), "beyond the pump's curve")
    high = replace(small(), places=tuple(
        replace(p, height_m=40.0) if p.kind == "tank" else p for p in small().places
    ))  # fmt: skip
    assert about(judged(high), "pump without flow")[0].weight == "danger"


def test_a_pump_that_lifts_too_high_on_its_suction_side_is_told() -> None:
    high = changed(small(), "pump", inlet_height_m=8.0)
    (finding,) = about(judged(high), "suction too high")
    assert "6.0 m" in finding.what


def test_a_dead_end_and_a_loose_joint_are_told() -> None:
    size = pipe_size("pvc-sch40", 1)
    stub = Pipe(name="stub", start="e", end="cap", size=size, length_m=2)
    network = Network(
        (*small().places, Place("cap", "joint", 1.0), Place("nowhere", "joint", 1.0)),
        (*small().parts, stub), small().water,
    )  # fmt: skip
    seen = judged(network)
    assert about(seen, "dead end")[0].where == "cap"
    assert about(seen, "loose joint")[0].where == "nowhere"


def test_cartridges_full_giving_way_too_few_and_out_of_order_are_told() -> None:
    full = changed(small(), "5 µm", stage=replace(stage(5, 4), loaded=0.985))
    assert about(judged(full), "cartridge full")[0].where == "5 µm"
    strong = PumpCurve(((20, 60), (50, 55), (80, 40), (110, 20)))
    bursting = changed(full, "pump", curve=strong)
    bursting = changed(bursting, "5 µm", stage=replace(stage(5, 4), loaded=0.99))
    assert about(judged(bursting), "cartridge giving way")[0].weight == "danger"
    few = changed(small(), "25 µm", stage=stage(25, 1))
    assert about(judged(few), "too few cartridges")[0].where == "25 µm"
    turned = changed(changed(small(), "25 µm", stage=stage(1, 8)), "5 µm", stage=stage(50, 4))
    (order,) = about(judged(turned), "cartridges out of order")
    assert order.where == "5 µm"


def test_a_lamp_that_is_dark_dry_old_weak_or_too_early_is_told() -> None:
    assert about(judged(changed(small(), "lamp", burning=False)), "lamp out")
    assert about(judged(shut(small(), "pump")), "lamp without flow")
    assert about(judged(changed(small(), "lamp", lamp_hours=9500)), "lamp old")
    weak = judged(changed(small(), "lamp", lamp=Lamp(8, 20, 75, 0.8, 0.7, 0.7)))
    (low,) = about(weak, "UV dose low")
    assert "Slow the flow to" in low.remedy
    early = replace(small(), parts=tuple(
        replace(p, start="b", end="c") if p.name in ("lamp", "way around")
        else replace(p, start="c", end="d") if p.name == "5 µm" else p for p in small().parts
    ))  # fmt: skip
    assert about(judged(early), "UV before a cartridge")[0].where == "lamp"


def test_parts_that_a_dead_headed_pump_could_burst_are_told() -> None:
    soft = changed(small(), "5 µm", rating_kpa=300.0)
    (finding,) = about(judged(soft), "pressure")
    assert (finding.weight, finding.where) == ("danger", "5 µm")
    quick = changed(small(), "larvae valve", quick=True)
    assert about(judged(quick), "pressure blow")[0].where == "larvae valve"


def test_a_drain_that_cannot_keep_up_is_a_danger() -> None:
    drain = Drain(name="drain", start="nursery", end="pit", size=pipe_size("pvc-sch40", 0.5),
                  length_m=10, fall_m=0.1)  # fmt: skip
    network = Network(
        (*small().places, Place("pit", "drain", 0.0)), (*small().parts, drain), small().water
    )
    assert about(judged(network), "drain too small")[0].weight == "danger"


def test_too_little_water_and_water_below_air_pressure_are_told() -> None:
    greedy = replace(small(), places=tuple(
        replace(p, wanted_l_min=80.0) if p.name == "larvae" else p for p in small().places
    ))  # fmt: skip
    assert "80 L/min" in about(judged(greedy), "too little flow")[0].what
    lifted = replace(small(), places=tuple(
        replace(p, height_m=25.0) if p.name == "e" else p for p in small().places
    ))  # fmt: skip
    assert about(judged(lifted), "below air pressure")[0].where == "e"


KEEPING = StoreKeeping("store", Store(18_000, 9_000, 25, 0.2, 0.1), 700.0, 7, 2, 4_000, "pump")


def test_a_store_too_small_or_running_dry_is_told() -> None:
    seen = judged(small(), keeping=KEEPING)
    (finding,) = about(seen, "store too small")
    assert "2 missed" in finding.what
    dry = replace(KEEPING, store=replace(KEEPING.store, level_l=2_000))
    assert about(judged(small(), keeping=dry), "store runs dry")[0].weight == "danger"
    ample = replace(KEEPING, missed_fills=0)
    assert about(judged(small(), keeping=ample), "store too small") == []
    assert seen.store is not None
    assert seen.store.fill.by is not None
    assert about(seen, "minutes a day")


LOOP = LoopPlan("loop", 2000, 200, 0.35, 27, 35, 0.2, 20, 70, 4600, 330, 200, 20)


def test_a_loop_that_lacks_medium_flow_water_or_air_is_told() -> None:
    enough = judged(small(), loops=(LOOP,))
    assert [f for f in enough.findings if f.where == "loop" and f.weight != "note"] == []
    poor = replace(LOOP, medium_m2=20, flow_l_h=1000, exchange_l_day=50, aeration_w=5)
    subjects = {f.subject for f in judged(small(), loops=(poor,)).findings if f.where == "loop"}
    assert {"biofilter too small", "flow through the filter", "new water", "air"} <= subjects
    sour = judged(small(), loops=(replace(LOOP, aeration_w=40),))
    assert "More air first" in about(sour, "acid water")[0].remedy
    crowded = judged(small(), loops=(replace(LOOP, flow_l_h=300, aeration_w=800),))
    assert "borrowed from abalone" in " ".join(about(crowded, "ammonia")[0].what.split())
    hot = replace(LOOP, temperature_c=40)
    assert about(judged(small(), loops=(hot,)), "the loop over time")
    assert "Air cannot hold" in about(judged(small(), loops=(hot,)), "air")[0].what


def test_tanks_and_loads_are_carried_through_an_outage() -> None:
    tanks = (
        StockedTank("many", 400, 0.5, 28, 35, 400, 5.0),
        StockedTank("few", 400, 0.5, 28, 35, 40, 5.0),
        StockedTank("with air", 400, 0.5, 28, 35, 400, 5.0, air_stone=True),
    )
    loads = (Load("blower", 180, 0.25), Load("lights", 100))
    seen = judged(small(), stocked=tanks, loads=loads)
    assert [tank.name for tank in seen.tank_hours] == ["many", "few", "with air"]
    assert seen.tank_hours[2].to_act_h is None
    assert seen.generator is not None
    assert seen.generator.kva > 0.28


def test_findings_come_heaviest_first_and_none_twice() -> None:
    made = [Finding(w, w, "here", "what", "do", "source") for w in reversed(WEIGHTS)]
    assert [f.weight for f in ranked([*made, *made])] == list(WEIGHTS)


def test_cautions_follow_what_is_there() -> None:
    said = {caution.about for caution in judged(small()).cautions}
    assert {"electricity", "UV light", "pressure", "confined spaces"} <= said
    assert "diving and boats" not in said
    valve = Valve(name="v", start="s", end="t", size=pipe_size("pvc-sch40", 1), k=1)
    bare = Network((Place("s", "sump", 1.0), Place("t", "tank", 0.5)), (valve,), small().water)
    assert {caution.about for caution in judged(bare).cautions} == {"lifting"}
