"""The outlook in sentences: what changed and why, what would help, how the outlooks did."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from math import hypot

from django.utils.formats import date_format
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from protoconch.log.state import State
from protoconch.pictures.counted import Expected, Seen, against
from protoconch.pictures.odds_over_time import week_before
from protoconch.pictures.words import about, counted, percent, unit_written
from protoconch.records.queries.outlook import KeptDay, KeptDays, LookedAhead
from protoconch.season.answer import SeasonPlan, Spread
from protoconch.season.outlook.names import trade_name
from protoconch.season.outlook.next_action import Action
from protoconch.season.outlook.outlook import BeliefMoved, Outlook
from protoconch.season.outlook.scoring import score_sentence, scores
from protoconch.words import begun

Counts = Mapping[str, Sequence[Seen]]


@dataclass(frozen=True, slots=True)
class ActionWords:
    """One thing that could be done. gain: of the odds, in points; range: 95 % of it."""

    sentence: str
    why: str
    gain: str
    range: str
    hours: str


@dataclass(frozen=True, slots=True)
class BeliefWords:
    """One belief: what was believed before the log, and now; each the middle and eight in ten."""

    name: str
    before: str
    now: str
    moved: str


def expected_told(plan: SeasonPlan, outlook: Outlook) -> str:
    """What is asked, what is expected, and what the outlook rests on."""
    number = outlook.entries_used
    said = _(
        "Asked: %(asked)s. On average %(expected)s are ready at the date; in eight futures of ten "
        "between %(low)s and %(high)s."
    ) % {
        "asked": percent(plan.target.confidence), "expected": about(outlook.expected, 3),
        "low": about(outlook.p10, 3), "high": about(outlook.p90, 3),
    }  # fmt: skip
    rests = ngettext(
        "These odds are what the log makes of the season: %(n)s thing seen of the animals.",
        "These odds are what the log makes of the season: %(n)s things seen of the animals.",
        number,
    ) % {"n": counted(number)}
    return f"{said} {rests}"


def counting_told(outlook: Outlook) -> str:
    """Where the odds come from, and how sure their counting is."""
    return _(
        "Counted over %(draws)s futures that agree with the log, worth %(worth)s independent ones: "
        "give or take %(half)s points."
    ) % {
        "draws": counted(outlook.odds.draws), "worth": counted(outlook.effective_sample),
        "half": f"{100 * max(outlook.odds.error, 0.001):.1f}",
    }  # fmt: skip


def change_told(
    plan: SeasonPlan, known: LookedAhead, state: State, counts: Counts, today: date
) -> str:
    """What changed since last week, and which batch moved it."""
    outlook = known.outlook
    if outlook is None:
        return ""
    told = {day.told.as_of: day for day in known.days}
    before = week_before([day.told for day in known.days], today)
    asked = plan.target.confidence
    if before is None:
        return _("The plan had %(then)s before the season; what was seen makes it %(now)s.") % {
            "then": percent(plan.odds.value, asked), "now": percent(outlook.odds.value, asked),
        }  # fmt: skip
    then = told[before.as_of]
    named = {"then": percent(before.odds.value, asked), "day": date_format(before.as_of, "j M"),
             "now": percent(outlook.odds.value, asked)}  # fmt: skip
    change = outlook.odds.value - before.odds.value
    if abs(change) <= 2 * hypot(outlook.odds.error, before.odds.error):
        return _("As a week ago: %(then)s on %(day)s, which is the same within the noise.") % named
    way = _("Up from %(then)s on %(day)s.") if change > 0 else _("Down from %(then)s on %(day)s.")
    return f"{way % named} {_mover(known, then, state, counts, up=change > 0)}".strip()


def _mover(
    known: LookedAhead, then: KeptDay, state: State, counts: Counts, *, up: bool
) -> str:  # fmt: skip
    """The batch whose number at the date has changed most in the direction of the odds."""
    if known.outlook is None:
        return ""
    before = {batch.code: batch.ready for batch in then.batches}
    now = {batch.code: batch.ready.mean for batch in known.outlook.batches}
    released = {code for code in now
                if code in state.batches and state.batches[code].account.released}  # fmt: skip
    moved = {code: (now.get(code, 0.0) - before.get(code, 0.0)) * (1 if up else -1)
             for code in (now.keys() | before.keys()) - released}  # fmt: skip
    code = max(sorted(moved), key=lambda name: moved[name], default="")
    if not code or moved[code] <= 0:
        return ""
    said = _(
        "Judged roughly, by the numbers expected of each, batch %(code)s moved it most: %(now)s of "
        "it are expected at the date on average, %(then)s were then."
    ) % {
        "code": code, "now": about(now.get(code, 0.0), 3), "then": about(before.get(code, 0.0), 3),
    }  # fmt: skip
    last = [seen for seen in counts.get(code, ()) if seen.day > then.told.as_of]
    if not last:
        return said
    seen = last[-1]
    why = _("On %(day)s %(n)s of it were counted") % {
        "day": date_format(seen.day, "j M"), "n": about(seen.value, 3)
    }  # fmt: skip
    hoped = known.expected_on(code, seen.day)
    return f"{said} {why}, {against(seen, Expected(*hoped))}." if hoped else f"{said} {why}."


def action_told(action: Action, currency: str = "") -> ActionWords:
    """One thing that could be done, in words. currency: of its cost."""
    more = action.more
    said = [
        _("On average %(n)s more at the date.") % {"n": about(more, 3)} if more >= 1
        else _("On average %(n)s fewer at the date.") % {"n": about(-more, 3)} if more <= -1
        else _("About as many at the date.")
    ]  # fmt: skip
    if action.masses > 0:
        masses = ngettext("Takes %(n)s egg mass of the permit.",
                          "Takes %(n)s egg masses of the permit.", action.masses)  # fmt: skip
        said.append(masses % {"n": action.masses})
    if action.helps and action.per_cost is not None and (action.cost or 0) > 0:
        each = _("%(n)s points for each 100 %(currency)s.")
        said.append(each % {"n": f"{1e4 * action.per_cost:.1f}", "currency": currency})
    elif action.helps and action.hours > 0:
        each = _("%(n)s points for each ten hours.")
        said.append(each % {"n": f"{1000 * action.per_hour:.1f}"})
    return ActionWords(
        str(action.sentence), " ".join(said), _points(action.gain),
        _("%(low)s to %(high)s") % {"low": _points(action.low), "high": _points(action.high)},
        _effort(action, currency),
    )  # fmt: skip


def _effort(action: Action, currency: str) -> str:
    """Hours of work, and money where prices are known."""
    spent, saved = round(action.hours), round(-action.hours)
    hours = (
        ngettext("%(n)s hour of work", "%(n)s hours of work", spent) % {"n": counted(spent)}
        if spent >= 1
        else ngettext("saves %(n)s hour", "saves %(n)s hours", saved) % {"n": counted(saved)}
        if saved >= 1 else _("hardly any work")
    )  # fmt: skip
    if action.cost is None or abs(action.cost) < 0.5:
        return hours
    named = {"hours": hours, "n": about(abs(action.cost), 3), "currency": currency}
    if action.cost > 0:
        return _("%(hours)s, %(n)s %(currency)s") % named
    return _("%(hours)s, %(n)s %(currency)s less") % named


def _points(odds: float) -> str:
    """A change of odds in points of a hundred: +6, +1.4, 0; less than none with a minus."""
    points = 100 * odds
    if abs(points) < 0.05:
        return "0"
    shown = f"{points:+.1f}" if abs(points) < 1.95 else f"{points:+.0f}"
    return shown.replace("-", "\N{MINUS SIGN}")


def belief_told(moved: BeliefMoved) -> BeliefWords:
    """How far the log has moved one belief."""

    def numbers(spread: Spread) -> str:
        unit = unit_written(moved.unit)
        named = {"middle": f"{_three_digits(spread.p50)} {unit}".strip(),
                 "low": _three_digits(spread.p10), "high": _three_digits(spread.p90)}  # fmt: skip
        return _("%(middle)s (%(low)s to %(high)s)") % named

    way = _("higher") if moved.shift > 0 else _("lower")
    shift = (
        _("%(way)s by %(n)s of its spread") % {"way": way, "n": f"{abs(moved.shift):.1f}"}
        if abs(moved.shift) >= 0.1 else _("where it was")
    )  # fmt: skip
    narrow = f"{max(0.0, 100 * moved.narrower):.0f}\N{NO-BREAK SPACE}%"
    said = _("%(shift)s, %(n)s narrower") % {"shift": shift, "n": narrow}
    return BeliefWords(
        begun(trade_name(moved.name)), numbers(moved.before), numbers(moved.now), said
    )


def _three_digits(number: float) -> str:
    return counted(number) if abs(number) >= 1000 else f"{number:.3g}"


def counts_scored(known: LookedAhead, counts: Counts) -> str:
    """How many counts lay where the outlook of the days before had them; empty where none did."""
    held = told = 0
    for code, seen_of_it in counts.items():
        for seen in seen_of_it:
            hoped = known.expected_on(code, seen.day)
            if hoped is None or hoped[2] <= 0:
                continue
            told += 1
            held += seen.high >= hoped[0] and seen.low <= hoped[2]
    if not told:
        return ""
    return ngettext(
        "%(n)s count can be set beside the outlook of the days before it: %(held)s agrees with its "
        "eight-in-ten range, the error of counting allowed for.",
        "%(n)s counts can be set beside the outlook of the days before them: %(held)s agree with "
        "its eight-in-ten range, the error of counting allowed for.",
        told,
    ) % {"n": told, "held": held}


def season_scored(days: Sequence[KeptDay], came: float | None) -> str:
    """How the outlooks of a season did, once it is over; empty before."""
    if came is None or not days:
        return ""
    said = score_sentence(scores([day.told for day in days], came))
    return _("%(came)s were released. %(said)s") % {"came": counted(came), "said": said}


def earlier_scored(season: KeptDays) -> str:
    """How the outlooks of an earlier season did."""
    return f"{season.first_day.year}: {season_scored(season.days, season.came)}"
