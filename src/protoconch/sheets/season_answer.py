"""The answer to a target as a page of text, and as plain data for other programs."""

from typing import Any

from protoconch.pictures.words import day_written, odds_written
from protoconch.season.answer import Batch, Offer, SeasonPlan, Spread
from protoconch.words import say


def headline(plan: SeasonPlan) -> str:
    """The answer in one sentence."""
    target = plan.target
    odds = odds_written(plan.odds.value, target.confidence)
    return say(
        "{odds} that {animals:,} juveniles of {size:g} mm are ready by {day}.",
        odds=odds,
        animals=target.animals,
        size=target.size_mm,
        day=day_written(target.by),
    )


def answer_text(plan: SeasonPlan) -> str:
    """The answer as text for a terminal."""
    limit = say("nothing in the room") if plan.binding_limit == "none" else say(plan.binding_limit)
    odds = say(
        "{odds:.1f} % (± {error:.1f}; {asked:.0f} % was asked) in {draws:,} simulated seasons: "
        "feasible."
        if plan.feasible
        else "{odds:.1f} % (± {error:.1f}; {asked:.0f} % was asked) in {draws:,} simulated "
        "seasons: not sure enough.",
        odds=plan.odds.value * 100,
        error=plan.odds.error * 100,
        asked=plan.target.confidence * 100,
        draws=plan.odds.draws,
    )
    number = say(
        "Expected {expected:,.0f}; eight in ten seasons give {low:,.0f} to {high:,.0f}.",
        expected=plan.expected,
        low=plan.p10,
        high=plan.p90,
    )
    takes = say(
        "{masses} egg masses, {tanks} tank fillings in {batches} batches, {trays:.1f} m² of trays "
        "and {nursery:.0f} m² of nursery at the peak; {hours:,.0f} hours of crew are kept free "
        "for it.",
        masses=plan.egg_masses,
        tanks=plan.tanks,
        batches=len(plan.batches),
        trays=plan.tray_area_cm2 / 10000,
        nursery=plan.nursery_m2,
        hours=plan.work_hours,
    )
    lines = [headline(plan), odds, number, "", takes, "", *_batch_lines(plan.batches), ""]
    lines.append(say("What limits the season most: {limit}.", limit=limit))
    lines += [f"  {limit.sentence}" for limit in plan.limits if (limit.one_more or 0) >= 0.004]
    if plan.offers:
        lines += [
            "",
            say("What could be asked instead:"),
            *(f"  {o.sentence}" for o in plan.offers),
        ]
    if plan.notes:
        lines += ["", say("To know:"), *(f"  {note}" for note in plan.notes)]
    return "\n".join(map(str, lines))


def _batch_lines(batches: tuple[Batch, ...]) -> list[str]:
    if not batches:
        return [say("No batch can be begun.")]
    head = (
        say("batch"),
        say("collect"),
        say("hatch"),
        say("induce"),
        say("to nursery"),
        say("tanks"),
        say("stocked"),
        say("at the date"),
    )
    rows = [
        (b.code, f"{b.dates.collect}", f"{b.dates.hatch}", f"{b.dates.induce}",
         f"{b.dates.to_nursery}", ", ".join(f"{say(t.kind)} {t.number}" for t in b.tanks),
         f"{b.stocked.p50:,.0f}", f"{b.released.p10:,.0f}-{b.released.p90:,.0f}")
        for b in batches
    ]  # fmt: skip
    lines = [tuple(map(str, head)), *rows]
    widths = [max(len(row[i]) for row in lines) for i in range(len(head))]
    return [
        "  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)).rstrip()
        for row in lines
    ]


def answer_json(plan: SeasonPlan) -> dict[str, Any]:
    """The answer as plain data; numbers of animals are means unless named otherwise."""
    target = plan.target
    return {
        "hatchery": plan.hatchery.name,
        "invented": plan.hatchery.invented,
        "species": plan.hatchery.species,
        "target": {"animals": target.animals, "size_mm": target.size_mm,
                   "by": target.by.isoformat(), "confidence": target.confidence},
        "feasible": plan.feasible,
        "odds": plan.odds.value,
        "odds_error": plan.odds.error,
        "odds_at_least": plan.odds.at_least,
        "draws": plan.odds.draws,
        "expected": plan.expected,
        "p10": plan.p10,
        "p90": plan.p90,
        "egg_masses": plan.egg_masses,
        "larvae_stocked": sum(b.stocked.mean for b in plan.batches),
        "competent": sum(b.competent.mean for b in plan.batches),
        "settled": sum(b.settled.mean for b in plan.batches),
        "to_nursery": sum(b.to_nursery.mean for b in plan.batches),
        "released": sum(b.released.mean for b in plan.batches),
        "tanks": plan.tanks,
        "tray_area_cm2": plan.tray_area_cm2,
        "nursery_m2": plan.nursery_m2,
        "work_hours": plan.work_hours,
        "binding_limit": plan.binding_limit,
        "limits": [
            {"name": x.name, "unit": x.unit, "used": x.used, "available": x.available,
             "one_more": x.one_more, "sentence": x.sentence}
            for x in plan.limits
        ],
        "batches": [_batch_json(b) for b in plan.batches],
        "offers": [_offer_json(o) for o in plan.offers],
        "notes": list(plan.notes),
        "seed": plan.seed,
    }  # fmt: skip


def _batch_json(batch: Batch) -> dict[str, Any]:
    dates = batch.dates
    return {
        "code": batch.code,
        "start": dates.collect.isoformat(),
        "egg_masses": batch.egg_masses,
        "eggs": batch.eggs,
        "share_of_mass": batch.share_of_mass,
        "dates": {
            "collect": dates.collect.isoformat(), "hatch": dates.hatch.isoformat(),
            "thin": [day.isoformat() for day in dates.thin], "induce": dates.induce.isoformat(),
            "to_nursery": dates.to_nursery.isoformat(), "ready": dates.ready.isoformat(),
            "release": dates.release.isoformat(), "tank_until": dates.tank_until.isoformat(),
            "tray_until": dates.tray_until.isoformat(),
        },
        "tanks": [{"kind": t.kind, "number": t.number, "litres": t.litres} for t in batch.tanks],
        "trays": dict(batch.trays),
        "numbers": {
            name: _spread_json(getattr(batch, name))
            for name in ("stocked", "competent", "settled", "to_nursery", "released")
        },
    }  # fmt: skip


def _spread_json(spread: Spread) -> dict[str, float]:
    return {"p10": spread.p10, "p50": spread.p50, "p90": spread.p90, "mean": spread.mean}


def _offer_json(offer: Offer) -> dict[str, Any]:
    target = offer.target
    return {
        "kind": offer.kind, "animals": target.animals, "size_mm": target.size_mm,
        "by": target.by.isoformat(), "confidence": target.confidence, "odds": offer.odds.value,
        "odds_error": offer.odds.error, "expected": offer.expected,
        "egg_masses": offer.egg_masses, "tanks": offer.tanks, "sentence": offer.sentence,
    }  # fmt: skip
