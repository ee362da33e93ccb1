"""Whether an entry can be true at all beside those before it; if not, it waits for a person."""

from collections.abc import Mapping
from dataclasses import dataclass
from math import exp, log, sqrt

from protoconch.sources.values import SourcedValue


@dataclass(frozen=True, slots=True)
class Doubting:
    """How far an entry may be from what the vessel can hold. From sources/tables/outlook.toml."""

    steps: float
    daily_loss: float
    clumping_k: float
    stocking_error: float

    def of_count(
        self, found: float, held: float, days: float, counted: float, aliquots: int
    ) -> str:
        """Why a count is doubtful, empty where it is not.

        found: animals as counted; held: as known so far; days: since then; counted: animals really
        looked at, in so many aliquots (0 where all were counted).
        """
        chance = 1.0 / max(counted, 1.0) + (1.0 / (aliquots * self.clumping_k) if aliquots else 0)
        sd = sqrt(chance + 2.0 * self.stocking_error**2)
        most = max(held, 1.0) * exp(self.steps * sd)
        least = held * exp(-self.daily_loss * max(days, 1.0) - self.steps * sd)
        if found > most + 3.0:
            return (
                f"{found:,.0f} animals were counted where there can be about {held:,.0f}: "
                f"{_times(found, held)} too many. Count again, or confirm it."
            )
        if held * sd > 0.0 and found < least and least > 3.0:
            return (
                f"{found:,.0f} animals were counted where about {held:,.0f} were "
                f"{days:.0f} days before: confirm it, or count again."
            )
        return ""

    def of_length(self, mean_mm: float, least_mm: float, most_mm: float) -> str:
        """Why a mean shell length is doubtful, empty where it is not."""
        if mean_mm < least_mm or mean_mm > most_mm:
            return (
                f"A mean shell length of {mean_mm:g} mm was measured where {least_mm:.2g} to "
                f"{most_mm:.2g} mm would be possible: measure again, or confirm it."
            )
        return ""


def doubting(counting: Mapping[str, SourcedValue]) -> Doubting:
    """The limits of belief. counting: sources/tables/outlook.toml."""
    return Doubting(
        counting["doubt.steps"].number, counting["doubt.daily_loss"].number,
        counting["count.clumping_k"].number, counting["count.stocking_error"].number,
    )  # fmt: skip


def _times(found: float, held: float) -> str:
    factor = found / max(held, 1.0)
    return f"{factor:.0f} times" if factor >= 1.5 else f"{log(factor) * 100:.0f} %"
