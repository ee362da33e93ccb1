"""Names of vessels and batches as the crew and the log use them."""

from protoconch.season.answer import SeasonPlan, TankUse


def name_of(tank: TankUse) -> str:
    """A larval tank as the crew calls it: "large tank 2"."""
    kind = tank.kind if "tank" in tank.kind.lower() else f"{tank.kind} tank"
    return f"{kind} {tank.number}"


def code_in_log(plan: SeasonPlan, letter: str) -> str:
    """What the log calls a batch of the plan: "27A" for A of the season that begins in 2027."""
    return f"{plan.hatchery.first_day.year % 100:02d}{letter}"
