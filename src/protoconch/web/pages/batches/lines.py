"""The batches as lines of a list: those in the log, and those that are planned."""

from dataclasses import dataclass
from datetime import date

from django.utils.formats import date_format
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from protoconch.hatchery.description import Hatchery
from protoconch.log.state import BatchState, State
from protoconch.pictures.counted import Expected, against, expected, numbers_seen
from protoconch.pictures.season_ahead import as_of_log
from protoconch.pictures.words import about, counted
from protoconch.records.queries.outlook import LookedAhead
from protoconch.season.answer import Batch, DailyBatch, SeasonPlan
from protoconch.words import joined
from protoconch.work.names import code_in_log

STAGES = {
    "egg": gettext_lazy("eggs"), "veliger": gettext_lazy("larvae"),
    "post-larva": gettext_lazy("post-larvae"),
    "juvenile": gettext_lazy("juveniles"),
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Known:
    """A batch as the log has it, beside the batch of the plan where there is one.

    daily: along time as planned. ahead: what the outlooks of the log make of it.
    """

    code: str
    state: BatchState | None
    planned: Batch | None
    daily: DailyBatch | None
    ahead: LookedAhead | None = None

    @property
    def begun(self) -> bool:
        """Whether the log has heard of it."""
        return self.state is not None

    @property
    def line(self) -> DailyBatch | None:
        """The batch along time by the outlook now, as planned where there is none."""
        return as_of_log(self.daily, self.code, self.ahead.outlook if self.ahead else None)

    def hoped(self, day: date) -> Expected | None:
        """What the last outlook before a day gave for it; None where none did."""
        found = self.ahead.expected_on(self.code, day) if self.ahead else None
        return Expected(*found) if found else None


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


def known(
    plan: SeasonPlan | None, state: State, ahead: LookedAhead | None = None
) -> tuple[Known, ...]:  # fmt: skip
    """All batches: those of the plan in its order, then the others of the log, the latest first."""
    found = []
    if plan is not None:
        for batch, daily in zip(plan.batches, plan.forecast.batches, strict=True):
            code = code_in_log(plan, batch.code)
            found.append(Known(code, state.batches.get(code), batch, daily, ahead))
    planned = {one.code for one in found}
    others = sorted(set(state.batches) - planned, reverse=True)
    return (*found, *(Known(code, state.batches[code], None, None, ahead) for code in others))


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
        hoped = hoped_on(one, plan, last.day)
        beside = against(last, hoped) if hoped is not None else ""
    return Line(one.code, stage(one.state, state), where(one.state), alive(one.state), limits,
                beside, begun=True)  # fmt: skip


def hoped_on(one: Known, plan: SeasonPlan | None, day: date) -> Expected | None:
    """What was expected of a batch on a day: by the outlook before it, else by the plan."""
    hoped = one.hoped(day)
    if hoped is None and one.daily is not None and plan is not None:
        return expected(one.daily, plan.forecast.first_day, day)
    return hoped


def alive(batch: BatchState) -> str:
    """The number alive by the ledger; nothing for eggs, which are in no account."""
    return counted(batch.account.alive) if batch.account.stocked else ""


def stage(batch: BatchState, state: State) -> str:
    """The stage or stages that its vessels hold."""
    words = [state.holdings[name].stage for name in batch.vessels if name in state.holdings]
    named = [str(STAGES.get(word, word)) for word in dict.fromkeys(words)]
    if named:
        return joined(named, ", ")
    return _("released") if batch.account.released else _("none left")


def where(batch: BatchState) -> str:
    """Its vessels, in words."""
    names = batch.vessels
    if len(names) <= 3:
        return joined(names, ", ")
    return _("%(first)s and %(more)s more") % {"first": names[0], "more": len(names) - 1}


def today_in(plan: SeasonPlan, today: date) -> date | None:
    """Today, where it lies in the season of the plan."""
    inside = plan.forecast.first_day <= today <= plan.target.by
    return today if inside else None
