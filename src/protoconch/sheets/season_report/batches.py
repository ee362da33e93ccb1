"""Each batch: its days, its vessels, its numbers, its lengths, and the families behind all."""

from datetime import date

from protoconch.animals.genetics import breeders
from protoconch.pictures.lengths import batch_lengths
from protoconch.pictures.ribbon import batches_by_code
from protoconch.pictures.words import about, amount, counted, day_short, measured, percent
from protoconch.season.answer import Batch, SeasonPlan, Spread, TankUse
from protoconch.sheets.look import (
    Html,
    figure,
    folded,
    joined,
    paragraph,
    section,
    table,
    tag,
)
from protoconch.words import counted as plural
from protoconch.words import joined as joined_words
from protoconch.words import listed, say


def batches_card(plan: SeasonPlan) -> Html:
    """The batches in three tables, and their shell lengths."""
    if not plan.batches:
        return Html("")
    size = plan.target.size_mm
    return section(
        say("The batches"),
        table(
            say("Numbers in the middle future, and between which eight futures in ten lie"),
            (
                say("Batch"),
                say("Stocked"),
                say("Competent"),
                say("Settled"),
                say("To the nursery"),
                say("{size:g} mm at the date", size=size),
            ),
            [_numbers(batch) for batch in plan.batches],
            numeric=5,
        ),
        table(
            say("Days"),
            (
                say("Batch"),
                say("Collect"),
                say("Hatch"),
                say("Thin"),
                say("Induce"),
                say("Nursery"),
                say("Half are {size:g} mm", size=size),
                say("Release"),
            ),
            [_days(batch) for batch in plan.batches],
        ),
        table(
            say("Eggs and vessels"),
            (say("Batch"), say("Eggs"), say("Larval tanks"), say("Larvae per litre"), say("Trays")),
            [_vessels(batch) for batch in plan.batches],
        ),
        folded(say("Shell length of each batch along time"), _lengths(plan), class_="printed"),
        id_="batches",
    )


def _numbers(batch: Batch) -> tuple[str, ...]:
    spreads = (batch.stocked, batch.competent, batch.settled, batch.to_nursery, batch.released)
    return (batch.code, *(_spread(spread) for spread in spreads))


def _spread(spread: Spread) -> Html:
    if round(spread.p10) == round(spread.p90):
        return joined([about(spread.p50)])
    between = say("{low} to {high}", low=about(spread.p10), high=about(spread.p90))
    return joined([about(spread.p50), tag("span", between, class_="quiet")])


def _days(batch: Batch) -> tuple[str, ...]:
    dates = batch.dates
    thin = listed([_day(day) for day in dates.thin]) if dates.thin else say("not needed")
    days = (dates.induce, dates.to_nursery, dates.ready, dates.release)
    return (batch.code, _day(dates.collect), _day(dates.hatch), thin, *map(_day, days))


def _day(day: date) -> str:
    """A day that does not break over lines."""
    return str(day_short(day)).replace(" ", "\N{NO-BREAK SPACE}")


def _vessels(batch: Batch) -> tuple[str, ...]:
    eggs = plural(
        batch.egg_masses,
        "{eggs} eggs from {number} mass, {share} of each",
        "{eggs} eggs from {number} masses, {share} of each",
        eggs=about(batch.eggs),
        share=_share(batch.share_of_mass),
    )
    tanks = listed([_tank(tank) for tank in batch.tanks] or [say("none")])
    trays = listed([f"{count} × {name}" for name, count in batch.trays.items()] or [say("none")])
    densities = joined_words([amount(density) for density in batch.density_per_l], say(", then "))
    return (batch.code, eggs, tanks, densities or say("none"), trays)


def _tank(tank: TankUse) -> str:
    return say(
        "{kind} {number} ({water})",
        kind=say(tank.kind),
        number=tank.number,
        water=measured(tank.litres, "L"),
    )


def _share(share: float) -> str:
    return f"{100 * share:.2g} %"


def _lengths(plan: SeasonPlan) -> Html:
    drawn = batches_by_code(plan.forecast.batches)
    figures = [
        figure(
            batch_lengths(batch, drawn[batch.code], plan.forecast, plan.target, f"length-{i + 1}")
        )
        for i, batch in enumerate(plan.batches)
    ]
    return tag("div", *figures, class_="small-figures")


def genetics_card(plan: SeasonPlan) -> Html:
    """How many families stand behind the animals released, and the largest share of one."""
    rules = plan.hatchery.genetics
    left = [
        batch.released.mean / batch.egg_masses
        for batch in plan.batches
        for _ in range(batch.egg_masses)
    ]
    if not any(left):
        return Html("")
    found = breeders(left)
    least = rules.min_masses
    rows = [
        (
            say("Egg masses in the season"),
            counted(plan.egg_masses),
            say("at least {least}", least=least),
        ),
        (
            say("Largest share of one mass"),
            percent(found.largest_share, rules.max_share),
            say("at most {share}", share=percent(rules.max_share)),
        ),
        (
            say("As diverse as so many equal families"),
            amount(found.equal_families),
            say("no rule set"),
        ),
        (
            say("Effective number of breeders, one sire a mass"),
            amount(found.effective),
            say("no rule set"),
        ),
    ]
    return section(
        say("Families"),
        paragraph(
            say(
                "The animals released come from {masses} egg masses. Shares are of the "
                "mean number at the date, each mass of a batch counted alike; real shares "
                "will be less even, so these are the best that can be hoped for.",
                masses=plan.egg_masses,
            )
        ),
        table(
            say("Parents behind the release"), (say("What"), say("This plan"), say("Rule")), rows
        ),
        id_="families",
    )
