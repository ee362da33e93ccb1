"""How sure a count of cells is, how many more to count, and what stops the feeding of larvae."""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from protoconch.bench.chambers import ChamberCount
from protoconch.bench.limits import Limits
from protoconch.errors import BadInput, UnknownName
from protoconch.sources.reading import load_catalogue
from protoconch.sources.reading_toml import did_you_mean
from protoconch.units import not_negative, positive
from protoconch.words import begun, say

Z95 = 1.959963985
"""Standard normal deviate of 95 % limits."""


@dataclass(frozen=True, slots=True)
class CultureCount:
    """The density of a culture from several loadings.

    per_ml: mean [cells/mL]. limits: 95 %, with the errors of filling and pipetting. cv: their
    coefficient of variation. dispersion: index over its degrees of freedom, about 1 for cells at
    random, nan for one loading. recount: a reason to count again, or empty.
    """

    per_ml: float
    limits: Limits
    cv: float
    dispersion: float
    recount: str


@dataclass(frozen=True, slots=True)
class FeedVerdict:
    """What may be fed with a culture after a look through the microscope, and what to do."""

    larvae: bool
    post_larvae: bool
    what_to_do: tuple[str, ...]


def count_cv(cells: float, chambers: int = 1, pipettings: int = 1, *, clumped: bool = False
             ) -> float:  # fmt: skip
    """Coefficient of variation of a count with filling and pipetting [-].

    cells: counted in all. chambers: loadings. pipettings: samples drawn. clumped: widen the part
        of the cells by 1.4.
    Raises: BadInput.
    Source: Berkson, Magath & Hurn 1940, Am J Physiol 128:309, coefficients from memory; clumping
        Salonen, Salmi & Keskitalo 2021, J Plankton Res 43:846-852.
    """
    positive(cells, "cells", say("cells counted"))
    positive(chambers, "1", "chambers")
    positive(pipettings, "1", "pipettings")
    table = load_catalogue("algae_counting")
    parts = table["berkson"]
    wider = table["salonen"]["factor"].number if clumped else 1.0
    variance = (parts["field"].number * wider) ** 2 / cells
    variance += parts["chamber"].number ** 2 / chambers + parts["pipette"].number ** 2 / pipettings
    return math.sqrt(variance) / 100


def cells_for_precision(precision: float, *, clumped: bool = False) -> int:
    """Cells to count so that 95 % limits are within a share of the count, chambers set aside.

    precision: e.g. 0.1. clumped: with the factor of 1.4.
    Raises: BadInput.
    Source: n = (1.96/p)², Poisson; factor as in `count_cv`.
    """
    positive(precision, "1", "precision")
    wider: float = load_catalogue("algae_counting")["salonen"]["factor"].number if clumped else 1.0
    return math.ceil((Z95 * wider / precision) ** 2 * (1 - 1e-9))


def more_cells(
    counted: float, precision: float, *, chambers: int = 1, pipettings: int = 1
) -> int | None:
    """Cells still to count for limits within `precision`, with filling and pipetting.

    Returns: 0 where it is reached; None where more cells cannot reach it: load and draw more.
    Raises: BadInput.
    """
    not_negative(counted, "cells", say("cells counted"))
    positive(precision, "1", "precision")
    positive(chambers, "1", "chambers")
    positive(pipettings, "1", "pipettings")
    parts = load_catalogue("algae_counting")["berkson"]
    fixed = parts["chamber"].number ** 2 / chambers + parts["pipette"].number ** 2 / pipettings
    left: float = (100 * precision / Z95) ** 2 - fixed
    if left <= 0:
        return None
    field: float = parts["field"].number ** 2
    return max(0, math.ceil(field / left * (1 - 1e-12) - counted))


def culture_count(counts: Sequence[ChamberCount], cells: Sequence[float], samples: int = 1
                  ) -> CultureCount:  # fmt: skip
    """Density of a culture from loadings of one or more samples.

    counts: one for each loading, same chamber area, dilution and fixative. cells: counted in each.
    samples: how often a sample was drawn from the culture.
    Returns: limits from the error of the cells, the filling and the pipetting, widened by the
        root of the dispersion where the loadings differ by more than chance.
    Raises: BadInput, where the lists do not fit or nothing was counted.
    Source: `count_cv`; dispersion index, Elliott 1971, Freshwater Biological Association 25.
    """
    if not counts or len(counts) != len(cells) or not sum(cells) > 0 or min(cells) < 0:
        raise BadInput(say("Give at least one loading with cells in it, and the cells of each."))
    mean = sum(count.per_ml for count in counts) / len(counts)
    cv = count_cv(sum(cells), len(counts), samples)
    dispersion = math.nan
    if len(counts) > 1:
        middle = sum(cells) / len(cells)
        dispersion = sum((c - middle) ** 2 for c in cells) / middle / (len(cells) - 1)
        cv *= math.sqrt(max(1.0, dispersion))
    reach = math.exp(Z95 * math.sqrt(math.log1p(cv**2)))
    return CultureCount(mean, Limits(mean / reach, mean * reach), cv, dispersion, _recount(cells))


def _recount(cells: Sequence[float]) -> str:
    table = load_catalogue("algae_counting")["chamber"]
    middle = sum(cells) / len(cells)
    share, least = table["loadings_differ"].number, table["least_cells"].number
    if max(cells) - min(cells) > share * middle:
        return say(
            "The loadings differ by more than {share:.0%} of their mean: mix and count again.",
            share=share,
        )
    if min(cells) < least:
        return say("Fewer than {least:g} cells in a loading: count more squares.", least=least)
    return ""


def dilution_for(expected_per_ml: float) -> int:
    """Dilution that brings a culture to a density that can be counted: whole, 1 or more.

    Source: range of PLoS One 2015 e0135725, Table 2; the middle as common practice, no source.
    """
    positive(expected_per_ml, "cells/mL", say("expected density"))
    target: float = load_catalogue("algae_counting")["chamber"]["target_per_ml"].number
    return max(1, math.ceil(expected_per_ml / target * (1 - 1e-12)))


def feed_verdict(
    notes: Iterable[str], *, age_d: float = 0.0, age_limit_d: float = math.inf, ph: float = 8.0,
    tcbs_per_ml: float = 0.0,
) -> FeedVerdict:  # fmt: skip
    """Whether larvae and post-larvae may be fed with a culture.

    notes: what was seen, by the names of the table: "ciliates", "clumps" ... age_d: since
        inoculation. age_limit_d: of the species. ph: of the culture. tcbs_per_ml: colonies.
    Raises: UnknownName; BadInput, where a number is not one: what is not known is not fed.
    Source: common practice, no source.
    """
    not_negative(age_d, "days", "age")
    not_negative(ph, "1", "pH")
    not_negative(tcbs_per_ml, "per mL", say("Vibrio-like colonies"))
    table = load_catalogue("algae_counting")
    larvae = post_larvae = True
    said: list[str] = []
    for note in notes:
        if note not in table["notes"]:
            known = tuple(table["notes"])
            raise UnknownName(
                say(
                    "There is no note {note}; there are {known}.{near}",
                    note=note,
                    known=", ".join(known),
                    near=did_you_mean(note, known),
                )
            )
        seen = table["notes"][note]
        larvae, post_larvae = larvae and seen["larvae"], post_larvae and seen["post_larvae"]
        said.append(say("{seen}: {do}", seen=begun(say(seen["name"])), do=say(seen["what_to_do"])))
    if not age_d <= age_limit_d:
        larvae = False
        said.append(
            say(
                "It is {age_d:g} days old, past {age_limit_d:g}: not for larvae.",
                age_d=age_d,
                age_limit_d=age_limit_d,
            )
        )
    if ph > table["ph"]["most"].number:
        larvae = False
        said.append(say("Its pH is {ph:g}: not for larvae; give it air with a little CO2.", ph=ph))
    if tcbs_per_ml > table["vibrio"]["tcbs_per_ml"].number:
        larvae = post_larvae = False
        said.append(say("Too many Vibrio-like colonies: discard it."))
    return FeedVerdict(larvae, post_larvae, tuple(said))
