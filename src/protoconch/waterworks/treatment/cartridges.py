"""Cartridges: what pressure they take, clean and loaded, and how long they last by weight."""

from dataclasses import dataclass, replace

import numpy as np

from protoconch.seawater.ranges import more_than_zero, within
from protoconch.waterworks.parameters import number, table
from protoconch.waterworks.water import L_PER_US_GALLON, PA_PER_PSI, Water, water_at
from protoconch.words import phrase

KPA_PER_PSI = PA_PER_PSI / 1000
MOST_LOADED = 0.999


@dataclass(frozen=True, slots=True)
class Stage:
    """One stage of cartridges side by side in one housing.

    rating_um: pore size on the label [µm]; nominal ratings let 10 to 40 % of it through.
    elements: ten-inch lengths side by side; a 20-inch cartridge counts 2 [-].
    clean_kpa_per_l_min: pressure one clean ten-inch element takes in fresh water of 20 °C
        [kPa per L/min]. housing_kpa_per_l_min2: for the housing, with the square of the whole
        flow [kPa per (L/min)²].
    loaded: share of the capacity used [-], 0 to 0.999.
    order: how loading stops it: 1 where the open area shrinks, 2 where pores narrow (Hermia 1982).
    """

    rating_um: float
    elements: float
    clean_kpa_per_l_min: float
    housing_kpa_per_l_min2: float
    loaded: float = 0.0
    order: float = 1.0

    def linear_kpa_per_l_min(self, water: Water) -> float:
        """Pressure for each L/min in this water, without the housing [kPa per L/min]."""
        thickness = water.viscosity_pa_s / water_at(20.0, 0.0).viscosity_pa_s
        clean = self.clean_kpa_per_l_min / self.elements * thickness
        return float(clean / (1 - self.loaded) ** self.order)

    def drop_kpa(self, flow_l_min: float, water: Water) -> float:
        """Pressure taken at a flow [kPa].

        flow_l_min: [L/min], 0 or more.
        Source: Darcy's law for the medium, loading after Hermia 1982, a square law for the housing.
        """
        return (
            self.linear_kpa_per_l_min(water) * flow_l_min
            + self.housing_kpa_per_l_min2 * flow_l_min**2
        )


def stage(
    rating_um: float,
    elements: float,
    clean_kpa_per_l_min: float | None = None,
    loaded: float = 0.0,
) -> Stage:
    """A stage with the data file's figures where the maker's are not given.

    Raises: BadInput or OutOfRange.
    Source: clean drops by rating in cartridges.toml, mostly assumed.
    """
    more_than_zero(phrase("the rating of a cartridge"), rating_um, "µm")
    more_than_zero(phrase("the number of ten-inch lengths"), elements)
    within(phrase("the share loaded"), loaded, 0.0, MOST_LOADED)
    if clean_kpa_per_l_min is None:
        clean_kpa_per_l_min = usual_clean_kpa_per_l_min(rating_um)
    more_than_zero(phrase("the clean pressure drop"), clean_kpa_per_l_min, phrase("kPa per L/min"))
    housing = number("cartridges", "housing_drop") * KPA_PER_PSI / L_PER_US_GALLON**2
    return Stage(rating_um, elements, clean_kpa_per_l_min, housing, loaded)


def usual_clean_kpa_per_l_min(rating_um: float) -> float:
    """Pressure one clean ten-inch element usually takes [kPa per L/min].

    rating_um: [µm]; between the tabled ratings by the logarithm of both, beyond them the last.
    """
    rows = sorted(table("cartridges")["clean_drop"]["by_rating"])
    ratings, drops = zip(*rows, strict=True)
    psi = float(np.exp(np.interp(np.log(rating_um), np.log(ratings), np.log(drops))))
    return psi * KPA_PER_PSI / L_PER_US_GALLON


def with_loading(of: Stage, loaded: float) -> Stage:
    """The same stage, loaded to a share of its capacity [-], 0 to 0.999.

    Raises: BadInput or OutOfRange.
    """
    return replace(of, loaded=within(phrase("the share loaded"), loaded, 0.0, MOST_LOADED))


def loading_at_drop(of: Stage, drop_kpa: float, flow_l_min: float, water: Water) -> float:
    """Share of its capacity [-] that a stage must have used to show a pressure at a flow.

    drop_kpa: read across the stage [kPa]. flow_l_min: at the reading [L/min].
    Returns: 0 where the reading is no higher than clean, up to 0.999.
    Raises: BadInput.
    """
    more_than_zero(phrase("flow"), flow_l_min, phrase("L/min"))
    medium = drop_kpa - of.housing_kpa_per_l_min2 * flow_l_min**2
    clean = with_loading(of, 0.0).linear_kpa_per_l_min(water) * flow_l_min
    if medium <= clean:
        return 0.0
    return float(min(MOST_LOADED, 1 - (clean / medium) ** (1 / of.order)))


def litres_until_full(
    capacity_g: float, solids_mg_l: float, share_caught: float, elements: float
) -> float:
    """Water that fills a stage with dirt [L].

    capacity_g: of one ten-inch element, for the dirt at hand [g]. solids_mg_l: in the water
    [mg/L]. share_caught: by this stage [-], above 0 to 1. elements: ten-inch lengths [-].
    Raises: BadInput or OutOfRange.
    Source: balance of solids.
    """
    more_than_zero(phrase("capacity"), capacity_g, "g")
    more_than_zero(phrase("solids"), solids_mg_l, "mg/L")
    more_than_zero(
        phrase("the share caught"), within(phrase("the share caught"), share_caught, 0.0, 1.0)
    )
    more_than_zero(phrase("the number of ten-inch lengths"), elements)
    return capacity_g * elements * 1000 / (solids_mg_l * share_caught)
