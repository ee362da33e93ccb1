"""One thing that is wrong, or good to know, with what would put it right."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal, get_args

Weight = Literal["danger", "fault", "weakness", "note"]
"""danger: people or all animals can come to harm; fault: it does not do its job; weakness: it
works and would better be changed; note: good to know."""
WEIGHTS: tuple[Weight, ...] = get_args(Weight)


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing found. where: name of a place or part. what, remedy: sentences.

    subject: what it is about, in a word or two. source: where the limit comes from.
    """

    weight: Weight
    subject: str
    where: str
    what: str
    remedy: str
    source: str


def ranked(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Findings by weight, heaviest first; within a weight in the order given; none twice."""
    return tuple(sorted(dict.fromkeys(findings), key=lambda finding: WEIGHTS.index(finding.weight)))
