"""What the Season page shows: the plan's sentences and pictures, kept while nothing changes."""

from dataclasses import dataclass
from datetime import date
from hashlib import sha256

from django.utils.safestring import SafeString, mark_safe
from django.utils.translation import get_language

from protoconch.algae.chain.answer import AlgaeAnswer
from protoconch.log.state import State
from protoconch.pictures.algae_supply import algae_supply
from protoconch.pictures.counted import Seen, season_counts
from protoconch.pictures.drawing import Picture
from protoconch.pictures.futures import chance_curve, futures_dots
from protoconch.pictures.ribbons import season_ribbons
from protoconch.pictures.ribbons_phone import phone_key, phone_ribbons, phone_room
from protoconch.pictures.season_words import as_in_log
from protoconch.season.answer import SeasonPlan
from protoconch.sheets.season_report import answer
from protoconch.sheets.season_report.account import (
    SeasonAccount,
    account_written,
    season_account,
)
from protoconch.web.shell.kept import ByReader

_kept = ByReader(60)


@dataclass(frozen=True, slots=True)
class Shown:
    """The season in words and pictures.

    title: the answer in words. version: changes with what the pictures show. limits, offers:
    parts of the printed report, as markup.
    """

    title: str
    over: bool
    account: SeasonAccount
    counts: dict[str, tuple[Seen, ...]]
    version: str
    dots: Picture
    chance: Picture
    key: Picture
    columns: tuple[Picture, ...]
    room: Picture
    desk: Picture
    odds: str
    limit: str
    counting: str
    limits: SafeString
    offers: SafeString

    @property
    def counted(self) -> bool:
        """Whether any count is drawn."""
        return any(self.counts.values())


def shown(plan: SeasonPlan, state: State, today: date, *, by_log: bool = False) -> Shown:
    """All that is shown of a plan beside the log; made once for each state, day and reading.

    by_log: the plan is as the outlook of the log has it.
    """
    of = f"{state.last} {state.entries} {today} {get_language()}"
    return _kept.of(plan, ("shown", of), lambda: _shown(plan, state, today, of, by_log=by_log))


def _shown(plan: SeasonPlan, state: State, today: date, key: str, *, by_log: bool) -> Shown:
    counts, account = season_counts(plan, state), season_account(plan, state)
    over, named = today > plan.target.by, as_in_log(plan)
    whole = f"{key}{plan.seed}{plan.target}{plan.odds}{plan.expected}"
    return Shown(
        title=account_written(account, plan, today) if over else answer.answer_written(plan),
        over=over,
        account=account,
        counts=counts,
        version=sha256(whole.encode()).hexdigest()[:16],
        dots=futures_dots(plan),
        chance=chance_curve(plan),
        key=phone_key(plan),
        columns=phone_ribbons(named, today, counts, by_log=by_log),
        room=phone_room(plan, today),
        desk=season_ribbons(named, today, counts=counts, by_log=by_log),
        odds=answer.odds_shown(plan),
        limit=answer.limit_written(plan),
        counting=answer.counting_written(plan),
        limits=_markup(answer.limits_card(plan)),
        offers=_markup(answer.offers_card(plan)),
    )


def food(plan: SeasonPlan, algae: AlgaeAnswer | None) -> Picture | None:
    """Algae asked for and fed, where there is a schedule of the algae room."""
    if algae is None:
        return None
    return _kept.of(plan, "food", lambda: algae_supply(algae), algae)


def _markup(made: str) -> SafeString:
    return mark_safe(made)  # noqa: S308 - sheets.look escapes what people typed
