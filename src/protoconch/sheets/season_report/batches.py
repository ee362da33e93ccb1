"""Each batch: its days, its vessels, its numbers, its lengths, and the families behind all."""

from datetime import date

from protoconch.animals.genetics import breeders
from protoconch.pictures.lengths import batch_lengths
from protoconch.pictures.ribbon import batches_by_code
from protoconch.pictures.words import about, amount, counted, day_short, listed, percent
from protoconch.season.answer import Batch, SeasonPlan, Spread
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


def batches_card(plan: SeasonPlan) -> Html:
    """The batches in three tables, and their shell lengths."""
    if not plan.batches:
        return Html("")
    size = f"{plan.target.size_mm:g} mm"
    return section(
        "The batches",
        table(
            "Numbers in the middle future, and between which eight futures in ten lie",
            ("Batch", "Stocked", "Competent", "Settled", "To the nursery", f"{size} at the date"),
            [_numbers(batch) for batch in plan.batches],
            numeric=5,
        ),
        table(
            "Days",
            (
                "Batch",
                "Collect",
                "Hatch",
                "Thin",
                "Induce",
                "Nursery",
                f"Half are {size}",
                "Release",
            ),
            [_days(batch) for batch in plan.batches],
        ),
        table(
            "Eggs and vessels",
            ("Batch", "Eggs", "Larval tanks", "Larvae per litre", "Trays"),
            [_vessels(batch) for batch in plan.batches],
        ),
        folded("Shell length of each batch along time", _lengths(plan), class_="printed"),
        id_="batches",
    )


def _numbers(batch: Batch) -> tuple[str, ...]:
    spreads = (batch.stocked, batch.competent, batch.settled, batch.to_nursery, batch.released)
    return (batch.code, *(_spread(spread) for spread in spreads))


def _spread(spread: Spread) -> Html:
    if round(spread.p10) == round(spread.p90):
        return joined([about(spread.p50)])
    between = f"{about(spread.p10)} to {about(spread.p90)}"
    return joined([about(spread.p50), tag("span", between, class_="quiet")])


def _days(batch: Batch) -> tuple[str, ...]:
    dates = batch.dates
    thin = listed([_day(day) for day in dates.thin]) if dates.thin else "not needed"
    days = (dates.induce, dates.to_nursery, dates.ready, dates.release)
    return (batch.code, _day(dates.collect), _day(dates.hatch), thin, *map(_day, days))


def _day(day: date) -> str:
    """A day that does not break over lines."""
    return day_short(day).replace(" ", "\N{NO-BREAK SPACE}")


def _vessels(batch: Batch) -> tuple[str, ...]:
    masses = f"{batch.egg_masses} mass{'es' if batch.egg_masses != 1 else ''}"
    eggs = f"{about(batch.eggs)} eggs from {masses}, {_share(batch.share_of_mass)} of each"
    tanks = listed([f"{t.kind} {t.number} ({amount(t.litres)} L)" for t in batch.tanks] or ["none"])
    trays = listed([f"{count} × {name}" for name, count in batch.trays.items()] or ["none"])
    densities = ", then ".join(amount(density) for density in batch.density_per_l)
    return (batch.code, eggs, tanks, densities or "none", trays)


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
        ("Egg masses in the season", counted(plan.egg_masses), f"at least {least}"),
        (
            "Largest share of one mass",
            percent(found.largest_share, rules.max_share),
            f"at most {percent(rules.max_share)}",
        ),
        ("As diverse as so many equal families", amount(found.equal_families), "no rule set"),
        ("Effective number of breeders, one sire a mass", amount(found.effective), "no rule set"),
    ]
    return section(
        "Families",
        paragraph(
            f"The animals released come from {plan.egg_masses} egg masses. Shares are of the mean "
            "number at the date, each mass of a batch counted alike; real shares will be less "
            "even, so these are the best that can be hoped for."
        ),
        table("Parents behind the release", ("What", "This plan", "Rule"), rows),
        id_="families",
    )
