"""Shell length by age on the von Bertalanffy curve, for wild snails and for comparison."""

import math

from protoconch.errors import BadInput, OutOfRange
from protoconch.units import not_negative, positive
from protoconch.words import say


def von_bertalanffy_length_mm(
    age_years: float, *, l_inf_mm: float, k_per_year: float, t0_years: float = 0.0
) -> float:
    """Shell length at an age: L = L∞ (1 - exp(-k (t - t0))) [mm].

    age_years: age [years]. l_inf_mm: length that the curve approaches [mm].
    k_per_year: how fast it does [per year]. t0_years: age at which the curve begins with length
    0 [years]; a curve fitted to large animals may begin after hatching.
    Raises: BadInput before t0, where the curve would give a length below 0; OutOfRange.
    Source: von Bertalanffy 1938, Human Biology 10:181 (from memory).
    """
    _check(l_inf_mm, k_per_year, t0_years)
    if not math.isfinite(age_years):
        raise OutOfRange("age", age_years, t0_years, math.inf, "years")
    if age_years < t0_years:
        raise BadInput(
            say(
                "Age is {age_years:g} years, before t0 at {t0_years:g} years; the curve has no "
                "length there, so take an age after t0 or a curve fitted to young animals.",
                age_years=age_years,
                t0_years=t0_years,
            )
        )
    return -l_inf_mm * math.expm1(-k_per_year * (age_years - t0_years))


def von_bertalanffy_age_years(
    length_mm: float, *, l_inf_mm: float, k_per_year: float, t0_years: float = 0.0
) -> float:
    """Age at a shell length on the same curve [years].

    length_mm: shell length, 0 or more and below L∞ [mm]; the others as in
    `von_bertalanffy_length_mm`.
    Raises: BadInput at L∞ and beyond, which the curve never reaches; OutOfRange.
    Source: the curve solved for the age.
    """
    _check(l_inf_mm, k_per_year, t0_years)
    not_negative(length_mm, "mm", "length")
    if length_mm >= l_inf_mm:
        raise BadInput(
            say(
                "Length is {length_mm:g} mm, and the curve stays below {l_inf_mm:g} mm; take a "
                "shorter length.",
                length_mm=length_mm,
                l_inf_mm=l_inf_mm,
            )
        )
    return t0_years - math.log1p(-length_mm / l_inf_mm) / k_per_year


def _check(l_inf_mm: float, k_per_year: float, t0_years: float) -> None:
    positive(l_inf_mm, "mm", "L∞")
    positive(k_per_year, "per year", "k")
    if not math.isfinite(t0_years):
        raise OutOfRange("t0", t0_years, -math.inf, math.inf, "years")
