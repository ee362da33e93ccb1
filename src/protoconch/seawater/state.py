"""What seawater weighs, how stiff it is, what heat it holds, and how salt it is."""

from protoconch.errors import OutOfRange
from protoconch.seawater.ranges import within
from protoconch.seawater.teos10 import (
    MOST_SALINITY,
    checked_salinity,
    checked_temperature,
    gibbs_seawater,
    reference_salinity_g_kg,
)
from protoconch.words import phrase


def density_kg_m3(temperature_c: float, salinity: float, pressure_dbar: float = 0.0) -> float:
    """Density of seawater [kg/m³].

    temperature_c: in-situ temperature on the scale of 1990 [°C], -2 to 40.
    salinity: practical salinity [-], 0 to 42.
    pressure_dbar: pressure of the water above, 0 at the surface [dbar].
    Raises: BadInput or OutOfRange.
    Source: IOC, SCOR & IAPSO 2010, The international thermodynamic equation of seawater (TEOS-10).
    """
    within(phrase("pressure"), pressure_dbar, 0.0, 10_000.0, phrase("dbar"))
    salt = reference_salinity_g_kg(salinity)
    return float(
        gibbs_seawater().rho_t_exact(salt, checked_temperature(temperature_c), pressure_dbar)
    )


def heat_capacity_j_kg_k(temperature_c: float, salinity: float) -> float:
    """Heat that warms one kilogram of seawater by one degree [J/(kg K)], at the surface.

    temperature_c: [°C], -2 to 40. salinity: practical salinity [-], 0 to 42.
    Raises: BadInput or OutOfRange.
    Source: IOC, SCOR & IAPSO 2010 (TEOS-10).
    """
    salt = reference_salinity_g_kg(salinity)
    return float(gibbs_seawater().cp_t_exact(salt, checked_temperature(temperature_c), 0.0))


def heat_of_evaporation_j_kg(temperature_c: float, salinity: float) -> float:
    """Heat that one kilogram of evaporating water takes along [J/kg].

    temperature_c: [°C], 0 to 40. salinity: practical salinity [-], 0 to 42.
    Raises: BadInput or OutOfRange.
    Source: IOC, SCOR & IAPSO 2010 (TEOS-10).
    """
    within(phrase("temperature"), temperature_c, 0.0, 40.0, "°C")
    salt = reference_salinity_g_kg(salinity)
    return float(gibbs_seawater().latentheat_evap_t(salt, temperature_c))


def viscosity_pa_s(temperature_c: float, salinity: float) -> float:
    """Dynamic viscosity of seawater [Pa s], known to about 1.5 %.

    temperature_c: [°C], 0 to 40. salinity: practical salinity [-], 0 to 42.
    Raises: BadInput or OutOfRange.
    Source: Sharqawy, Lienhard & Zubair 2010, Desalin. Water Treat. 16:354.
    """
    t = within(phrase("temperature"), temperature_c, 0.0, 40.0, "°C")
    s = reference_salinity_g_kg(salinity) / 1000
    fresh = 4.2844e-5 + 1 / (0.157 * (t + 64.993) ** 2 - 91.296)
    first = 1.541 + 1.998e-2 * t - 9.52e-5 * t**2
    second = 7.974 - 7.561e-2 * t + 4.724e-4 * t**2
    return fresh * (1 + first * s + second * s**2)


def salinity_from_conductivity(conductivity_ms_cm: float, temperature_c: float) -> float:
    """Practical salinity [-] of water of a conductivity read at a temperature.

    conductivity_ms_cm: as the meter shows it with temperature correction off [mS/cm].
    temperature_c: of the water [°C], -2 to 40.
    Raises: BadInput or OutOfRange, also where the salinity would lie outside 0 to 42.
    Source: PSS-78 (Fofonoff & Millard 1983, UNESCO Tech. Pap. Mar. Sci. 44); Hill et al. 1986
    below salinity 2.
    """
    within(
        phrase("conductivity"),
        conductivity_ms_cm,
        0.0,
        100.0,
        "mS/cm",
        phrase("In µS/cm divide by 1,000."),
    )
    checked_temperature(temperature_c)
    salinity = float(gibbs_seawater().SP_from_C(conductivity_ms_cm, temperature_c, 0.0))
    return within(phrase("the salinity that this conductivity gives"), salinity, 0.0, MOST_SALINITY)


def conductivity_ms_cm(salinity: float, temperature_c: float) -> float:
    """Conductivity [mS/cm] of water of a practical salinity at a temperature, at the surface.

    salinity: practical salinity [-], 0 to 42. temperature_c: [°C], -2 to 40.
    Raises: BadInput or OutOfRange.
    Source: PSS-78 (Fofonoff & Millard 1983, UNESCO Tech. Pap. Mar. Sci. 44).
    """
    checked_temperature(temperature_c)
    return float(gibbs_seawater().C_from_SP(checked_salinity(salinity), temperature_c, 0.0))


def specific_gravity(temperature_c: float, salinity: float, reference_c: float) -> float:
    """Weight of seawater against fresh water of the hydrometer's reference temperature [-].

    temperature_c: of the seawater [°C]. reference_c: printed on the hydrometer [°C].
    Raises: BadInput or OutOfRange.
    Source: ratio of TEOS-10 densities.
    """
    return density_kg_m3(temperature_c, salinity) / density_kg_m3(reference_c, 0.0)


def salinity_from_hydrometer(reading: float, temperature_c: float, reference_c: float) -> float:
    """Practical salinity [-] from a hydrometer read in the water itself.

    reading: specific gravity [-]. temperature_c: of the water [°C].
    reference_c: printed on the hydrometer [°C]; the glass's own widening is left out.
    Raises: BadInput or OutOfRange, where no salinity from 0 to 42 has that weight.
    Source: inverse of the TEOS-10 density.
    """
    low, high = 0.0, MOST_SALINITY
    least = specific_gravity(temperature_c, low, reference_c)
    most = specific_gravity(temperature_c, high, reference_c)
    if not least <= reading <= most:
        raise OutOfRange(
            phrase("the hydrometer's reading"),
            reading,
            least,
            most,
            "",
            phrase("It belongs to no salinity from 0 to 42 at this temperature."),
        )
    for _ in range(60):
        middle = (low + high) / 2
        if specific_gravity(temperature_c, middle, reference_c) < reading:
            low = middle
        else:
            high = middle
    return (low + high) / 2
