"""The answer first: in words, in numbers, and what it takes."""

from datetime import date

from protoconch.pictures.futures import chance_curve, futures_dots
from protoconch.pictures.words import (
    about,
    amount,
    day_written,
    odds_said,
    odds_written,
    percent,
    unit_written,
)
from protoconch.season.answer import Limit, SeasonPlan
from protoconch.sheets.look import Html, bullets, figure, joined, paragraph, section, table, tag
from protoconch.words import Said, begun, counted, say

_NOTICEABLE = 0.005
"""Half a point of odds: less than the simulated seasons can tell from nothing."""


def species_written(name: str) -> str:
    """A kind of animal as people call it: "queen-conch" is queen conch."""
    return say(name.replace("-", " "))


def asked_written(plan: SeasonPlan) -> str:
    """1,200 juveniles of 80 mm are ready by 31 October 2028."""
    target = plan.target
    return counted(
        target.animals,
        "{number:,} juvenile of {size:g}\N{NO-BREAK SPACE}mm is ready by {day}",
        "{number:,} juveniles of {size:g}\N{NO-BREAK SPACE}mm are ready by {day}",
        size=target.size_mm,
        day=day_written(target.by),
    )


def answer_written(plan: SeasonPlan) -> str:
    """The answer in one sentence: the page's title."""
    odds = odds_written(plan.odds.value, plan.target.confidence)
    target = asked_written(plan)
    if plan.feasible:
        return say("{odds} that {target}", odds=odds, target=target)
    if not plan.batches:
        return say(
            "No plan: nothing that fits this hatchery gives hope that {target}", target=target
        )
    hundredths = odds.endswith("100")  # of the English
    asked = (
        say("{hundredths:.0f} in 100", hundredths=100 * plan.target.confidence)
        if hundredths
        else odds_said(plan.target.confidence)
    )
    return say(
        "{odds}, not the {asked} asked, that {target}", odds=odds, asked=asked, target=target
    )


def opening(plan: SeasonPlan, printed: date) -> Html:
    """Title, whose hatchery it is, when the page was made, and whether it is invented."""
    hatchery = plan.hatchery
    species = species_written(hatchery.species)
    parts = [
        paragraph(
            say("Season report of {name}, {place}", name=hatchery.name, place=hatchery.place)
        ),
        tag("h1", answer_written(plan)),
    ]
    if hatchery.invented:
        parts.append(
            paragraph(
                tag("b", say("This hatchery is invented.")),
                " ",
                say(
                    "It describes no real place, people or permit; it shows what a report looks "
                    "like."
                ),
                class_="notice",
            )
        )
    parts.append(
        paragraph(
            say(
                "Species: {species}. Printed {day}.",
                species=species,
                day=day_written(printed),
            )
        )
    )
    return tag("header", *parts)


def odds_shown(plan: SeasonPlan) -> str:
    """The odds as the page's large number: 76 %."""
    return begun(percent(plan.odds.value, plan.target.confidence))


def limit_written(plan: SeasonPlan) -> str:
    """What holds the season back most, in a sentence."""
    binding = [limit for limit in plan.limits if limit.name == plan.binding_limit]
    if not binding:
        return say("Nothing in the room holds this season back noticeably.")
    return say(
        "What holds it back most: {name}. {sentence}",
        name=say(binding[0].name),
        sentence=binding[0].sentence,
    )


def counting_written(plan: SeasonPlan) -> str:
    """Where the odds come from, and how sure their counting is."""
    odds = plan.odds
    half = (
        Said.of("{half:.1f}", {"half": 100 * odds.error})
        if odds.error >= 0.0005
        else say("less than 0.1")
    )
    return say(
        "Counted over {draws:,} simulated seasons that the search had not seen: give or take "
        "{half} points, and with 95 % confidence at least {least:.1f} %. That is the error of the "
        "counting; how far to trust the numbers behind it stands under Assumptions.",
        draws=odds.draws,
        half=half,
        least=100 * odds.at_least,
    )


def answer_cards(plan: SeasonPlan) -> Html:
    """The odds with their error, and what the plan takes from the room."""
    if not plan.batches:
        words = say(
            "Nothing is planned, so nothing can be counted on. The reasons and the limits follow."
        )
        return section(say("The odds"), paragraph(words, class_="lead"), id_="odds")
    return tag("div", _odds_card(plan), _takes_card(plan), class_="pair")


def _odds_card(plan: SeasonPlan) -> Html:
    target = plan.target
    return section(
        say("The odds"),
        paragraph(odds_shown(plan), class_="big"),
        paragraph(say("Asked: {confidence}.", confidence=percent(target.confidence))),
        paragraph(
            say(
                "On average {mean} are ready at the date; in eight futures of ten between "
                "{low} and {high}.",
                mean=about(plan.expected, 3),
                low=about(plan.p10, 3),
                high=about(plan.p90, 3),
            ),
            class_="lead",
        ),
        figure(futures_dots(plan)),
        paragraph(counting_written(plan), class_="quiet"),
        id_="odds",
    )


def _takes_card(plan: SeasonPlan) -> Html:
    room = plan.hatchery
    tanks = sum(tank.count for tank in room.larval_tanks)
    rows = (
        (say("Batches"), f"{len(plan.batches)}"),
        (
            say("Egg masses, of those permitted"),
            say(
                "{used} of {all}",
                used=plan.egg_masses,
                all=room.permit.egg_masses,
            ),
        ),
        (
            say("Larval tanks, at most at once"),
            say("{used} of {all}", used=round(plan.forecast.tanks_used.max()), all=tanks),
        ),
        (say("Tray floor, at most"), _of(plan.tray_area_cm2 / 1e4, room.tray_area_cm2 / 1e4, "m²")),
        (
            say("Nursery floor, middle future, at most"),
            _of(plan.nursery_m2, room.nursery_area_m2, "m²"),
        ),
        (say("Work, whole season"), f"{plan.work_hours:,.0f} h"),
    )
    terms = joined(joined((tag("dt", name), tag("dd", used))) for name, used in rows)
    return section(
        say("What the plan takes"),
        tag("dl", terms, class_="measures"),
        tag("h3", say("How sure of how many")),
        figure(chance_curve(plan)),
        id_="takes",
    )


def _of(used: float, available: float, unit: str) -> str:
    return say("{used} of {all} {unit}", used=amount(used), all=amount(available), unit=unit)


def limits_card(plan: SeasonPlan) -> Html:
    """What holds the season back, what one more of it is worth, and what the planner noted."""
    binding = [limit for limit in plan.limits if limit.name == plan.binding_limit]
    lead = [
        paragraph(tag("b", begun(say(limit.name)), "."), " ", limit.sentence, class_="lead")
        for limit in binding
    ]
    if not lead:
        lead = [
            paragraph(say("Nothing in the room holds this season back noticeably."), class_="lead")
        ]
    rows = [
        (
            joined([begun(say(limit.name)), *_remarks(limit, plan.binding_limit)]),
            _with_unit(limit.used, limit.unit),
            _with_unit(limit.available, limit.unit),
            _one_more(limit.one_more),
        )
        for limit in sorted(plan.limits, key=lambda each: each.name != plan.binding_limit)
    ]
    heads = (say("Limit"), say("Most used"), say("There is"), say("One more is worth"))
    notes = [tag("h3", say("Notes")), bullets(plan.notes)] if plan.notes else []
    grid = [table(say("What is scarce, the scarcest first"), heads, rows)] if rows else []
    return section(say("What limits the season"), *lead, *grid, *notes, id_="limits")


def _remarks(limit: Limit, binding: str) -> list[Html]:
    """What stands under a limit's name: that it holds back most, or what one more would do."""
    if limit.name == binding:
        return [tag("span", say("holds back most"), class_="mark line")]
    if limit.one_more is None or abs(limit.one_more) >= _NOTICEABLE:
        return [tag("span", limit.sentence, class_="quiet")]
    return []


def _one_more(gain: float | None) -> str:
    """Odds gained; below half a point the simulated seasons cannot tell it from nothing."""
    if gain is None:
        return say("not computed")
    return (
        say("{gain:+.1f} points", gain=100 * gain)
        if abs(gain) >= _NOTICEABLE
        else say("nothing noticeable")
    )


def _with_unit(number: float, unit: str) -> str:
    """An amount of a limit; a share is told in percent."""
    if unit == "share of the fullest day":
        return say("{percent:.0f}\N{NO-BREAK SPACE}% of the fullest day", percent=100 * number)
    if unit.startswith("share"):
        return f"{100 * number:.0f}\N{NO-BREAK SPACE}%{unit.removeprefix('share')}"
    return f"{amount(number)} {unit_written(unit)}"


def offers_card(plan: SeasonPlan) -> Html:
    """What this hatchery could be asked instead, each offer with its numbers."""
    if not plan.offers:
        return Html("")
    rows = [
        (
            joined((begun(say(offer.kind)), tag("span", offer.sentence, class_="quiet"))),
            day_written(offer.target.by),
            f"{offer.target.animals:,}",
            percent(offer.odds.value, offer.target.confidence),
            about(offer.expected, 3),
            f"{offer.egg_masses}",
            f"{offer.tanks}",
        )
        for offer in plan.offers
    ]
    heads = (
        say("Offer"),
        say("By"),
        say("Animals"),
        say("Odds"),
        say("Expected"),
        say("Egg masses"),
        say("Tanks stocked"),
    )
    return section(
        say("What could be asked instead"),
        table(
            say("Targets near the one asked that this hatchery can meet"), heads, rows, numeric=5
        ),
        id_="offers",
    )
