"""How the cells of a culture multiply: the curves of growth, and the time they need."""

import math
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from protoconch.errors import BadInput
from protoconch.units import not_negative, positive
from protoconch.words import phrase, say

Days = TypeVar("Days", float, NDArray[np.float64])


def exponential_per_ml(
    day: Days, *, start_per_ml: float, growth_per_d: float, lag_d: float = 0.0
) -> Days:
    """Cells while nothing holds the culture back: N0 exp(μ (t - lag)) [cells/mL].

    day: t since inoculation [d], scalar or array. growth_per_d: below 0 where it shrinks.
    lag_d: days before growth begins.
    Raises: BadInput, where a number is none or cannot be.
    Source: exponential growth (textbook).
    """
    _refuse(day, start_per_ml=start_per_ml, lag_d=lag_d)
    if not math.isfinite(growth_per_d):
        raise BadInput(
            say(
                "The growth is {growth_per_d:g} per day; it must be a number.",
                growth_per_d=growth_per_d,
            )
        )
    return start_per_ml * np.exp(growth_per_d * np.maximum(day - lag_d, 0.0))  # type: ignore[no-any-return]


def logistic_per_ml(
    day: Days, *, start_per_ml: float, growth_per_d: float, peak_per_ml: float, lag_d: float = 0.0
) -> Days:
    """Cells that slow as they near the peak: K / (1 + (K - N0)/N0 exp(-r (t - lag))) [cells/mL].

    day: t since inoculation [d]. peak_per_ml: K, the most that the culture reaches.
    Raises: BadInput, where a number is none or cannot be.
    Source: Verhulst's logistic curve (textbook).
    """
    _refuse(day, start_per_ml=start_per_ml, growth_per_d=growth_per_d, peak_per_ml=peak_per_ml,
            lag_d=lag_d)  # fmt: skip
    room = (peak_per_ml - start_per_ml) / start_per_ml
    shaded = room * np.exp(-growth_per_d * np.maximum(day - lag_d, 0.0))
    return peak_per_ml / (1.0 + shaded)  # type: ignore[no-any-return]


def baranyi_per_ml(
    day: Days, *, start_per_ml: float, growth_per_d: float, peak_per_ml: float, lag_d: float
) -> Days:
    """Cells after a lag that ends gradually, up to a peak [cells/mL].

    day: t since inoculation [d]. lag_d: h0/μ, the lag [d].
    Raises: BadInput, where a number is none or cannot be, or the peak is not above the start.
    Source: Baranyi & Roberts 1994, Int J Food Microbiol 23:277-294, explicit form with h0 = μ lag
        and curvature 1.
    """
    _refuse(day, start_per_ml=start_per_ml, growth_per_d=growth_per_d, peak_per_ml=peak_per_ml,
            lag_d=lag_d)  # fmt: skip
    _refuse_low_peak(start_per_ml, peak_per_ml)
    h0 = growth_per_d * lag_d
    grown = np.exp(-growth_per_d * day)
    adjusted = day + np.log(grown + math.exp(-h0) - grown * math.exp(-h0)) / growth_per_d
    rise = np.logaddexp(np.log1p(-start_per_ml / peak_per_ml),
                        growth_per_d * adjusted + math.log(start_per_ml / peak_per_ml))  # fmt: skip
    return start_per_ml * np.exp(growth_per_d * adjusted - rise)  # type: ignore[no-any-return]


def gompertz_per_ml(
    day: Days, *, start_per_ml: float, growth_per_d: float, peak_per_ml: float, lag_d: float
) -> Days:
    """Cells by the modified Gompertz curve [cells/mL]; it does not start exactly at N0.

    Raises: BadInput, where a number is none or cannot be, or the peak is not above the start.
    Source: Zwietering et al. 1990, Appl Environ Microbiol 56:1875-1881.
    """
    _refuse(day, start_per_ml=start_per_ml, growth_per_d=growth_per_d, peak_per_ml=peak_per_ml,
            lag_d=lag_d)  # fmt: skip
    _refuse_low_peak(start_per_ml, peak_per_ml)
    rise = math.log(peak_per_ml / start_per_ml)
    bend = np.exp(growth_per_d * math.e / rise * (lag_d - day) + 1.0)
    return start_per_ml * np.exp(rise * np.exp(-bend))  # type: ignore[no-any-return]


UNITS = {"start_per_ml": "cells/mL", "growth_per_d": "per day", "peak_per_ml": "cells/mL"}

NAMES = {
    "start_per_ml": phrase("start"), "growth_per_d": phrase("growth"),
    "peak_per_ml": phrase("peak"),
}  # fmt: skip


def _refuse(day: float | NDArray[np.float64], *, lag_d: float, **above_0: float) -> None:
    """Raises: BadInput, where a day or the lag is below 0, another number not above 0, or none."""
    first, last = (
        (day.min(initial=0.0), day.max(initial=0.0)) if isinstance(day, np.ndarray) else (day, day)
    )
    if not 0 <= first <= last < math.inf:
        raise BadInput(say("Each day since inoculation must be a number, 0 or more."))
    not_negative(lag_d, "days", "lag")
    for name, value in above_0.items():
        positive(value, UNITS[name], NAMES[name])


def _refuse_low_peak(start_per_ml: float, peak_per_ml: float) -> None:
    if peak_per_ml <= start_per_ml:
        raise BadInput(
            say(
                "The peak of {peak_per_ml:,.0f} cells/mL must be above the start of "
                "{start_per_ml:,.0f} cells/mL.",
                peak_per_ml=peak_per_ml,
                start_per_ml=start_per_ml,
            )
        )


def days_to_reach(
    wanted_per_ml: float,
    *,
    start_per_ml: float,
    growth_per_d: float,
    peak_per_ml: float,
    lag_d: float = 0.0,
) -> float:
    """Days from inoculation until a logistic culture holds the cells wanted [d].

    t = lag + ln(Nf (K - N0) / (N0 (K - Nf))) / r.
    Returns: 0 where it holds them at the start.
    Raises: BadInput, where the peak is not above both, or a number is not above 0.
    Source: the logistic curve, solved for time.
    """
    positive(start_per_ml, "cells/mL", "start")
    positive(growth_per_d, "per day", "growth")
    positive(peak_per_ml, "cells/mL", "peak")
    not_negative(lag_d, "days", "lag")
    if not 0 < wanted_per_ml < peak_per_ml or not start_per_ml < peak_per_ml:
        raise BadInput(
            say(
                "Wanted is {wanted_per_ml:,.0f} and the start {start_per_ml:,.0f} cells/mL; both "
                "must be below the peak of {peak_per_ml:,.0f} cells/mL, which a culture only "
                "nears.",
                wanted_per_ml=wanted_per_ml,
                start_per_ml=start_per_ml,
                peak_per_ml=peak_per_ml,
            )
        )
    if wanted_per_ml <= start_per_ml:
        return 0.0
    odds = wanted_per_ml * (peak_per_ml - start_per_ml)
    odds /= start_per_ml * (peak_per_ml - wanted_per_ml)
    return lag_d + math.log(odds) / growth_per_d


def growth_between(first_per_ml: float, second_per_ml: float, days: float) -> float:
    """Growth rate between two counts of a culture in full growth: ln(N2/N1)/Δt [per d].

    Source: Barsanti & Gualtieri, Algae: Anatomy, Biochemistry, and Biotechnology, p. 249, eq. 6.5.
    """
    positive(first_per_ml, "cells/mL", say("first count"))
    positive(second_per_ml, "cells/mL", say("second count"))
    positive(days, "days", say("days between"))
    return math.log(second_per_ml / first_per_ml) / days


def doubling_days(growth_per_d: float) -> float:
    """Days in which the cells double: ln 2 / μ [d].

    Source: Barsanti & Gualtieri, p. 249, eq. 6.6 and 6.7.
    """
    positive(growth_per_d, "per day", "growth")
    return math.log(2.0) / growth_per_d
