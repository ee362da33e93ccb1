"""The answer to a target as a page of text, and as plain data for other programs."""

from typing import Any

from protoconch.pictures.words import day_written, odds_written
from protoconch.season.answer import Batch, Offer, SeasonPlan, Spread


def headline(plan: SeasonPlan) -> str:
    """The answer in one sentence."""
    target = plan.target
    odds = odds_written(plan.odds.value, target.confidence)
    return (
        f"{odds} that {target.animals:,} juveniles of {target.size_mm:g} mm are ready by "
        f"{day_written(target.by)}."
    )


def answer_text(plan: SeasonPlan) -> str:
    """The answer as text for a terminal."""
    asked = f"{plan.target.confidence * 100:.0f} % was asked"
    verdict = "feasible" if plan.feasible else "not sure enough"
    limit = "nothing in the room" if plan.binding_limit == "none" else plan.binding_limit
    odds = (
        f"{plan.odds.value * 100:.1f} % (± {plan.odds.error * 100:.1f}; {asked}) in "
        f"{plan.odds.draws:,} simulated seasons: {verdict}."
    )
    number = (
        f"Expected {plan.expected:,.0f}; eight in ten seasons give {plan.p10:,.0f} to "
        f"{plan.p90:,.0f}."
    )
    takes = (
        f"{plan.egg_masses} egg masses, {plan.tanks} tank fillings in {len(plan.batches)} batches, "
        f"{plan.tray_area_cm2 / 10_000:.1f} m² of trays and {plan.nursery_m2:.0f} m² of nursery "
        f"at the peak; {plan.work_hours:,.0f} hours of crew are kept free for it."
    )
    lines = [headline(plan), odds, number, "", takes, "", *_batch_lines(plan.batches), ""]
    lines.append(f"What limits the season most: {limit}.")
    lines += [f"  {limit.sentence}" for limit in plan.limits if (limit.one_more or 0) >= 0.004]
    if plan.offers:
        lines += ["", "What could be asked instead:", *(f"  {o.sentence}" for o in plan.offers)]
    if plan.notes:
        lines += ["", "To know:", *(f"  {note}" for note in plan.notes)]
    return "\n".join(lines)


def _batch_lines(batches: tuple[Batch, ...]) -> list[str]:
    if not batches:
        return ["No batch can be begun."]
    head = ("batch", "collect", "hatch", "induce", "to nursery", "tanks", "stocked", "at the date")
    rows = [
        (b.code, f"{b.dates.collect}", f"{b.dates.hatch}", f"{b.dates.induce}",
         f"{b.dates.to_nursery}", ", ".join(f"{t.kind} {t.number}" for t in b.tanks),
         f"{b.stocked.p50:,.0f}", f"{b.released.p10:,.0f}-{b.released.p90:,.0f}")
        for b in batches
    ]  # fmt: skip
    widths = [max(len(row[i]) for row in (head, *rows)) for i in range(len(head))]
    return [
        "  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)).rstrip()
        for row in (head, *rows)
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
