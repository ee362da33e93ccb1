"""Each UV unit as it is now: the dose from flow, age of the lamp and its intensity."""

from dataclasses import dataclass, replace
from datetime import datetime
from typing import Literal

from protoconch.log.state import Part as Fitted
from protoconch.waterworks.network.parts import Uv
from protoconch.waterworks.network.what_if import LEAST_FLOW_L_MIN
from protoconch.waterworks.parameters import number
from protoconch.waterworks.treatment.uv import Lamp, flow_for_dose_l_min, uv_dose_mj_cm2
from protoconch.work.waterside.readings import Readings, since

HOURS_PER_DAY = 24.0
MOST_INTENSITY_PCT = 100.0
Word = Literal["good", "soon", "low", "dark"]


@dataclass(frozen=True, slots=True)
class LampNow:
    """A UV unit. dose_mj_cm2: now [mJ/cm²], None where it is dark or nothing flows.

    flow_l_min, flow_read: through it, and when read; None where it is the description's.
    hours: burnt, day and night since it was put in; hours_logged: whether the log knows that day.
    intensity_pct, intensity_read: of a new clean lamp, where it was read since it was put in.
    life_h: hours after which it is changed [h]. least_mj_cm2: dose wanted [mJ/cm²].
    most_l_min: flow up to which it gives that dose [L/min].
    """

    name: str
    dose_mj_cm2: float | None
    flow_l_min: float
    flow_read: datetime | None
    hours: float
    hours_logged: bool
    intensity_pct: float | None
    intensity_read: datetime | None
    life_h: float
    least_mj_cm2: float
    most_l_min: float
    word: Word


def lamp_now(
    part: Uv, described_l_min: float, readings: Readings, fitted: Fitted | None, now: datetime,
    order_share: float,
) -> LampNow:  # fmt: skip
    """A UV unit by what was read of it.

    described_l_min: flow by the description [L/min]. fitted: when the lamp went in by the log.
    order_share: of a lamp's life after which a new one is ordered [-], warnings.toml.
    An intensity that was read stands for age and dirt together; without one the age share falls
    in a straight line from 1 to the table's at the end of the lamp's life (assumption), and
    where the log does not know the lamp, the description's share holds.
    """
    begin = fitted.changed if fitted is not None else None
    flows = readings.get((part.name, "flow"), ())
    flow = flows[-1].value if flows else described_l_min
    seen = since(readings.get((part.name, "UV intensity"), ()), begin)
    hours = (now - begin).total_seconds() / 3600 if begin else part.lamp_hours
    lamp = part.lamp
    if seen:
        share = min(seen[-1].value, MOST_INTENSITY_PCT) / 100
        lamp = replace(lamp, age_factor=share, fouling_factor=1.0)
    elif begin is not None:
        lamp = replace(lamp, age_factor=age_share(hours))
    lit = part.burning and flow > LEAST_FLOW_L_MIN and lamp.all_factors > 0
    dose = uv_dose_mj_cm2(flow, lamp) if lit else None
    least, life = number("uv", "least_design_dose"), number("uv", "lamp_hours")
    return LampNow(
        part.name, dose, flow, flows[-1].when if flows else None, hours, begin is not None,
        seen[-1].value if seen else None, seen[-1].when if seen else None, life, least,
        _most(lamp, least), _word(dose, least, hours, life, order_share),
    )  # fmt: skip


def age_share(hours: float) -> float:
    """Share of its power that a lamp has left after so many hours [-], above 0.

    Source: the end by uv.toml; the straight line to it and beyond is an assumption.
    """
    end = number("uv", "age_factor")
    return float(max(0.05, 1 - (1 - end) * max(0.0, hours) / number("uv", "lamp_hours")))


def _most(lamp: Lamp, least: float) -> float:
    return flow_for_dose_l_min(least, lamp) if lamp.all_factors > 0 else 0.0


def _word(dose: float | None, least: float, hours: float, life: float, share: float) -> Word:
    if dose is None:
        return "dark"
    if dose < least:
        return "low"
    return "soon" if hours >= share * life else "good"
