"""Whether an entry can be true at all beside those before it; if not, it waits for a person."""

from collections.abc import Mapping
from dataclasses import dataclass
from math import exp, sqrt

from protoconch.sources.values import SourcedValue
from protoconch.words import counted, say


@dataclass(frozen=True, slots=True)
class Doubting:
    """How far an entry may be from what the vessel can hold. From sources/tables/outlook.toml."""

    steps: float
    daily_loss: float
    clumping_k: float
    stocking_error: float

    def of_count(
        self, found: float, held: float, days: float, looked_at: float, aliquots: int
    ) -> str:
        """Why a count is doubtful, empty where it is not.

        found: animals as counted; held: as known so far; days: since then; looked_at: those really
        counted, in so many aliquots (0 where all were counted).
        """
        chance = 1.0 / max(looked_at, 1.0) + (1.0 / (aliquots * self.clumping_k) if aliquots else 0)
        sd = sqrt(chance + 2.0 * self.stocking_error**2)
        most = max(held, 1.0) * exp(self.steps * sd)
        least = held * exp(-self.daily_loss * max(days, 1.0) - self.steps * sd)
        if found > most + 3.0 and found >= 1.5 * max(held, 1.0):
            return say(
                "{found:,.0f} animals were counted where there can be about {held:,.0f}: "
                "{times:.1f} times as many. Count again, or confirm it.",
                found=found, held=held, times=found / max(held, 1.0),
            )  # fmt: skip
        if found > most + 3.0:
            return say(
                "{found:,.0f} animals were counted where there can be about {held:,.0f}: "
                "{percent:.0f} % too many. Count again, or confirm it.",
                found=found, held=held, percent=100 * (found / max(held, 1.0) - 1),
            )  # fmt: skip
        if held * sd > 0.0 and found < least and least > 3.0:
            return self._too_few(found, held, days)
        return ""

    @staticmethod
    def _too_few(found: float, held: float, days: float) -> str:
        if days < 1:
            return say(
                "{found:,.0f} animals were counted where about {held:,.0f} were on the same day: "
                "confirm it, or count again.", found=found, held=held,
            )  # fmt: skip
        return counted(
            round(days),
            "{found:,.0f} animals were counted where about {held:,.0f} were the day before: "
            "confirm it, or count again.",
            "{found:,.0f} animals were counted where about {held:,.0f} were {number} days before: "
            "confirm it, or count again.", found=found, held=held,
        )  # fmt: skip

    def of_length(self, mean_mm: float, least_mm: float, most_mm: float) -> str:
        """Why a mean shell length is doubtful, empty where it is not."""
        if mean_mm < least_mm or mean_mm > most_mm:
            return say(
                "A mean shell length of {mean:.3g} mm was measured where {least:.2g} to {most:.2g} "
                "mm would be possible: measure again, or confirm it.",
                mean=mean_mm, least=least_mm, most=most_mm,
            )  # fmt: skip
        return ""


def doubting(counting: Mapping[str, SourcedValue]) -> Doubting:
    """The limits of belief. counting: sources/tables/outlook.toml."""
    return Doubting(
        counting["doubt.steps"].number, counting["doubt.daily_loss"].number,
        counting["count.clumping_k"].number, counting["count.stocking_error"].number,
    )  # fmt: skip
