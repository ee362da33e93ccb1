"""The season report: one page that opens without a network and needs no script."""

from collections.abc import Sequence
from datetime import date

from protoconch.algae.chain.answer import AlgaeAnswer
from protoconch.season.answer import SeasonPlan
from protoconch.sheets.algae_section import algae_section
from protoconch.sheets.look import Html, page, paragraph, tag
from protoconch.sheets.season_report.answer import (
    answer_cards,
    answer_written,
    limits_card,
    offers_card,
    opening,
)
from protoconch.sheets.season_report.assumptions import assumptions_card
from protoconch.sheets.season_report.batches import batches_card, genetics_card
from protoconch.sheets.season_report.calendar import calendar_card
from protoconch.sheets.season_report.cautions import cautions_card
from protoconch.sheets.season_report.season_pictures import season_card
from protoconch.sheets.season_report.task import TaskLike
from protoconch.sheets.site_report import site_section
from protoconch.waterworks.assessment import Assessment
from protoconch.words import say

__all__ = ["TaskLike", "answer_written", "season_report"]


def season_report(
    plan: SeasonPlan,
    tasks: Sequence[TaskLike],
    printed: date,
    site: Assessment | None = None,
    algae: AlgaeAnswer | None = None,
) -> str:
    """The report of a plan as one HTML page, complete in itself.

    tasks: the work list of the season, any order; printed: the day on the page, and the line
    "today" in the pictures. site: the seawater system judged, algae: the algae room's
    schedule, where the hatchery describes them.
    Returns: the text of the file.
    """
    return page(
        f"{answer_written(plan)} - {plan.hatchery.name}",
        opening(plan, printed),
        _contents(plan, site, algae),
        answer_cards(plan),
        offers_card(plan),
        season_card(plan, printed),
        limits_card(plan),
        batches_card(plan),
        calendar_card(plan, tasks, printed),
        genetics_card(plan),
        Html(algae_section(algae) if algae else ""),
        Html(site_section(site) if site else ""),
        cautions_card(),
        assumptions_card(plan),
        _colophon(plan),
    )


_PARTS = (
    ("odds", say("The odds")),
    ("offers", say("Offers")),
    ("season", say("The season")),
    ("limits", say("Limits")),
    ("batches", say("Batches")),
    ("work", say("Work")),
    ("families", say("Families")),
    ("algae-food", say("Algae")),
    ("site-glance", say("Water")),
    ("care", say("Take care")),
    ("assumptions", say("Assumptions")),
)


def _contents(plan: SeasonPlan, site: Assessment | None, algae: AlgaeAnswer | None) -> Html:
    absent = set() if plan.offers else {"offers"}
    absent |= set() if site else {"site-glance"}
    absent |= set() if algae else {"algae-food"}
    absent |= set() if plan.batches else {"batches", "families"}
    if not any(batch.released.mean for batch in plan.batches):
        absent.add("families")
    links = [
        tag("li", tag("a", words, href=f"#{id_}")) for id_, words in _PARTS if id_ not in absent
    ]
    return tag("nav", tag("ul", *links), aria_label=say("Parts of this report"))


def _colophon(plan: SeasonPlan) -> Html:
    words = say(
        "Made by Protoconch, seed {seed}: the same seed gives the same report.", seed=plan.seed
    )
    return tag("footer", paragraph(words, class_="quiet"))
