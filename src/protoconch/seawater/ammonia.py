"""The part of the ammonia in seawater that harms animals: the un-ionised."""

from math import log10

from protoconch.seawater.ph_scales import PhScale, ph_on_total_scale
from protoconch.seawater.ranges import within
from protoconch.seawater.teos10 import checked_salinity
from protoconch.words import phrase


def ammonium_pk(temperature_c: float, salinity: float) -> float:
    """Negative logarithm of the dissociation of ammonium, total scale, mol/kg of seawater [-].

    temperature_c: [°C], 0 to 40. salinity: practical salinity [-], 0 to 40.
    Raises: BadInput or OutOfRange.
    Source: Clegg & Whitfield 1995, Geochim. Cosmochim. Acta 59:2403.
    """
    k = within(phrase("temperature"), temperature_c, 0.0, 40.0, "°C") + 273.15
    s = within(phrase("salinity"), checked_salinity(salinity), 0.0, 40.0)
    per_kg_of_water = (
        9.244605
        - 2729.33 * (1 / 298.15 - 1 / k)
        + (0.04203362 - 11.24742 / k) * s**0.25
        + (-13.6416 + 1.176949 * k**0.5 - 0.02860785 * k + 545.4834 / k) * s**0.5
        + (-0.1462507 + 0.0090226468 * k**0.5 - 0.0001471361 * k + 10.5425 / k) * s**1.5
        + (0.004669309 - 0.0001691742 * k**0.5 - 0.5677934 / k) * s**2
        + (-2.354039e-5 + 0.009698623 / k) * s**2.5
    )
    return float(per_kg_of_water - log10(1 - 0.001005 * s))


def unionised_share(
    temperature_c: float, salinity: float, ph: float, scale: PhScale = "total"
) -> float:
    """Share of the total ammonia that is un-ionised [-], 0 to 1.

    temperature_c: [°C], 0 to 40. salinity: practical salinity [-], 0 to 40.
    ph: as read [-], 4 to 11. scale: the scale it was read on; a mix-up is worth 15 to 25 %.
    Raises: BadInput or OutOfRange.
    Source: Clegg & Whitfield 1995, Geochim. Cosmochim. Acta 59:2403.
    """
    total = ph_on_total_scale(ph, scale, temperature_c, salinity)
    return float(1 / (1 + 10 ** (ammonium_pk(temperature_c, salinity) - total)))


def unionised_mg_n_l(
    temperature_c: float, salinity: float, ph: float, scale: PhScale, total_mg_n_l: float
) -> float:
    """Un-ionised ammonia, as nitrogen [mg N/L].

    total_mg_n_l: total ammonia, as nitrogen [mg N/L]. Other inputs as unionised_share.
    Raises: BadInput or OutOfRange.
    Source: as unionised_share.
    """
    within(phrase("total ammonia"), total_mg_n_l, 0.0, 1000.0, "mg N/L")
    return total_mg_n_l * unionised_share(temperature_c, salinity, ph, scale)
