"""The season's account: what was collected, hatched, stocked, settled, released, and what is left.

All of it is read off the state of the log; the plan gives the permit and the number asked.
"""

from dataclasses import dataclass, fields
from datetime import date

from protoconch.log.state import Account, BatchState, EggMass, State
from protoconch.pictures.words import counted, day_written
from protoconch.season.answer import SeasonPlan
from protoconch.words import say
from protoconch.work.names import code_in_log


@dataclass(frozen=True, slots=True)
class BatchLine:
    """One batch of the account. letter: in the plan, empty where the plan has no such batch."""

    code: str
    letter: str
    masses: tuple[str, ...]
    eggs: int | None
    hatched: date | None
    settled: int | None
    account: Account


@dataclass(frozen=True, slots=True)
class PermitUse:
    """Egg masses taken in a season under a permit, of those that it allows."""

    number: str
    taken: int
    allowed: int


@dataclass(frozen=True, slots=True)
class SeasonAccount:
    """All batches and egg masses of a season, their sums, and the permit."""

    batches: tuple[BatchLine, ...]
    masses: tuple[EggMass, ...]
    total: Account
    settled: int
    permit: PermitUse

    @property
    def begun(self) -> bool:
        """Whether the log has anything of this season."""
        return bool(self.batches or self.masses)


def season_account(plan: SeasonPlan, state: State) -> SeasonAccount:
    """The account of the season that the plan is of, as the log has it."""
    letters = {code_in_log(plan, batch.code): batch.code for batch in plan.batches}
    year = code_in_log(plan, "")
    lines = tuple(
        _line(state.batches[code], letters.get(code, ""))
        for code in sorted(state.batches)
        if code in letters or code.startswith(year)
    )
    hatchery = plan.hatchery
    masses = tuple(
        mass
        for mass in sorted(state.masses.values(), key=lambda each: (each.collected, each.mass))
        if mass.collected.date() >= hatchery.first_day
        and (mass.collected.date() <= hatchery.last_day or mass.batch in letters)
    )
    total = Account(
        *(sum(getattr(line.account, part.name) for line in lines) for part in fields(Account))
    )
    permit = PermitUse(hatchery.permit.number, len(masses), hatchery.permit.egg_masses)
    settled = sum(line.settled or 0 for line in lines)
    return SeasonAccount(lines, masses, total, settled, permit)


def _line(batch: BatchState, letter: str) -> BatchLine:
    last = {seen.where: round(seen.value) for seen in batch.sightings if seen.kind == "settled"}
    return BatchLine(
        batch.code, letter, batch.masses, batch.eggs,
        batch.hatched.date() if batch.hatched else None,
        sum(last.values()) if last else None, batch.account,
    )  # fmt: skip


def account_written(account: SeasonAccount, plan: SeasonPlan, today: date) -> str:
    """The account in one sentence: the page's title."""
    if not account.begun:
        return say("Nothing of this season is in the log yet")
    total = account.total
    if today > plan.target.by:
        return say(
            "The season ended on {day}: {released} released, of {asked} asked",
            day=day_written(plan.target.by),
            released=counted(total.released),
            asked=counted(plan.target.animals),
        )
    if total.released:
        return say(
            "{released} released so far, {alive} alive",
            released=counted(total.released),
            alive=counted(total.alive),
        )
    return say(
        "{alive} alive of {stocked} stocked so far",
        alive=counted(total.alive),
        stocked=counted(total.stocked),
    )


def permit_written(permit: PermitUse) -> str:
    """How much of the permit is used."""
    left = permit.allowed - permit.taken
    return say(
        "{taken} of the {allowed} egg masses that permit {permit} allows were taken: {left} more "
        "than it allows. Tell the permit office."
        if left < 0
        else "{taken} of the {allowed} egg masses that permit {permit} allows were taken; {left} "
        "are left.",
        taken=permit.taken,
        allowed=permit.allowed,
        permit=permit.number,
        left=abs(left),
    )
