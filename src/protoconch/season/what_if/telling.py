"""A change and what it comes to, in plain words."""

from protoconch.season.answer import SeasonPlan
from protoconch.season.what_if.change import Change
from protoconch.units import text
from protoconch.words import counted, phrase, say

_WHO = {
    "egg": phrase("eggs die {times}"),
    "veliger": phrase("larvae die {times}"),
    "settling": phrase("larvae fail at settling {times}"),
    "post-larva": phrase("post-larvae die {times}"),
    "juvenile": phrase("juveniles die {times}"),
}
_TIMES = {
    2.0: phrase("twice as fast"), 0.5: phrase("half as fast"), 3.0: phrase("three times as fast"),
}  # fmt: skip


def told(change: Change, plan: SeasonPlan) -> tuple[str, ...]:
    """Each thing that is changed, as a few words: "900 juveniles", "larvae die twice as fast"."""
    hatchery, target = plan.hatchery, plan.target
    words: list[str] = []
    if change.animals is not None:
        words.append(say("{now:,} juveniles, not {was:,}", now=change.animals, was=target.animals))
    if change.size_mm is not None:
        words.append(say("{now:g} mm, not {was:g} mm", now=change.size_mm, was=target.size_mm))
    if change.by is not None:
        words.append(say("by {day:%-d %B %Y}", day=change.by))
    if change.more_tanks > 0:
        words.append(
            counted(
                change.more_tanks, "{number} tank more for each batch",
                "{number} tanks more for each batch",
            )
        )  # fmt: skip
    elif change.more_tanks:
        words.append(
            counted(
                -change.more_tanks, "{number} tank fewer for each batch",
                "{number} tanks fewer for each batch",
            )
        )  # fmt: skip
    have = {tank.name: tank.count for tank in hatchery.larval_tanks}
    words += [_kinds(name, "tank", n, have[name]) for name, n in change.tanks.items()]
    trays = {tray.name: tray.count for tray in hatchery.trays}
    words += [_kinds(name, "tray", n, trays[name]) for name, n in change.trays.items()]
    if change.algae_g is not None:
        was = text(hatchery.algae_dry_g_per_day, "g")
        words.append(say("{now} of algae a day, not {was}", now=text(change.algae_g, "g"), was=was))
    if change.nursery_m2 is not None:
        words.append(
            say(
                "{now:g} m² of nursery, not {was:g} m²",
                now=change.nursery_m2,
                was=hatchery.nursery_area_m2,
            )
        )
    if change.egg_masses is not None:
        words.append(
            counted(
                change.egg_masses,
                "{number} egg mass permitted, not {was}",
                "{number} egg masses permitted, not {was}",
                was=hatchery.permit.egg_masses,
            )
        )
    return (*words, *_faring(change))


def _faring(change: Change) -> list[str]:
    """How animals and water fare otherwise, and who is left out."""
    words: list[str] = []
    words += [say(_WHO[stage], times=_times(times)) for stage, times in change.dying.items()]
    if change.growing is not None:
        words.append(say("animals grow {times}", times=_times(change.growing)))
    if change.warmer_c is not None:
        words.append(
            say("water {degrees:g} °C warmer", degrees=change.warmer_c) if change.warmer_c > 0
            else say("water {degrees:g} °C colder", degrees=-change.warmer_c)
        )  # fmt: skip
    words += [say("without batch {batch}", batch=code) for code in change.without]
    return words


def _kinds(name: str, noun: str, now: int, was: int) -> str:
    """So many of a kind, in the plural: "3 large tanks, not 4"; the name is the hatchery's own."""
    if noun in name.lower():
        return say("{now} {name}s, not {was}", now=now, name=name, was=was)
    if noun == "tank":
        return say("{now} {name} tanks, not {was}", now=now, name=name, was=was)
    return say("{now} {name} trays, not {was}", now=now, name=name, was=was)


def _times(times: float) -> str:
    """How fast as against believed: twice as fast, half as fast, 1.5 times as fast."""
    return say(_TIMES[times]) if times in _TIMES else say("{times:g} times as fast", times=times)


def outcome_told(change: Change, was: float, now: float, by: float, error: float) -> str:
    """The sentence: from which odds to which, and how sure that difference is.

    was, now: odds of the plan and of the changed season; by: their difference, error: its standard
    error, all 0 to 1.
    """
    if change.is_none:
        return say("Nothing is changed: the odds stay at {was:.0f} in 100.", was=100 * was)
    points = f"{100 * by:+.1f}".replace("-", "\N{MINUS SIGN}")
    if abs(by) < 2 * error or abs(by) < 0.005:
        form = phrase(
            "The odds hardly move: {now:.0f} in 100 against {was:.0f} "
            "({points} points, give or take {give:.1f})."
        )
    elif by > 0:
        form = phrase(
            "The odds rise from {was:.0f} to {now:.0f} in 100 "
            "({points} points, give or take {give:.1f})."
        )
    else:
        form = phrase(
            "The odds fall from {was:.0f} to {now:.0f} in 100 "
            "({points} points, give or take {give:.1f})."
        )
    return say(form, now=100 * now, was=100 * was, points=points, give=100 * error)
