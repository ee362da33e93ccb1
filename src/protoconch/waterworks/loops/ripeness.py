"""When a biofilter is ripe enough for animals: by a test, not by the calendar."""

from dataclasses import dataclass
from datetime import date, timedelta

from protoconch.seawater.ranges import within
from protoconch.waterworks.parameters import number, sourced
from protoconch.words import phrase


@dataclass(frozen=True, slots=True)
class RipeTest:
    """Readings 24 h after a dose of ammonia worth one day's feeding, as nitrogen [mg/L]."""

    ammonia_mg_l: float
    nitrite_mg_l: float


def ripe(test: RipeTest) -> bool:
    """Whether a loop may be stocked: both readings are below the limit.

    Raises: BadInput or OutOfRange.
    Source: common practice; limit in loops.toml.
    """
    most = number("loops", "ripe.most_mg_n_l")
    within(phrase("ammonia"), test.ammonia_mg_l, 0.0, 1000.0, "mg/L")
    within(phrase("nitrite"), test.nitrite_mg_l, 0.0, 1000.0, "mg/L")
    return test.ammonia_mg_l < most and test.nitrite_mg_l < most


def ripe_between(started: date) -> tuple[date, date]:
    """Days between which an unseeded filter of 26 to 28 °C usually is ripe.

    started: when ammonia was first added. Only a guide: the test decides.
    Source: common practice; no clean table for seawater was found.
    """
    wait = sourced("loops", "start_up.warm_days")
    low, high = wait.low or wait.number, wait.high or wait.number
    return started + timedelta(days=round(low)), started + timedelta(days=round(high))


def challenge_dose_g(ammonia_g_day: float) -> float:
    """Ammonium chloride for the test [g]: nitrogen of one day's feeding.

    ammonia_g_day: nitrogen the animals will give off [g N/d].
    Source: molar masses, NH4Cl 53.491 over N 14.007.
    """
    return within(phrase("the ammonia"), ammonia_g_day, 0.0, 1e6, "g/d") * 53.491 / 14.007
