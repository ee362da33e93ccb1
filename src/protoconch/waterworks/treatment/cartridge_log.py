"""When to change a cartridge, forecast from its logged readings.

With loading that takes open area away, 1 / pressure falls along a straight line in the litres
passed (Hermia 1982, constant flow). The line is fitted, and the litres at which it meets the
pressure for changing come with an interval (Fieller 1954).
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

import numpy as np

from protoconch.errors import BadInput
from protoconch.seawater.ranges import more_than_zero, within
from protoconch.units import text
from protoconch.waterworks.hydraulics.friction import Array
from protoconch.waterworks.treatment.cartridges import Stage
from protoconch.words import phrase, say

LEAST_READINGS = 3


@dataclass(frozen=True, slots=True)
class Reading:
    """One reading of a stage. litres: passed since it was new [L]. drop_kpa: [kPa].

    flow_l_min: at the reading [L/min].
    """

    litres: float
    drop_kpa: float
    flow_l_min: float


@dataclass(frozen=True, slots=True)
class ChangeForecast:
    """When a stage reaches its pressure for changing.

    at_litres: best estimate [L]; low_litres, high_litres: interval, high None where the readings
    do not yet show that it loads at all. confidence: of the interval [-].
    """

    at_litres: float
    low_litres: float
    high_litres: float | None
    confidence: float


def at_reference_flow(reading: Reading, stage: Stage, reference_l_min: float) -> float:
    """Pressure that the medium alone would take at a reference flow [kPa].

    The housing's share is taken off; the rest goes with the flow.
    Raises: BadInput, where nothing is left.
    """
    more_than_zero(phrase("the flow at a reading"), reading.flow_l_min, phrase("L/min"))
    medium = reading.drop_kpa - stage.housing_kpa_per_l_min2 * reading.flow_l_min**2
    if not medium > 0:
        raise BadInput(
            say(
                "A reading of {drop:g} kPa at {flow} is less than the "
                "empty housing takes; check the gauge or the flow.",
                drop=reading.drop_kpa,
                flow=text(reading.flow_l_min, "L/min"),
            )
        )
    return medium * reference_l_min / reading.flow_l_min


def change_forecast(
    readings: Sequence[Reading],
    stage: Stage,
    *,
    change_kpa: float,
    reference_l_min: float,
    confidence: float = 0.8,
) -> ChangeForecast:
    """Litres at which a stage reaches a pressure at a flow.

    readings: three or more since the stage was new. change_kpa: pressure for changing across the
    stage [kPa], at the flow reference_l_min [L/min]. confidence: of the interval [-], 0.5 to 0.99.
    Raises: BadInput, where there are too few readings, or pressure does not rise with litres.
    Source: Hermia 1982, linear form; Fieller 1954 for the interval; Student's t.
    """
    within(phrase("the confidence"), confidence, 0.5, 0.99)
    if len(readings) < LEAST_READINGS:
        raise BadInput(
            say(
                "A forecast needs {least} readings; there are {readings}.",
                least=LEAST_READINGS,
                readings=len(readings),
            )
        )
    litres = np.array([reading.litres for reading in readings])
    inverse = np.array([1 / at_reference_flow(r, stage, reference_l_min) for r in readings])
    if not np.ptp(litres) > 0:
        raise BadInput(
            say("All readings were taken at the same litres; read again after more water.")
        )
    target = change_kpa - stage.housing_kpa_per_l_min2 * reference_l_min**2
    wanted = 1 / more_than_zero(
        phrase("the pressure for changing, less the housing's"), target, "kPa"
    )
    return _line_meets(litres, inverse, wanted, confidence)


def _line_meets(x: Array, y: Array, wanted: float, confidence: float) -> ChangeForecast:
    """Where a fitted line meets a value, with Fieller's interval."""
    from scipy.special import stdtrit

    n = len(x)
    middle = x.mean()
    spread = float(np.sum((x - middle) ** 2))
    slope = float(np.sum((x - middle) * (y - y.mean())) / spread)
    if slope >= 0:
        raise BadInput(
            say(
                "The pressure does not rise with the litres passed: the stage is not loading, "
                "water goes past it, or a gauge is wrong."
            )
        )
    rest = y - y.mean() - slope * (x - middle)
    noise = float(np.sum(rest**2)) / (n - 2)
    t2 = float(stdtrit(n - 2, 0.5 + confidence / 2)) ** 2 * noise
    best = float(middle + (wanted - y.mean()) / slope)
    # (y0 - ȳ - b d)² = t² s² (1/n + d²/Sxx) in d, the distance from the middle
    gap = wanted - float(y.mean())
    square, linear, plain = slope**2 - t2 / spread, -2 * gap * slope, gap**2 - t2 / n
    if square <= 0:
        return ChangeForecast(best, _nearest_bound(square, linear, plain, middle), None, confidence)
    root = max(0.0, linear**2 - 4 * square * plain) ** 0.5
    low, high = ((-linear + sign * root) / (2 * square) for sign in (-1, 1))
    return ChangeForecast(best, float(middle + low), float(middle + high), confidence)


def _nearest_bound(square: float, linear: float, plain: float, middle: float) -> float:
    """The lower bound where the interval has no upper end."""
    inside = linear**2 - 4 * square * plain
    if inside <= 0 or square == 0:
        return float(middle)
    roots = sorted((-linear + sign * inside**0.5) / (2 * square) for sign in (-1, 1))
    return float(middle + roots[1])


def change_days(
    forecast: ChangeForecast,
    litres_now: float,
    litres_per_day: float,
    now: datetime,
    fitted: datetime,
    most_days_wet: float,
) -> tuple[datetime, datetime, datetime]:
    """When to change, the earliest and the latest: by pressure, but never later than rot allows.

    litres_now: passed so far [L]. litres_per_day: to come [L/d]. now: of that reading.
    fitted: when the stage was put in. most_days_wet: [d].
    Raises: BadInput.
    """
    more_than_zero(phrase("the litres of a day"), litres_per_day, "L/d")
    rots = fitted + timedelta(days=more_than_zero(phrase("the days wet"), most_days_wet, "d"))

    def day(litres: float | None) -> datetime:
        if litres is None:
            return rots
        return min(rots, now + timedelta(days=max(0.0, litres - litres_now) / litres_per_day))

    return day(forecast.at_litres), day(forecast.low_litres), day(forecast.high_litres)
