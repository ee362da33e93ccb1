"""What a manager should know beside the numbers of a plan, each in a sentence."""

from collections.abc import Iterator
from math import exp

import numpy as np

from protoconch.errors import ProtoconchError
from protoconch.season.answer import Batch
from protoconch.season.plan.judge import Judged, judge
from protoconch.season.plan.room import Choice, Room
from protoconch.season.plan.search import Found
from protoconch.season.plan.study import Study
from protoconch.words import say


def notes(study: Study, found: Found, seen: Judged, batches: tuple[Batch, ...]) -> tuple[str, ...]:
    """Sentences on genetics, empty tanks, food, the nursery, borrowed numbers and life after."""
    hatchery = study.inputs.hatchery
    told = [
        *hatchery.notes,
        *_genetics(study, found),
        *_empty_tanks(study, batches),
        *_hungry_tank(study, found.choice),
        *_full_nursery(study, seen),
        *_gaps(study),
        *_after_release(study, seen),
    ]
    if hatchery.invented:
        told.insert(
            0, say("This hatchery, its place and its permit are invented for demonstration.")
        )
    return tuple(told)


def _genetics(study: Study, found: Found) -> Iterator[str]:
    rule, masses = study.inputs.hatchery.genetics, study.room.masses(found.choice)
    if found.choice.any() and not masses.wide_enough:
        yield (
            say(
                "The release would rest on {total} egg masses or too large a share of one: the "
                "genetics rule asks for at least {min_masses} masses and at most {max_share:.0f} "
                "% from one. Permit, incubator places and dates allow no more; ask the permit "
                "office, or write your own rule under [genetics].",
                total=masses.total,
                min_masses=rule.min_masses,
                max_share=rule.max_share * 100,
            )
        )


def _empty_tanks(study: Study, batches: tuple[Batch, ...]) -> Iterator[str]:
    have = sum(tank.count for tank in study.inputs.hatchery.larval_tanks)
    used = len({(tank.kind, tank.number) for batch in batches for tank in batch.tanks})
    if used < have:
        yield (
            say(
                "{idle} of {have} larval tanks may stay empty all season: they are spare room "
                "for a tank that fails, not a loss.",
                idle=have - used,
                have=have,
            )
        )


def _hungry_tank(study: Study, choice: Choice) -> Iterator[str]:
    """What one more tank of larvae on the same algae would do, where algae are what is short."""
    room = study.room
    best: tuple[float, int] | None = None
    for i, option in enumerate(room.options):
        larger = choice.copy()
        larger[i] += 1
        over = room.use @ larger > room.available + 1e-9
        names = {name for name, is_over in zip(room.names, over, strict=True) if is_over}
        if names == {"algae"} and choice[i] < option.most - 1:
            gain = float(option.means[choice[i] + 1] - option.means[choice[i]])
            if best is None or gain > best[0]:
                best = (gain, i)
    if best is None:
        return
    larger = choice.copy()
    larger[best[1]] += 1
    now, then = (_look(study, c) for c in (choice, larger))
    yield (
        say(
            "One more tank of larvae on the same algae would mean less food in every tank: "
            "the odds would go from {now:.0f} to {then:.0f} in a hundred. It may stay empty.",
            now=now * 100,
            then=then * 100,
        )
    )


def _look(study: Study, choice: Choice) -> float:
    room: Room = study.room
    seen = judge(room, choice, study.target.animals, study.inputs.fresh, study.inputs.effort.look)
    return seen.odds.value


def _full_nursery(study: Study, seen: Judged) -> Iterator[str]:
    early = float(np.mean(seen.draws.early.sum(axis=0) >= 1.0))
    if early >= 0.01:
        yield (
            say(
                "In {early:.0f} of 100 futures the nursery fills before the date: animals that "
                "have {size_mm:g} mm are then handed over early and counted, and if that is not "
                "enough the slowest are culled. Agree with the permit office and the release "
                "partner on handing over in parts.",
                early=early * 100,
                size_mm=study.target.size_mm,
            )
        )


def _gaps(study: Study) -> Iterator[str]:
    borrowed = [v for v in study.inputs.beliefs.used if v.missing]
    if borrowed:
        lenders = sorted({v.borrowed_from for v in borrowed if v.borrowed_from})
        names = ", ".join(sorted(v.name for v in borrowed))
        yield (
            say(
                "No source gives these numbers for {species}: {names}. Those of {lenders} "
                "stand in; the odds are only as good as that loan.",
                species=say(study.inputs.species.common_name),
                names=names,
                lenders=", ".join(lenders) or say("no other species"),
            )
        )


def _after_release(study: Study, seen: Judged) -> Iterator[str]:
    species = study.inputs.species
    try:
        first = species.number("release.first_year_mortality")
        second = species.number("release.second_year_mortality")
    except ProtoconchError:
        return
    share = exp(-first - second)
    released = float(seen.draws.total.mean())
    yield (
        say(
            "Of the {released:,.0f} animals expected at the date, about {mature:,.1f} "
            "would live to maturity in the wild at the mortality published for released "
            "juveniles: size, site and season of release matter as much as their number.",
            released=released,
            mature=released * share,
        )
    )
