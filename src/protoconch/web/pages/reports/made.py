"""Reports made from a plan, kept while the plan and what they tell of stays."""

from collections.abc import Sequence
from datetime import date, timedelta

from django.utils.safestring import SafeString, mark_safe

from protoconch.algae.chain.answer import AlgaeAnswer
from protoconch.pictures.season_words import as_in_log
from protoconch.season.answer import SeasonPlan
from protoconch.sheets.season_report import season_report
from protoconch.sheets.season_report.answer import answer_cards, limits_card, offers_card
from protoconch.sheets.season_report.assumptions import assumptions_card
from protoconch.sheets.season_report.batches import batches_card, genetics_card
from protoconch.sheets.season_report.calendar import calendar_card, month_card
from protoconch.sheets.season_report.cautions import cautions_card
from protoconch.web.shell.kept import ByReader
from protoconch.work.algae_now import coded
from protoconch.work.season_work import SeasonWork
from protoconch.work.task import Task

_kept = ByReader(20)


def _tasks(plan: SeasonPlan, algae: AlgaeAnswer | None) -> tuple[Task, ...]:
    def make() -> tuple[Task, ...]:
        """All tasks, with the batches as the log calls them."""
        return tuple(coded(plan, task) for task in SeasonWork(as_in_log(plan), algae).tasks())

    return _kept.of(plan, "tasks", make, algae)


def parts(plan: SeasonPlan) -> SafeString:
    """The season report's parts, without pictures and work, as markup."""

    def make() -> SafeString:
        cards = (answer_cards, offers_card, limits_card, batches_card, genetics_card)
        named = as_in_log(plan)
        return _markup("".join(card(named) for card in cards) + cautions_card())

    return _kept.of(plan, "parts", make)


def assumptions(plan: SeasonPlan) -> SafeString:
    """Every number the plan rests on, as markup."""
    return _kept.of(plan, "assumptions", lambda: _markup(assumptions_card(plan)))


def whole_report(plan: SeasonPlan, algae: AlgaeAnswer | None, today: date) -> str:
    """The season report as one file that needs no network."""

    def make() -> str:
        return season_report(as_in_log(plan), _tasks(plan, algae), today, algae=algae)

    return _kept.of(plan, ("whole", today), make, algae)


def two_weeks(plan: SeasonPlan, algae: AlgaeAnswer | None, today: date) -> SafeString:
    """The next two weeks and the hours of the months, as markup."""
    return _kept.of(
        plan, ("weeks", today),
        lambda: _markup(calendar_card(plan, _tasks(plan, algae), today, whole=False)), algae,
    )  # fmt: skip


def months(plan: SeasonPlan, algae: AlgaeAnswer | None) -> Sequence[date]:
    """The months that have work."""
    return list(dict.fromkeys(task.day.replace(day=1) for task in _tasks(plan, algae)))


def one_month(plan: SeasonPlan, algae: AlgaeAnswer | None, month: date) -> SafeString:
    """The work of a month, as markup."""
    beyond = (month + timedelta(days=32)).replace(day=1)

    def make() -> SafeString:
        mine = [task for task in _tasks(plan, algae) if month <= task.day < beyond]
        return _markup(month_card(month, mine))

    return _kept.of(plan, ("month", month), make, algae)


def _markup(made: str) -> SafeString:
    return mark_safe(made)  # noqa: S308 - sheets.look escapes what people typed
