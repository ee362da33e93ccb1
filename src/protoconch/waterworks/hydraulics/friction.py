"""Friction of water in a pipe, for many pipes at once."""

import numpy as np
from numpy.typing import NDArray

from protoconch.waterworks.water import GRAVITY_M_S2

Array = NDArray[np.float64]

LAMINAR_UP_TO = 2040.0
"""Reynolds number up to which flow stays laminar (Avila et al. 2011, Science 333:192)."""
TURBULENT_FROM = 4000.0
NEWTON_STEPS = 8


def friction_factor(reynolds: float, relative_roughness: float) -> float:
    """Darcy's friction factor [-].

    reynolds: [-], above 0. relative_roughness: roughness over bore [-].
    Returns: 64/Re up to 2,040; Colebrook's from 4,000; a straight line in Re between, where the
        flow itself cannot make up its mind.
    Source: Darcy-Weisbach; Colebrook 1939, J. Inst. Civ. Eng. 11:133.
    """
    factor, _ = factors_and_slopes(np.array([reynolds]), np.array([relative_roughness]))
    return float(factor[0])


def factors_and_slopes(reynolds: Array, relative_roughness: Array) -> tuple[Array, Array]:
    """Friction factors, and how they change: d ln f / d ln Re.

    reynolds, relative_roughness: [-, shape (pipes,)], reynolds above 0.
    Returns: two arrays [-, shape (pipes,)].
    """
    re = np.maximum(reynolds, 1e-12)
    laminar = 64 / re
    turbulent, turbulent_slope = _colebrook(np.maximum(re, TURBULENT_FROM), relative_roughness)
    at_low = 64 / LAMINAR_UP_TO
    rise = (turbulent - at_low) / (TURBULENT_FROM - LAMINAR_UP_TO)
    between = at_low + rise * (re - LAMINAR_UP_TO)
    factor = np.where(
        re <= LAMINAR_UP_TO, laminar, np.where(re < TURBULENT_FROM, between, turbulent)
    )
    slope = np.where(
        re <= LAMINAR_UP_TO,
        -1.0,
        np.where(re < TURBULENT_FROM, rise * re / between, turbulent_slope),
    )
    return factor, slope


def _colebrook(reynolds: Array, relative_roughness: Array) -> tuple[Array, Array]:
    """Factor and d ln f / d ln Re by Newton's method on 1/√f, to the last digit."""
    rough, smooth = relative_roughness / 3.7, 2.51 / reynolds
    x = -1.8 * np.log10(rough**1.11 + 6.9 / reynolds)  # Haaland's start
    per_e = 2 / np.log(10)
    for _ in range(NEWTON_STEPS):
        inside = rough + smooth * x
        x = x - (x + 2 * np.log10(inside)) / (1 + per_e * smooth / inside)
    inside = rough + smooth * x
    change = per_e * smooth * x / inside / (1 + per_e * smooth / inside)
    return 1 / x**2, -2 * change / x


def pipe_heads_and_slopes(
    flow_m3_s: Array, length_m: Array, bore_m: Array, roughness_m: Array, kinematic_m2_s: float
) -> tuple[Array, Array]:
    """Head lost in pipes, with the sign of the flow, and its change with flow.

    flow_m3_s: [m³/s, shape (pipes,)]; length_m, bore_m, roughness_m: [m, shape (pipes,)];
    kinematic_m2_s: [m²/s].
    Returns: heads [m] and slopes [m per m³/s], both shape (pipes,).
    Source: Darcy-Weisbach.
    """
    area = np.pi * bore_m**2 / 4
    speed = np.abs(flow_m3_s) / area
    reynolds = speed * bore_m / kinematic_m2_s
    factor, bend = factors_and_slopes(reynolds, roughness_m / bore_m)
    still = 32 * kinematic_m2_s * length_m / (GRAVITY_M_S2 * bore_m**2) / area
    head = np.where(
        reynolds <= LAMINAR_UP_TO,
        still * np.abs(flow_m3_s),
        factor * length_m / bore_m * speed**2 / (2 * GRAVITY_M_S2),
    )
    flow = np.maximum(np.abs(flow_m3_s), 1e-30)
    slope = np.where(reynolds <= LAMINAR_UP_TO, still, head / flow * (2 + bend))
    return np.sign(flow_m3_s) * head, slope


def hazen_williams_ft_per_100_ft(flow_us_gal_min: float, bore_in: float, c: float) -> float:
    """Head lost in cool fresh water, as printed pipe tables have it [ft per 100 ft].

    flow_us_gal_min: [US gal/min]. bore_in: inside diameter [in]. c: smoothness [-], 150 new PVC.
    Source: Williams & Hazen 1905, in the form of pipe makers' tables.
    """
    return float(0.2083 * (100 / c) ** 1.852 * flow_us_gal_min**1.852 / bore_in**4.8655)
