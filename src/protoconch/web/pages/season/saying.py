"""Numbers of the Season pages as words."""

from dataclasses import dataclass
from datetime import datetime
from typing import Any

from django.utils.translation import gettext as _

from protoconch.pictures.words import about, counted, percent
from protoconch.records.models import WhatIf
from protoconch.season.answer import SeasonPlan
from protoconch.season.what_if import Changed
from protoconch.web.pages.season.showing import Shown

SURE = 0.999
"""Odds beyond which a changed season is not told: so few futures are never certain."""


def outlook_told(plan: SeasonPlan, seen: Shown) -> str:
    """What the odds are and are not, given the log.

    The odds shown are the plan's. Where the outlook of the log is to be shown in their place, this
    sentence and `Shown.odds` are what it replaces.
    """
    numbers = {
        "expected": about(plan.expected, 3), "low": about(plan.p10, 3),
        "high": about(plan.p90, 3), "asked": percent(plan.target.confidence),
    }  # fmt: skip
    said = (
        _(
            "Asked: %(asked)s. On average %(expected)s are ready at the date; in eight futures "
            "of ten between %(low)s and %(high)s."
        )
        % numbers
    )
    if seen.account.begun:
        return f"{said} " + _(
            "These odds are the plan's, made before the season: what was counted stands beside "
            "them and does not move them."
        )
    return said


@dataclass(frozen=True, slots=True)
class KeptWords:
    """A changed season that was kept, in words."""

    pk: int
    name: str
    by: str
    made: datetime
    odds: str
    sentence: str
    told: list[str]
    gave: list[str]
    expected: str
    low: str
    high: str


def told_kept(row: WhatIf) -> KeptWords:
    """One that was kept, as its row tells it."""
    answer: dict[str, Any] = row.answer
    return KeptWords(
        row.pk, row.name, row.by, row.made, percent(min(answer["odds"], SURE)), answer["sentence"],
        answer["told"], answer["gave"], about(answer["expected"], 3), about(answer["p10"], 3),
        about(answer["p90"], 3),
    )  # fmt: skip


@dataclass(frozen=True, slots=True)
class ChangedWords:
    """A changed season in words."""

    odds: str
    sentence: str
    told: tuple[str, ...]
    gave: tuple[str, ...]
    expected: str
    planned: str
    low: str
    high: str
    draws: str


def told_changed(changed: Changed, plan: SeasonPlan) -> ChangedWords:
    """What becomes of the season."""
    odds = percent(min(changed.odds.value, SURE))
    return ChangedWords(
        odds[:1].upper() + odds[1:], changed.sentence, changed.told, changed.gave,
        about(changed.expected, 3), about(plan.expected, 3), about(changed.p10, 3),
        about(changed.p90, 3), counted(changed.draws),
    )  # fmt: skip
