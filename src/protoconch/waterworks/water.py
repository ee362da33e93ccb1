"""The water that runs through the parts, at one temperature and salinity."""

from dataclasses import dataclass
from functools import cache

from protoconch.seawater.state import density_kg_m3, viscosity_pa_s

GRAVITY_M_S2 = 9.80665
"""Standard gravity (CGPM 1901)."""
L_MIN_PER_M3_S = 60_000.0
PA_PER_PSI = 6894.757293168
L_PER_US_GALLON = 3.785411784


@dataclass(frozen=True, slots=True)
class Water:
    """Water as pipes feel it.

    temperature_c: [°C]. salinity: practical [-]. density_kg_m3: [kg/m³]. viscosity_pa_s: [Pa s].
    """

    temperature_c: float
    salinity: float
    density_kg_m3: float
    viscosity_pa_s: float

    @property
    def kinematic_m2_s(self) -> float:
        """Kinematic viscosity [m²/s]."""
        return self.viscosity_pa_s / self.density_kg_m3

    @property
    def kpa_per_m(self) -> float:
        """Pressure of one metre of this water [kPa/m]."""
        return self.density_kg_m3 * GRAVITY_M_S2 / 1000


@cache
def water_at(temperature_c: float, salinity: float) -> Water:
    """Water at a temperature [°C], 0 to 40, and a practical salinity [-], 0 to 42.

    Raises: BadInput or OutOfRange.
    Source: density TEOS-10; viscosity Sharqawy, Lienhard & Zubair 2010.
    """
    return Water(
        temperature_c,
        salinity,
        density_kg_m3(temperature_c, salinity),
        viscosity_pa_s(temperature_c, salinity),
    )
