"""The answer first: in words, in numbers, and what it takes."""

from datetime import date

from protoconch.pictures.futures import chance_curve, futures_dots
from protoconch.pictures.words import (
    about,
    amount,
    counted,
    day_written,
    odds_written,
    percent,
    unit_written,
)
from protoconch.season.answer import Limit, SeasonPlan
from protoconch.sheets.look import Html, bullets, figure, joined, paragraph, section, table, tag

_NOTICEABLE = 0.005
"""Half a point of odds: less than the simulated seasons can tell from nothing."""


def asked_written(plan: SeasonPlan) -> str:
    """1,200 juveniles of 80 mm are ready by 31 October 2028."""
    target = plan.target
    return (
        f"{counted(target.animals)} juvenile{'s' if target.animals != 1 else ''} of "
        f"{target.size_mm:g}\N{NO-BREAK SPACE}mm {'are' if target.animals != 1 else 'is'} ready by "
        f"{day_written(target.by)}"
    )


def answer_written(plan: SeasonPlan) -> str:
    """The answer in one sentence: the page's title."""
    odds = odds_written(plan.odds.value, plan.target.confidence)
    if plan.feasible:
        return f"{odds} that {asked_written(plan)}"
    if not plan.batches:
        return f"No plan: nothing that fits this hatchery gives hope that {asked_written(plan)}"
    asked = (
        f"{100 * plan.target.confidence:.0f} in 100"
        if odds.endswith("100")
        else odds_written(plan.target.confidence).lower()
    )
    return f"{odds}, not the {asked} asked, that {asked_written(plan)}"


def opening(plan: SeasonPlan, printed: date) -> Html:
    """Title, whose hatchery it is, when the page was made, and whether it is invented."""
    hatchery = plan.hatchery
    species = hatchery.species.replace("-", " ")
    parts = [
        paragraph(f"Season report of {hatchery.name}, {hatchery.place}"),
        tag("h1", answer_written(plan)),
    ]
    if hatchery.invented:
        parts.append(
            paragraph(
                tag("b", "This hatchery is invented. "),
                "It describes no real place, people or permit; it shows what a report looks like.",
                class_="notice",
            )
        )
    parts.append(paragraph(f"Species: {species}. Printed {day_written(printed)}."))
    return tag("header", *parts)


def odds_shown(plan: SeasonPlan) -> str:
    """The odds as the page's large number: 76 %."""
    return _capital(percent(plan.odds.value, plan.target.confidence))


def limit_written(plan: SeasonPlan) -> str:
    """What holds the season back most, in a sentence."""
    binding = [limit for limit in plan.limits if limit.name == plan.binding_limit]
    if not binding:
        return "Nothing in the room holds this season back noticeably."
    return f"What holds it back most: {binding[0].name}. {binding[0].sentence}"


def counting_written(plan: SeasonPlan) -> str:
    """Where the odds come from, and how sure their counting is."""
    odds = plan.odds
    half = f"{100 * odds.error:.1f}" if odds.error >= 0.0005 else "less than 0.1"
    return (
        f"Counted over {counted(odds.draws)} simulated seasons that the search had not seen: "
        f"give or take {half} points, and with 95 % confidence at least "
        f"{100 * odds.at_least:.1f} %. That is the error of the counting; how far to trust the "
        "numbers behind it stands under Assumptions."
    )


def answer_cards(plan: SeasonPlan) -> Html:
    """The odds with their error, and what the plan takes from the room."""
    if not plan.batches:
        words = (
            "Nothing is planned, so nothing can be counted on. The reasons and the limits follow."
        )
        return section("The odds", paragraph(words, class_="lead"), id_="odds")
    return tag("div", _odds_card(plan), _takes_card(plan), class_="pair")


def _odds_card(plan: SeasonPlan) -> Html:
    target = plan.target
    return section(
        "The odds",
        paragraph(odds_shown(plan), class_="big"),
        paragraph(f"Asked: {percent(target.confidence)}."),
        paragraph(
            f"On average {about(plan.expected, 3)} are ready at the date; in eight futures of ten "
            f"between {about(plan.p10, 3)} and {about(plan.p90, 3)}.",
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
        ("Batches", f"{len(plan.batches)}"),
        ("Egg masses, of those permitted", f"{plan.egg_masses} of {room.permit.egg_masses}"),
        ("Larval tanks, at most at once", f"{plan.forecast.tanks_used.max():.0f} of {tanks}"),
        ("Tray floor, at most", _of(plan.tray_area_cm2 / 1e4, room.tray_area_cm2 / 1e4, "m²")),
        ("Nursery floor, middle future, at most", _of(plan.nursery_m2, room.nursery_area_m2, "m²")),
        ("Work, whole season", f"{counted(plan.work_hours)} h"),
    )
    terms = joined(joined((tag("dt", name), tag("dd", used))) for name, used in rows)
    return section(
        "What the plan takes",
        tag("dl", terms, class_="measures"),
        tag("h3", "How sure of how many"),
        figure(chance_curve(plan)),
        id_="takes",
    )


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]


def _of(used: float, available: float, unit: str) -> str:
    return f"{amount(used)} of {amount(available)} {unit}"


def limits_card(plan: SeasonPlan) -> Html:
    """What holds the season back, what one more of it is worth, and what the planner noted."""
    binding = [limit for limit in plan.limits if limit.name == plan.binding_limit]
    lead = [
        paragraph(tag("b", f"{_capital(limit.name)}. "), limit.sentence, class_="lead")
        for limit in binding
    ]
    if not lead:
        lead = [paragraph("Nothing in the room holds this season back noticeably.", class_="lead")]
    rows = [
        (
            joined([_capital(limit.name), *_remarks(limit, plan.binding_limit)]),
            _with_unit(limit.used, limit.unit),
            _with_unit(limit.available, limit.unit),
            _one_more(limit.one_more),
        )
        for limit in sorted(plan.limits, key=lambda each: each.name != plan.binding_limit)
    ]
    heads = ("Limit", "Most used", "There is", "One more is worth")
    notes = [tag("h3", "Notes"), bullets(plan.notes)] if plan.notes else []
    grid = [table("What is scarce, the scarcest first", heads, rows)] if rows else []
    return section("What limits the season", *lead, *grid, *notes, id_="limits")


def _remarks(limit: Limit, binding: str) -> list[Html]:
    """What stands under a limit's name: that it holds back most, or what one more would do."""
    if limit.name == binding:
        return [tag("span", "holds back most", class_="mark line")]
    if limit.one_more is None or abs(limit.one_more) >= _NOTICEABLE:
        return [tag("span", limit.sentence, class_="quiet")]
    return []


def _one_more(gain: float | None) -> str:
    """Odds gained; below half a point the simulated seasons cannot tell it from nothing."""
    if gain is None:
        return "not computed"
    return f"{100 * gain:+.1f} points" if abs(gain) >= _NOTICEABLE else "nothing noticeable"


def _with_unit(number: float, unit: str) -> str:
    """An amount of a limit; a share is told in percent."""
    if unit.startswith("share"):
        return f"{100 * number:.0f}\N{NO-BREAK SPACE}%{unit.removeprefix('share')}"
    return f"{amount(number)} {unit_written(unit)}"


def offers_card(plan: SeasonPlan) -> Html:
    """What this hatchery could be asked instead, each offer with its numbers."""
    if not plan.offers:
        return Html("")
    rows = [
        (
            joined((_capital(offer.kind), tag("span", offer.sentence, class_="quiet"))),
            day_written(offer.target.by),
            counted(offer.target.animals),
            percent(offer.odds.value, offer.target.confidence),
            about(offer.expected, 3),
            f"{offer.egg_masses}",
            f"{offer.tanks}",
        )
        for offer in plan.offers
    ]
    heads = ("Offer", "By", "Animals", "Odds", "Expected", "Egg masses", "Tanks stocked")
    return section(
        "What could be asked instead",
        table("Targets near the one asked that this hatchery can meet", heads, rows, numeric=5),
        id_="offers",
    )
