"""The algae room on the work list: what the tanks ask of it, and the day's work in it."""

from collections.abc import Iterator, Mapping, Sequence
from datetime import date, timedelta

from protoconch.algae.chain.answer import AlgaeAnswer
from protoconch.algae.chain.description import Room, Step
from protoconch.algae.chain.plan import ChainPlan, Life
from protoconch.algae.demand import TankFood
from protoconch.algae.medium import medium
from protoconch.algae.species import alga
from protoconch.algae.sterilising import CHLORINE_CAUTIONS, HEAT_CAUTIONS
from protoconch.animals.species import Species
from protoconch.season.answer import SeasonPlan
from protoconch.sources.reading import load_catalogue
from protoconch.units import text
from protoconch.words import joined, listed, say
from protoconch.work.algae_trays import tray_diatom_tasks
from protoconch.work.expected import expected_batches
from protoconch.work.feeding import feed_amount
from protoconch.work.larvae import name_of
from protoconch.work.task import Task, Working, about, planned, worked

WEIGHING_MIN, STOCK_LINE_MIN = 10.0, 20.0
"""Minutes to mix the nutrients of a day, and to renew the tubes of a species; assumption."""


def tank_food(
    plan: SeasonPlan, species: Species, shares: Mapping[str, float], first: date
) -> tuple[TankFood, ...]:
    """What every larval tank of a season is to get, day by day, by species of algae.

    shares: of the mass of its sort (diatoms, all others) that each species gives. first: day 0.
    The grams are those of the feeding lines of the work list.
    """
    if not species.larvae_feed:
        return ()
    diatoms = {key: share for key, share in shares.items() if alga(key).kind == "diatom"}
    others = {key: share for key, share in shares.items() if "diatom" not in alga(key).kind}
    found = []
    for batch in expected_batches(plan, species):
        dates = batch.batch.dates
        for age in range((dates.induce - dates.hatch).days):
            day = dates.hatch + timedelta(days=age)
            for tank in batch.batch.tanks:
                grams, *workings = feed_amount(batch, tank, day)[1]
                part = next((w.result for w in workings if "half_from" in w.formula), 0.0)
                food = _by_species(grams.result, part if diatoms else 0.0, others, diatoms)
                number = (day - first).days
                found.append(TankFood(number, name_of(tank), batch.batch.code, age, food))
    return tuple(found)


def _by_species(
    grams: float, part: float, others: Mapping[str, float], diatoms: Mapping[str, float]
) -> dict[str, float]:
    food = {key: grams * (1 - part) * share for key, share in others.items()}
    if part > 0:
        food |= {key: grams * part * share for key, share in diatoms.items()}
    return food


def algae_work(
    answer: AlgaeAnswer, season: SeasonPlan, species: Species, day: date
) -> tuple[Task, ...]:
    """All work with algae on a day: in their room, and with the diatoms for the trays.

    species: of the season. Raises: nothing; a day outside has no tasks.
    """
    room = season.hatchery.algae_room
    tasks = algae_tasks(answer.plan, answer.first, day, answer.demand.tanks)
    return tasks if room is None else tasks + tray_diatom_tasks(season, species, room.shares, day)


def algae_tasks(
    plan: ChainPlan, first: date, day: date, tanks: Sequence[TankFood] = ()
) -> tuple[Task, ...]:
    """The work in the algae room on a day, in the order it is done.

    first: calendar day of the schedule's day 0. tanks: what the harvest is for.
    Raises: nothing; a day outside has no tasks.
    """
    number = (day - first).days
    if not 0 <= number < plan.problem.days:
        return ()
    return (
        *_looked_at(plan, number, day), *_medium(plan, number, day), *_started(plan, number, day),
        *_harvested(plan, number, day, tanks), *_ended(plan, number, day),
        *_stock_lines(plan.problem.room, number, day),
    )  # fmt: skip


def _step(plan: ChainPlan, life: Life) -> Step:
    line = next(line for line in plan.problem.room.lines if line.species == life.species)
    return line.steps[life.step]


def _vessel(life: Life) -> str:
    return f"{life.vessel[0]} {life.vessel[1]}"


def _task(
    day: date, kind: str, what: str, where: str, amount: str, why: str, minutes: float,
    steps: Sequence[str], cautions: Sequence[str] = (), working: Working | None = None,
    round_: str = "morning",
) -> Task:  # fmt: skip
    return Task(day, round_, kind, what, where, amount, why, "algae", minutes, working,
                tuple(cautions), tuple(steps))  # fmt: skip


def _alive(plan: ChainPlan, number: int) -> list[Life]:
    return [life for life in plan.lives if life.started < number
            and (life.ended is None or life.ended >= number)]  # fmt: skip


def _looked_at(plan: ChainPlan, number: int, day: date) -> Iterator[Task]:
    alive = _alive(plan, number)
    if not alive:
        return
    minutes = sum(_step(plan, life).care_min for life in alive)
    ready = [life for life in alive if life.ready <= number <= life.last]
    where = say("algae room")
    yield _task(
        day, "look at cultures", say("Look at every culture"), where,
        say("{alive} cultures, {ready} of them ready", alive=len(alive), ready=len(ready)),
        say("A crash shows in colour and smell a day before it is total."), minutes,
        (say("Shake or check the air of each; note colour, clumps, smell."),
         say("Count those that feed or are poured today, two loadings each."),
         say("Anything that swims and is no alga: do not feed larvae from it.")),
    )  # fmt: skip


def _medium(plan: ChainPlan, number: int, day: date) -> Iterator[Task]:
    """Medium for tomorrow's starts and fillings, by name."""
    litres: dict[str, float] = {}
    for life in plan.lives:
        step, name = _step(plan, life), alga(life.species).medium
        if alga(life.species).silicate_doses > 1:
            name = "f/2-double-silicate"
        if life.started == number + 1:
            litres[name] = litres.get(name, 0.0) + step.medium_l
        if step.drawn:
            taken = dict(life.drawn).get(number + 1, 0.0) / step.cells * step.taken_l
            litres[name] = litres.get(name, 0.0) + taken
    for name, volume in litres.items():
        if volume < 0.01:
            continue
        batch = medium(name, volume)
        stocks = joined(
            (
                say("{volume} {stock}", volume=text(ml, "mL", 3), stock=say(stock))
                for stock, ml in batch.stock_ml.items()
                if ml > 0
            ),
            ", ",
        )
        formula = worked("litres * dose", (planned("litres", volume, "L"),
                         planned("dose", batch.stock_ml["nitrate"] / volume, "mL/L")),
                         "mL")  # fmt: skip
        most = load_catalogue("sterilising")["chlorine"]["from_l"].number
        yield _task(
            day, "make medium", say("Make {name} for tomorrow", name=name), say("medium bench"),
            say("{litres}: {stocks}", litres=about(volume, 3, "L"), stocks=stocks),
            say("Medium stands overnight: clean, neutralised and at the room's temperature."),
            WEIGHING_MIN + volume * plan.problem.room.minutes_per_l,
            (say("Filter to 1 µm; above 20 L chlorinate overnight, measure, neutralise, measure"
            " again."),
             say("Microwave or autoclave smaller bottles; let them cool before the nutrients go"
             " in."),
             *batch.cautions),
            CHLORINE_CAUTIONS if volume >= most else HEAT_CAUTIONS, formula, "evening",
        )  # fmt: skip


def _started(plan: ChainPlan, number: int, day: date) -> Iterator[Task]:
    for life in plan.lives:
        if life.started != number:
            continue
        step = _step(plan, life)
        donors = listed([f"{kind} {n}" for kind, n in life.donors]) or say("a tube of the shelf")
        volume = plan.problem.room.kind(step.kind).litres
        formula = worked("volume - medium", (planned("volume", volume, "L"),
                         planned("medium", step.medium_l, "L")), "L")  # fmt: skip
        ready = day + timedelta(days=step.grow_days)
        yield _task(
            day, "inoculate", say("Inoculate {name}", name=alga(life.species).name), _vessel(life),
            say("{litres} of {donors} into {medium} medium", litres=about(formula.result, 3, 'L'),
                donors=donors, medium=about(step.medium_l, 3, 'L')),
            say("It is wanted from {ready:%d %B} on.", ready=ready), step.start_min,
            (say("Look at the donor first: growing, clean, nothing that swims but the alga."),
             say("Pour near a flame or under a cover, the whole donor at once."),
             say("Write species, donor and date on the vessel.")),
            (), formula,
        )  # fmt: skip


def _harvested(
    plan: ChainPlan, number: int, day: date, tanks: Sequence[TankFood]
) -> Iterator[Task]:
    todays = [food for food in tanks if food.day == number]
    for life in plan.lives:
        cells = dict(life.drawn).get(number, 0.0)
        if cells <= 0:
            continue
        step = _step(plan, life)
        full_l = step.taken_l if step.drawn else plan.problem.room.kind(step.kind).litres
        formula = worked(
            "cells / full_cells * full_litres",
            (planned("cells", cells, "1"), planned("full_cells", step.cells, "1"),
             planned("full_litres", full_l, "L")), "L",
        )  # fmt: skip
        after = (
            say("Fill up with new medium at once.")
            if step.drawn
            else say("Cover it; do not fill it up.")
        )
        yield _task(
            day, "harvest", say("Harvest {name}", name=alga(life.species).name), _vessel(life),
            say("{litres} at the usual density: {billions} billion cells",
                litres=about(formula.result, 3, 'L'), billions=about(cells / 1000000000.0)),
            _use(life.species, todays), 5.0,
            (say("Count it; take more of a thinner, less of a denser culture."), after),
            (), formula,
        )  # fmt: skip


def _use(species: str, todays: Sequence[TankFood]) -> str:
    """What a harvest is for."""
    larvae, trays = (sum(food.grams.get(species, 0.0) for food in todays if food.trays == floor)
                     for floor in (False, True))  # fmt: skip
    if trays <= 0:
        return say("It feeds the larvae today.")
    film = alga(species).kind == "film diatom"
    if larvae <= 0:
        return say("It is sown on the trays today.") if film else say("It goes to the trays today.")
    share = larvae / (larvae + trays)
    if film:
        return say(
            "Of each litre {share:.0%} feeds the larvae today; the rest is sown on the trays.",
            share=share,
        )
    return say(
        "Of each litre {share:.0%} feeds the larvae today; the rest goes to the trays.", share=share
    )


def _ended(plan: ChainPlan, number: int, day: date) -> Iterator[Task]:
    for life in plan.lives:
        if life.ended != number:
            continue
        why = {"poured": say("It has been poured on."),
            "used up": say("It is used up or at its age limit."),
               "thrown away": say("It is past its best, and its vessel is wanted.")}  # fmt: skip
        yield _task(
            day, "empty a vessel", say("Empty and clean {vessel}", vessel=_vessel(life)),
            _vessel(life),
            say("one vessel"), why.get(life.ending, say("It is at its end.")), 0.0,
            (say("Rinse, scrub, chlorinate, rinse with filtered seawater; leave it to dry."),
             say("Never rinse with untreated tap or surface water.")),
            CHLORINE_CAUTIONS, None, "evening",
        )  # fmt: skip


def _stock_lines(room: Room, number: int, day: date) -> Iterator[Task]:
    """The tubes behind it all, renewed weekly: one species on one weekday."""
    for place, line in enumerate(room.lines):
        if (number - place) % 7 == 0:
            yield _task(
                day, "renew the tubes", say("Renew the tubes of {name}",
                name=alga(line.species).name), say("shelf"),
                say("0.1 to 0.2 mL into 10 mL, 4 new tubes from the best old one"),
                say("Everything grows from them; two rows in two rooms, one outside the house."),
                STOCK_LINE_MIN,
                (say("Look at the best tube under the microscope first."),
                 say("Microwaved or autoclaved medium, cooled; work beside a flame."),
                 say("Keep last week's row until the new one has grown.")),
                HEAT_CAUTIONS,
            )  # fmt: skip
