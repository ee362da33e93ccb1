"""The outlook on the Season page: the plan as the log has it, with what changed and would help."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from uuid import UUID

from protoconch.log.state import State
from protoconch.pictures.counted import season_counts
from protoconch.pictures.drawing import Picture
from protoconch.pictures.odds_over_time import odds_over_time
from protoconch.pictures.season_ahead import as_looked_ahead
from protoconch.records.queries.outlook import LookedAhead
from protoconch.season.answer import SeasonPlan
from protoconch.season.outlook.next_action import Action
from protoconch.season.outlook.outlook import Outlook
from protoconch.season.outlook.scoring import DayOutlook
from protoconch.web.pages.season.outlook_words import (
    ActionWords,
    BeliefWords,
    action_told,
    belief_told,
    change_told,
    counting_told,
    counts_scored,
    earlier_scored,
    expected_told,
    season_scored,
)
from protoconch.web.shell.kept import ByReader

_kept = ByReader(12)


@dataclass(frozen=True, slots=True)
class Told:
    """The outlook in words and pictures.

    plan: as the outlook has it. help, spare, dates, idle: actions that help, that save work at
    hardly any loss, that help but ask for another date, and that were tried and do not help.
    priced: whether they are ranked by money rather than by hours. doubted: entries left out, each
    (id, sentence); left_out: how many more are, which the log itself doubts.
    """

    plan: SeasonPlan
    as_of: date
    change: str
    expected: str
    counting: str
    over_time: Picture | None
    help: tuple[ActionWords, ...]
    spare: tuple[ActionWords, ...]
    dates: tuple[ActionWords, ...]
    idle: tuple[ActionWords, ...]
    counts: tuple[str, ...]
    silent: tuple[str, ...]
    priced: bool
    surprises: tuple[str, ...]
    doubted: tuple[tuple[UUID, str], ...]
    left_out: int
    beliefs: tuple[BeliefWords, ...]
    scored: tuple[str, ...]


def told(plan: SeasonPlan, known: LookedAhead, state: State, today: date) -> Told | None:
    """What the log's outlook says of a plan; None where there is none yet.

    Made once for each outlook, state, day and way of reading.
    """
    outlook = known.outlook
    if outlook is None:
        return None
    key = ("outlook", known.made, len(known.days), str(state.last), state.entries, today)
    return _kept.of(plan, key, lambda: _told(plan, known, outlook, state, today))


def _told(
    plan: SeasonPlan, known: LookedAhead, outlook: Outlook, state: State, today: date
) -> Told:
    counts = season_counts(plan, state)
    open_ = [a for a in known.actions if not a.changes_target]

    def words(actions: Iterable[Action]) -> tuple[ActionWords, ...]:
        return tuple(action_told(action, known.currency) for action in actions)

    scored = (counts_scored(known, counts), season_scored(known.days, known.came),
              *(earlier_scored(season) for season in known.earlier))  # fmt: skip
    return Told(
        as_looked_ahead(plan, outlook), outlook.as_of,
        change_told(plan, known, state, counts, today), expected_told(plan, outlook),
        counting_told(outlook), _over_time(known, outlook, plan),
        words(a for a in open_ if a.helps),
        words(a for a in open_ if a.kind == "leave out" and not a.helps),
        words(a for a in known.actions if a.changes_target and a.helps),
        words(a for a in known.actions if not a.helps and a.kind != "leave out"),
        tuple(count.sentence for count in known.counts), known.silent, bool(known.currency),
        outlook.surprises, outlook.doubted,
        known.left_out,
        tuple(belief_told(moved) for moved in outlook.moved),
        tuple(sentence for sentence in scored if sentence),
    )  # fmt: skip


def _over_time(known: LookedAhead, outlook: Outlook, plan: SeasonPlan) -> Picture | None:
    """The odds of each day, ending with those of now."""
    now = DayOutlook(outlook.as_of, outlook.odds, outlook.expected, outlook.p10, outlook.p90,
                     outlook.ready, outlook.entries_used)  # fmt: skip
    days = [day.told for day in known.days if day.told.as_of < outlook.as_of]
    return odds_over_time([*days, now], plan.target.confidence) if days else None
