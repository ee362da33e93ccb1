"""What is believed of a season before it begins: the profile's numbers as distributions."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from protoconch.animals.size import Cover, GrowthPath, cover, growth_path
from protoconch.animals.species import Species
from protoconch.errors import BadInput
from protoconch.hatchery.description import Hatchery
from protoconch.sources.values import SourcedValue
from protoconch.words import say

Numbers = NDArray[np.float64]

UNCERTAIN = (
    "incubation.days", "incubation.q10", "incubation.hatch_share", "competence_days",
    "veliger.survival", "settlement.metamorphosis_share", "post_larva.survival",
    "small_juvenile.survival", "juvenile.survival", "variation.growth_site", "growth.size_cv",
    "variation.batch", "variation.tank",
)  # fmt: skip
"""Site-wide unknowns, in the order in which they are drawn."""


def spread_parameters(value: SourcedValue) -> tuple[float, float, float, float]:
    """Scaled Beta that stands for a sourced value: (a, b, low, width); width 0 where it is fixed.

    pert: Beta on low..high with its mode at the value (Malcolm et al. 1959, from memory).
    """
    number = value.number
    if value.shape == "beta" and value.beta is not None:
        return (*value.beta, 0.0, 1.0)
    if value.low is None or value.high is None or value.high <= value.low:
        return 1.0, 1.0, number, 0.0
    width = value.high - value.low
    return (1.0 + 4.0 * (number - value.low) / width, 1.0 + 4.0 * (value.high - number) / width,
            value.low, width)  # fmt: skip


def draw_value(value: SourcedValue, rng: np.random.Generator, n: int) -> Numbers:
    """Draws of a sourced value from its belief [its unit, shape (n,)]."""
    a, b, low, width = spread_parameters(value)
    if width == 0.0:
        return np.full(n, low)
    if value.shape == "lognormal" and value.low and value.high:
        sd = np.log(value.high / value.low) / (2 * 1.6449)
        return np.asarray(value.number * np.exp(sd * rng.standard_normal(n)))
    return low + width * rng.beta(a, b, n)


@dataclass(frozen=True, slots=True)
class Beliefs:
    """All that the stage model needs to know of species and site.

    uncertain: sourced values by the names in UNCERTAIN.
    reference temperatures [°C]; survival_days: days to which the larval survival belongs [d];
    density: ((age [d], larvae per litre), ...); ration: ((age [d], dry food [g/L per day]), ...);
    path, cover: growth and floor rules; competent_at_induction: share of larvae competent then.
    monthly_c: mean water temperature of each calendar month [°C].
    used: every sourced value that went in.
    """

    uncertain: Mapping[str, SourcedValue]
    incubation_c: float
    veliger_c: float
    growth_c: float
    veliger_survival_days: float
    longest_larval_days: float
    competence_spread: float
    competent_at_induction: float
    density: tuple[tuple[float, float], ...]
    ration_g_l: tuple[tuple[float, float], ...]
    larvae_per_cm2: float
    path: GrowthPath
    cover: Cover
    metamorphosis_sd: float
    growth_batch_sd: float
    period_batch_sd: float
    batch_loss: float
    tank_larval_loss: float
    tank_nursery_loss: float
    anomaly_sd_c: float
    anomaly_correlation: float
    hungry_mortality: float
    fill_after_grading: float
    eggs_per_mass: float
    monthly_c: tuple[float, ...]
    used: tuple[SourcedValue, ...]

    @property
    def post_larva_days(self) -> float:
        """Standard days from settlement to the nursery [d]."""
        return float(self.path.days[1])

    @property
    def small_juvenile_days(self) -> float:
        """Standard days from settlement to the end of the small-juvenile class [d]."""
        return float(self.path.days[2])


def beliefs(species: Species, hatchery: Hatchery, assumed: Mapping[str, SourcedValue]) -> Beliefs:
    """Beliefs for this species in this hatchery, its own numbers before the profile's.

    assumed: the model's own assumptions, from sources/tables/season.toml.

    Raises: BadInput for a feeding regime the profile does not carry; MissingNumber where a number
    that the model cannot do without is unknown.
    """
    if hatchery.regime not in species.regimes:
        known = ", ".join(species.regimes)
        raise BadInput(
            say(
                "Feeding regime '{regime}' is not known for {species}: write one of {known}.",
                regime=hatchery.regime,
                species=say(species.common_name),
                known=known,
            )
        )

    used: dict[str, SourcedValue] = {}

    def value(name: str) -> SourcedValue:
        found = hatchery.own_values.get(name) or assumed.get(name) or species.value(name)
        used[name] = found
        return found

    def steps_of(name: str) -> tuple[tuple[float, float], ...]:
        return tuple((day, number(f"{name}.day_{day:g}")) for day, _ in species.steps(name))

    def number(name: str) -> float:
        return value(name).number

    uncertain = {
        name: value(f"regime.{hatchery.regime}.competence_days" if name == "competence_days"
                    else name)
        for name in UNCERTAIN
    }  # fmt: skip
    for sourced in uncertain.values():
        _ = sourced.number
    ration = f"regime.{hatchery.regime}.ration"
    steps = (
        ((0.0, number(ration)),) if ration in species.values
        else steps_of("veliger.ration")
    )  # fmt: skip
    return Beliefs(
        uncertain=uncertain,
        incubation_c=number("incubation.reference_c"),
        veliger_c=number("veliger.reference_c"),
        growth_c=number("growth.reference_c"),
        veliger_survival_days=number("veliger.survival_days"),
        longest_larval_days=number("veliger.longest_days"),
        competence_spread=number("veliger.competence_spread"),
        competent_at_induction=number("induction.competent_share"),
        density=steps_of("veliger.density"),
        ration_g_l=tuple((day, mg / 1000) for day, mg in steps) if species.larvae_feed else (),
        larvae_per_cm2=number("settlement.larvae_per_cm2"),
        path=growth_path(number),
        cover=cover(number),
        metamorphosis_sd=number("variation.metamorphosis"),
        growth_batch_sd=number("variation.growth_batch"),
        period_batch_sd=number("variation.larval_period"),
        batch_loss=number("loss.batch_share"),
        tank_larval_loss=number("loss.tank_larval_share"),
        tank_nursery_loss=number("loss.tank_nursery_share"),
        anomaly_sd_c=number("water.anomaly_sd_c"),
        anomaly_correlation=number("water.anomaly_day_correlation"),
        hungry_mortality=number("hunger.mortality_factor"),
        fill_after_grading=number("nursery.fill_after_grading"),
        eggs_per_mass=number("eggs.per_unit"),
        monthly_c=hatchery.temperature_c,
        used=tuple(used.values()),
    )
