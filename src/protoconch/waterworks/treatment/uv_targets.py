"""What a dose is known to do, organism by organism: never one number for all."""

from dataclasses import dataclass

import numpy as np

from protoconch.errors import UnknownName
from protoconch.seawater.ranges import within
from protoconch.waterworks.parameters import table
from protoconch.words import phrase, say

NOT_KILLED = say(
    "UV at these doses does not stop ciliates (they need 180 to 900 mJ/cm²), most mould threads, "
    "or anything riding inside a particle; it leaves nothing behind in the water, so pipes and "
    "tanks are colonised again. Ciliates are a matter of filtering to 5 µm or finer, drying out "
    "and bleach."
)
LT2_NOTE = say(
    "Logs of the US rule hold for reactors proved by test; a worked-out dose earns no log credit."
)


@dataclass(frozen=True, slots=True)
class TargetReached:
    """One published dose, and whether today's dose reaches it.

    organism, kind, effect: in words. dose_mj_cm2: published [mJ/cm²]. reached: yes or no.
    source: id in references.toml.
    """

    organism: str
    kind: str
    dose_mj_cm2: float
    effect: str
    source: str
    reached: bool


def targets_reached(dose_mj_cm2: float) -> tuple[TargetReached, ...]:
    """All published doses with the answer for today's, easiest first.

    dose_mj_cm2: [mJ/cm²], 0 or more.
    Raises: BadInput or OutOfRange.
    """
    within(phrase("dose"), dose_mj_cm2, 0.0, 1e6, "mJ/cm²")
    rows = sorted(table("uv")["targets"], key=lambda row: float(row["dose"]))
    return tuple(
        TargetReached(
            say(row["organism"]),
            say(row["kind"]),
            float(row["dose"]),
            say(row["effect"]),
            row["source"],
            dose_mj_cm2 >= row["dose"],
        )
        for row in rows
    )


def lt2_organisms() -> tuple[str, ...]:
    """Organisms of the US rule."""
    return tuple(table("uv")["lt2"]["doses"])


def lt2_log(organism: str, dose_mj_cm2: float) -> float:
    """Log of inactivation that a proved reactor earns at a dose [-], at most 4.

    organism: as lt2_organisms lists. dose_mj_cm2: [mJ/cm²], 0 or more.
    Raises: UnknownName; BadInput or OutOfRange.
    Source: US EPA 2006, LT2ESWTR, 40 CFR 141.720; straight lines between the printed doses.
    """
    rule = table("uv")["lt2"]
    if organism not in rule["doses"]:
        raise UnknownName(
            say(
                "The rule has no {organism!r}; it has {names}.",
                organism=organism,
                names=", ".join(rule["doses"]),
            )
        )
    within(phrase("dose"), dose_mj_cm2, 0.0, 1e6, "mJ/cm²")
    return float(np.interp(dose_mj_cm2, [0, *rule["doses"][organism]], [0, *rule["log"]]))
