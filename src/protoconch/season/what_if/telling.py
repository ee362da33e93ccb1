"""A change and what it comes to, in plain words."""

from protoconch.season.answer import SeasonPlan
from protoconch.season.what_if.change import Change

_WHO = {
    "egg": "eggs die",
    "veliger": "larvae die",
    "settling": "larvae fail at settling",
    "post-larva": "post-larvae die",
    "juvenile": "juveniles die",
}
_MONTHS = ("January", "February", "March", "April", "May", "June", "July", "August", "September",
           "October", "November", "December")  # fmt: skip


def told(change: Change, plan: SeasonPlan) -> tuple[str, ...]:
    """Each thing that is changed, as a few words: "900 juveniles", "larvae die twice as fast"."""
    hatchery = plan.hatchery
    words: list[str] = []
    if change.animals is not None:
        words.append(f"{change.animals:,} juveniles, not {plan.target.animals:,}")
    if change.size_mm is not None:
        words.append(f"{change.size_mm:g} mm, not {plan.target.size_mm:g} mm")
    if change.by is not None:
        day = change.by
        words.append(f"by {day.day} {_MONTHS[day.month - 1]} {day.year}")
    if change.more_tanks:
        more = "more" if change.more_tanks > 0 else "fewer"
        words.append(f"{_count(abs(change.more_tanks), 'tank')} {more} for each batch")
    have = {tank.name: tank.count for tank in hatchery.larval_tanks}
    words += [f"{n} {_noun(name, 'tank')}, not {have[name]}" for name, n in change.tanks.items()]
    trays = {tray.name: tray.count for tray in hatchery.trays}
    words += [f"{n} {_noun(name, 'tray')}, not {trays[name]}" for name, n in change.trays.items()]
    if change.algae_g is not None:
        words.append(f"{change.algae_g:g} g of algae a day, not {hatchery.algae_dry_g_per_day:g} g")
    if change.nursery_m2 is not None:
        words.append(f"{change.nursery_m2:g} m² of nursery, not {hatchery.nursery_area_m2:g} m²")
    if change.egg_masses is not None:
        words.append(f"{_count(change.egg_masses, 'egg mass')} permitted, not "
                     f"{hatchery.permit.egg_masses}")  # fmt: skip
    words += [f"{_WHO[stage]} {_times(times)}" for stage, times in change.dying.items()]
    return tuple(words)


def _noun(name: str, noun: str) -> str:
    """The kind in the plural: "large tanks", "trays"."""
    return f"{name}s" if noun in name.lower() else f"{name} {noun}s"


def _times(times: float) -> str:
    """How fast as against believed: twice as fast, half as fast, 1.5 times as fast."""
    special = {2.0: "twice as fast", 0.5: "half as fast", 3.0: "three times as fast"}
    return special.get(times, f"{times:g} times as fast")


def _count(number: int, what: str) -> str:
    many = "es" if what.endswith("s") else "s"
    return f"{number} {what}{'' if number == 1 else many}"


def outcome_told(change: Change, was: float, now: float, by: float, error: float) -> str:
    """The sentence: from which odds to which, and how sure that difference is.

    was, now: odds of the plan and of the changed season; by: their difference, error: its standard
    error, all 0 to 1.
    """
    if change.is_none:
        return f"Nothing is changed: the odds stay at {100 * was:.0f} in 100."
    points, give = f"{100 * by:+.1f}".replace("-", "\N{MINUS SIGN}"), 100 * error
    if abs(by) < 2 * error or abs(by) < 0.005:
        return (
            f"The odds hardly move: {100 * now:.0f} in 100 against {100 * was:.0f} "
            f"({points} points, give or take {give:.1f})."
        )
    way = "rise" if by > 0 else "fall"
    return (
        f"The odds {way} from {100 * was:.0f} to {100 * now:.0f} in 100 "
        f"({points} points, give or take {give:.1f})."
    )
