"""Ultraviolet light: the dose that water gets."""

from dataclasses import dataclass
from math import expm1, log, log10

from protoconch.seawater.ranges import more_than_zero, within
from protoconch.waterworks.water import L_MIN_PER_M3_S
from protoconch.words import phrase, say


@dataclass(frozen=True, slots=True)
class Lamp:
    """One lamp on the axis of a round chamber.

    uvc_power_w: germicidal power of the new lamp, not the watts on the plug [W].
    gap_mm: water between sleeve and wall [mm].
    transmittance_pct: of the water, through 1 cm [%].
    age_factor, fouling_factor, flow_factor: shares left of the dose by age of the lamp, dirt on
        the sleeve and water that takes a short cut [-].
    """

    uvc_power_w: float
    gap_mm: float
    transmittance_pct: float
    age_factor: float = 1.0
    fouling_factor: float = 1.0
    flow_factor: float = 1.0

    @property
    def all_factors(self) -> float:
        """Share of the ideal dose that is left [-]."""
        return self.age_factor * self.fouling_factor * self.flow_factor


def absorbance_per_cm(transmittance_pct: float) -> float:
    """Absorbance to base ten [1/cm] of water of a transmittance through 1 cm [%].

    Raises: OutOfRange.
    """
    within(
        phrase("transmittance"),
        transmittance_pct,
        1.0,
        100.0,
        phrase("% per cm"),
        phrase("Give 0.85 as 85."),
    )
    return -log10(transmittance_pct / 100)


def uv_dose_mj_cm2(flow_l_min: float, lamp: Lamp) -> float:
    """Mean dose of the water [mJ/cm²].

    flow_l_min: [L/min], above 0.
    Raises: BadInput or OutOfRange, naming the input.
    Source: mean fluence rate in the ring around one lamp with radial light, times the time spent;
    P (1 - exp(-a d)) / (a Q), whatever the length.
    """
    more_than_zero(phrase("flow"), flow_l_min, phrase("L/min"))
    more_than_zero(phrase("UV-C power"), lamp.uvc_power_w, "W")
    more_than_zero(phrase("gap"), lamp.gap_mm, "mm")
    within(
        phrase("transmittance"),
        lamp.transmittance_pct,
        1.0,
        100.0,
        phrase("% per cm"),
        phrase("Give 0.85 as 85."),
    )
    for name, share in (
        (say("age factor"), lamp.age_factor),
        (say("fouling factor"), lamp.fouling_factor),
        (say("flow factor"), lamp.flow_factor),
    ):
        within(name, share, 0.0, 1.0, "", phrase("Give 80 % as 0.8."))
    per_m = -log(lamp.transmittance_pct / 100) * 100
    gap_m = lamp.gap_mm / 1000
    path_m = -expm1(-per_m * gap_m) / per_m if per_m > 0 else gap_m
    j_m2 = lamp.uvc_power_w * path_m / (flow_l_min / L_MIN_PER_M3_S)
    return j_m2 / 10 * lamp.all_factors


def power_for_dose_w(dose_mj_cm2: float, flow_l_min: float, lamp: Lamp) -> float:
    """Germicidal power that gives a dose at a flow in the same chamber and water [W].

    dose_mj_cm2: wanted [mJ/cm²]. flow_l_min: [L/min]. lamp: the chamber; its power is not used.
    Raises: BadInput or OutOfRange.
    """
    one_watt = Lamp(1.0, lamp.gap_mm, lamp.transmittance_pct, lamp.age_factor,
                    lamp.fouling_factor, lamp.flow_factor)  # fmt: skip
    return more_than_zero(phrase("dose"), dose_mj_cm2, "mJ/cm²") / uv_dose_mj_cm2(
        flow_l_min, one_watt
    )


def flow_for_dose_l_min(dose_mj_cm2: float, lamp: Lamp) -> float:
    """Flow up to which a lamp gives a dose [L/min]; dose falls as 1 / flow.

    Raises: BadInput or OutOfRange.
    """
    return uv_dose_mj_cm2(1.0, lamp) / more_than_zero(phrase("dose"), dose_mj_cm2, "mJ/cm²")
