"""The answer of `protoconch site`, as text for people and as data for programs."""

from dataclasses import asdict
from math import isfinite
from typing import Any

from protoconch.pictures.water_words import water_meaning
from protoconch.pictures.words import day_written, measured, rounded
from protoconch.sheets.site_report import WEIGHT_WORDS, site_answer
from protoconch.units import ends
from protoconch.waterworks.assessment import Assessment
from protoconch.waterworks.network.solving import imbalance
from protoconch.words import say


def site_text(seen: Assessment, name: str) -> str:
    """The judgement, the flows, the findings with their remedies, the cautions."""
    lines = [name, "", f"{site_answer(seen)}.", water_meaning(seen), "", say("Findings")]
    for number, finding in enumerate(seen.findings, start=1):
        lines.append(f"{number:3}. {WEIGHT_WORDS[finding.weight]}: {finding.where}")
        lines += [f"     {finding.what}", f"     {finding.remedy} ({finding.source})"]
    if not seen.findings:
        lines.append(f"  {say('none')}")
    lines += ["", say("Flow to the tanks")]
    network = seen.waterworks.network
    for tank, flow in seen.tank_flows_l_min.items():
        wanted = network.place(tank).wanted_l_min
        wanted_shown, shown = ends(rounded(wanted or 0.0), rounded(max(0.0, flow)), "L/min")
        if wanted:
            shown = say("{flow} of {wanted} wanted", flow=shown, wanted=wanted_shown)
        lines.append(f"  {tank}: {shown}")
    lines += ["", *_water(seen), say("Take care (local code and licensed people come first)")]
    return "\n".join([*map(str, lines), *(f"  {each.about}: {each.say}" for each in seen.cautions)])


def _water(seen: Assessment) -> list[str]:
    lines: list[str] = []
    fill = seen.store.fill if seen.store else None
    if fill and fill.by:
        lines.append(
            say(
                "Fill by {day}: {water}."
                if fill.pump_hours is None
                else "Fill by {day}: {water}, {hours:.1f} pump hours.",
                day=day_written(fill.by),
                water=measured(round(fill.litres), "L"),
                hours=fill.pump_hours,
            )
        )
    lines += [
        say(
            "Without power {name} has {hours:.1f} h before acting.",
            name=tank.name,
            hours=tank.to_act_h,
        )
        for tank in seen.tank_hours
        if tank.to_act_h is not None
    ]
    return [*lines, ""] if lines else lines


def site_json(seen: Assessment) -> dict[str, Any]:
    """All of it as plain data; units are in the keys."""
    network = seen.waterworks.network
    store = seen.store
    return {
        "answer": site_answer(seen),
        "flows_l_min": dict(seen.solution.flow_l_min),
        "pressures_kpa": {
            place.name: seen.solution.pressure_kpa(network, place.name) for place in network.places
        },
        "tank_flows_l_min": dict(seen.tank_flows_l_min),
        "doses_mj_cm2": dict(seen.doses_mj_cm2),
        "drops_kpa": dict(seen.drops_kpa),
        "findings": [asdict(finding) for finding in seen.findings],
        "what_if": [asdict(effect) for effect in seen.effects],
        "store": None
        if store is None
        else {
            "daily_use_l": store.daily_use_l,
            "fill_by": store.fill.by.isoformat() if store.fill.by else None,
            "fill_overdue": store.fill.overdue,
            "fill_l": store.fill.litres,
            "pump_hours": store.fill.pump_hours,
            "levels": [
                {
                    "day": level.day.isoformat(),
                    "middle_l": level.middle_l,
                    "low_l": level.low_l,
                    "high_l": level.high_l,
                }
                for level in store.levels
            ],
        },
        "loops": {name: asdict(size) for name, size in seen.loop_sizes.items()},
        "outage": [asdict(tank) for tank in seen.tank_hours],
        "generator": asdict(seen.generator) if seen.generator else None,
        "assumed": list(seen.waterworks.assumed),
        "cautions": [asdict(caution) for caution in seen.cautions],
        "solver": {
            "steps": seen.solution.steps,
            "residual_m": seen.solution.residual_m,
            "imbalance": _finite(imbalance(network, seen.solution)),
        },
    }


def _finite(value: float) -> float | None:
    return value if isfinite(value) else None
