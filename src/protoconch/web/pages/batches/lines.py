"""The batches as lines of a list: those in the log, and those that are planned."""

from dataclasses import dataclass
from datetime import date

from django.utils.formats import date_format
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from protoconch.hatchery.description import Hatchery
from protoconch.log.state import BatchState, State
from protoconch.pictures.counted import against, expected, numbers_seen
from protoconch.pictures.words import about, counted
from protoconch.season.answer import Batch, DailyBatch, SeasonPlan
from protoconch.work.names import code_in_log

STAGES = {
    "egg": gettext_lazy("eggs"), "veliger": gettext_lazy("larvae"),
    "post-larva": gettext_lazy("post-larvae"),
    "juvenile": gettext_lazy("juveniles"),
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Known:
    """A batch as the log has it, beside the batch of the plan where there is one."""

    code: str
    state: BatchState | None
    planned: Batch | None
    daily: DailyBatch | None

    @property
    def begun(self) -> bool:
        """Whether the log has heard of it."""
        return self.state is not None


@dataclass(frozen=True, slots=True)
class Line:
    """One line of the list. limits: of the last count. against: beside what the plan expects."""

    code: str
    stage: str
    where: str
    alive: str
    limits: str
    against: str
    begun: bool


def known(plan: SeasonPlan | None, state: State) -> tuple[Known, ...]:
    """All batches: those of the plan in its order, then the others of the log, the latest first."""
    found = []
    if plan is not None:
        for batch, daily in zip(plan.batches, plan.forecast.batches, strict=True):
            code = code_in_log(plan, batch.code)
            found.append(Known(code, state.batches.get(code), batch, daily))
    planned = {one.code for one in found}
    others = sorted(set(state.batches) - planned, reverse=True)
    return (*found, *(Known(code, state.batches[code], None, None) for code in others))


def line(one: Known, plan: SeasonPlan | None, state: State, here: Hatchery) -> Line:
    """The line of a batch."""
    if one.state is None:
        day = date_format(one.planned.dates.collect, "DATE_FORMAT") if one.planned else ""
        return Line(one.code, _("planned"), _("to be collected on %(day)s") % {"day": day}, "", "",
                    "", begun=False)  # fmt: skip
    seen = numbers_seen(one.state, state, here)
    limits = beside = ""
    if seen:
        last = seen[-1]
        numbers = {"low": about(last.low, 3), "high": about(last.high, 3),
                   "day": date_format(last.day, "j M")}  # fmt: skip
        exact = _("all counted on %(day)s") % numbers
        limits = (
            exact
            if last.low == last.high
            else (_("%(low)s to %(high)s by the count of %(day)s") % numbers)
        )
        if one.daily is not None and plan is not None:
            beside = against(last, expected(one.daily, plan.forecast.first_day, last.day))
    return Line(one.code, stage(one.state, state), where(one.state), alive(one.state), limits,
                beside, begun=True)  # fmt: skip


def alive(batch: BatchState) -> str:
    """The number alive by the ledger; nothing for eggs, which are in no account."""
    return counted(batch.account.alive) if batch.account.stocked else ""


def stage(batch: BatchState, state: State) -> str:
    """The stage or stages that its vessels hold."""
    words = [state.holdings[name].stage for name in batch.vessels if name in state.holdings]
    named = [str(STAGES.get(word, word)) for word in dict.fromkeys(words)]
    if named:
        return ", ".join(named)
    return _("released") if batch.account.released else _("none left")


def where(batch: BatchState) -> str:
    """Its vessels, in words."""
    names = batch.vessels
    if len(names) <= 3:
        return ", ".join(names)
    return _("%(first)s and %(more)s more") % {"first": names[0], "more": len(names) - 1}


def today_in(plan: SeasonPlan, today: date) -> date | None:
    """Today, where it lies in the season of the plan."""
    inside = plan.forecast.first_day <= today <= plan.target.by
    return today if inside else None
