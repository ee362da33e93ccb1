"""Entries about animals: what cannot be, and what is unlikely."""

import math

from protoconch.errors import BadInput, MissingNumber
from protoconch.log.checking.usual import (
    floor_cm2,
    footprint_cm2,
    length_of,
    length_range_mm,
    usual_cover,
    usual_density,
)  # fmt: skip
from protoconch.log.checking.verdict import Case
from protoconch.log.numbers import animals_counted, bound, length_measured, most_possible
from protoconch.log.payloads import animals as told
from protoconch.log.state import STAGES
from protoconch.units import text
from protoconch.words import say


def needs_animals(case: Case) -> bool:
    """True where the vessel holds animals; else that is asked about."""
    if case.holding is not None:
        return True
    case.ask(
        say("{where} is empty by the log; were these animals in another vessel?", where=case.where)
    )
    return False


def counted(case: Case, said: told.Counted) -> None:
    """A count that fits into the vessel, near what the ledger has."""
    if said.litres is not None:
        full(case, said.litres)
    try:
        value, low, high = animals_counted(said, case.state.clumping)
    except BadInput as error:
        case.refuse(str(error))
        return
    fits(case, low)
    if not needs_animals(case):
        return
    holding = case.holding
    times, least = bound("ledger.far_off_times"), bound("ledger.far_off_least")
    if holding is None or not holding.alive or abs(value - holding.alive) < least:
        return
    if not holding.alive / times <= value <= holding.alive * times:
        case.ask(
            say(
                "{value:,.0f} animals ({low:,.0f} to {high:,.0f}) in {where}, where the ledger "
                "has {alive:,}: is a digit too many or too few?",
                value=value,
                low=low,
                high=high,
                where=case.where,
                alive=holding.alive,
            )
        )
    crowded(case, value)


def full(case: Case, litres: float) -> None:
    """Refuse more water than the vessel holds."""
    vessel = case.vessels.get(case.where)
    if vessel is None or vessel.unit != "L" or not vessel.size:
        return
    if litres > vessel.size * bound("fits.over_full"):
        case.refuse(
            say(
                "{where} holds {size}, not {litres}.",
                where=case.where,
                size=text(vessel.size, "L", 6),
                litres=text(litres, "L", 6),
            )
        )


def fits(case: Case, number: float, where: str = "") -> None:
    """Refuse more animals than a vessel can hold in any way."""
    vessel = case.vessels.get(where or case.where)
    if vessel is None or not vessel.size:
        return
    if vessel.kind == "larval tank":
        most = bound("fits.larvae_per_l") * vessel.size
    elif floor := floor_cm2(vessel):
        try:
            length = length_of(case.species, case.holding, STAGES[vessel.kind])
            most = floor * bound("fits.layers") / footprint_cm2(case.species, length)
        except MissingNumber:
            return
    else:
        return
    if number > most:
        case.refuse(
            say(
                "{number:,.0f} animals do not fit into {name}; at most {most:,} of their size do.",
                number=number,
                name=vessel.name,
                most=math.floor(most),
            ),
            by_log=vessel.kind != "larval tank",
        )


def crowded(case: Case, number: float) -> None:
    """Ask where the vessel is far more crowded than is usual."""
    vessel, holding, times = case.vessels.get(case.where), case.holding, None
    if vessel is None or not vessel.size or holding is None:
        return
    try:
        if vessel.kind == "larval tank":
            usual = usual_density(case.state, case.species, holding, case.entry.happened)
            times = number / vessel.size / usual if usual else None
        elif floor := floor_cm2(vessel):
            length = length_of(case.species, holding, holding.stage)
            covered = number * footprint_cm2(case.species, length) / floor
            times = covered / usual_cover(case.species, length)
    except MissingNumber:
        return
    if times is not None and times > bound("unlikely.density_times"):
        case.ask(
            say(
                "With {number:,.0f} animals {where} is {times:.1f} times as crowded as is usual "
                "at this age or size.",
                number=number,
                where=case.where,
                times=times,
            )
        )


def measured(case: Case, said: told.Measured) -> None:
    """Lengths within the range of the stage, and not shorter than last time."""
    mean, _, _ = length_measured(said)
    needs_animals(case)
    holding = case.holding
    stage = holding.stage if holding is not None else STAGES.get(case.kind_of_vessel, "")
    usual = length_range_mm(case.species, stage)
    if usual is not None:
        low, high = usual
        slack = bound("unlikely.length_slack")
        if mean > high * bound("unlikely.length_unit_times"):
            case.refuse(
                say(
                    "A mean length of {mean:g} mm is not that of a {stage}, {low:g} to {high:g}"
                    " mm; "
                    "give it in mm, 1000 µm are 1 mm.",
                    mean=mean,
                    stage=say(stage),
                    low=low,
                    high=high,
                ),
                by_log=True,
            )
        elif not low / slack <= mean <= high * slack:
            case.ask(
                say(
                    "A mean length of {mean:.3g} mm; a {stage} usually has {low:g} to {high:g} mm.",
                    mean=mean,
                    stage=say(stage),
                    low=low,
                    high=high,
                )
            )
    last = holding.length_mm if holding is not None else None
    if last is not None and mean < last * bound("unlikely.shrunk_share"):
        case.ask(
            say(
                "The mean length, {mean:.3g} mm, is less than the last one, {last:.3g} mm; "
                "shells do not shrink.",
                mean=mean,
                last=last,
            )
        )


def stocked(case: Case, said: told.Stocked) -> None:
    """Larvae that fit, into a clean tank that holds no other batch."""
    if said.litres is not None:
        full(case, said.litres)
    fits(case, said.animals)
    holding = case.holding
    if holding is not None and holding.batch != said.batch:
        case.ask(
            say(
                "{where} still holds {alive:,} animals of batch {batch}; were they moved, lost "
                "or released?",
                where=case.where,
                alive=holding.alive,
                batch=holding.batch,
            )
        )
    if case.where in case.state.dirty:
        case.ask(say("{where} was not cleaned since it was emptied.", where=case.where))
    if said.batch not in case.state.batches:
        case.ask(say("The log knows no batch {batch} yet; is its name right?", batch=said.batch))
    vessel = case.vessels.get(case.where)
    usual = case.species.steps("veliger.density")
    if vessel is not None and vessel.kind == "larval tank" and vessel.size and usual:
        value = usual[0][1].value
        if value and said.animals > value * vessel.size * bound("unlikely.density_times"):
            case.ask(
                say(
                    "{animals:,} larvae in {size} are {density:.0f} per litre; {usual:g} are"
                    " usual.",
                    animals=said.animals,
                    size=text(vessel.size, "L", 6),
                    density=said.animals / vessel.size,
                    usual=value,
                )
            )


def out_of(case: Case, number: int | None, did: str, *, refused: bool = False) -> None:
    """No more animals than the vessel can have."""
    holding = case.holding
    if holding is None:
        if refused:
            case.refuse(
                say(
                    "{where} holds no animals by the log, so none can be {did}; log first how they "
                    "came into it.",
                    where=case.where,
                    did=did,
                ),
                by_log=True,
            )
        else:
            needs_animals(case)
        return
    if number is not None and number > most_possible(holding):
        sentence = say(
            "{number:,} animals cannot be {did}: {where} has {alive:,} alive; count it first "
            "if there are more.",
            number=number,
            did=did,
            where=case.where,
            alive=holding.alive,
        )
        if refused:
            case.refuse(sentence, by_log=True)
        else:
            case.ask(sentence)


def thinned(case: Case, said: told.Thinned) -> None:
    """Kept and taken out together are what was there."""
    out_of(case, said.kept + (said.removed or 0), say("kept and taken out"))


def moved(case: Case, said: told.Moved) -> None:
    """As many as there were, into vessels that hold none or the same batch."""
    out_of(case, said.animals, say("moved"))
    _into(case, said.to)


def _into(case: Case, names: tuple[str, ...]) -> None:
    holding = case.holding
    for name in dict.fromkeys(names):
        there = case.state.holdings.get(name)
        if there is not None and holding is not None and there.batch != holding.batch:
            case.ask(
                say(
                    "{name} holds batch {batch}; batches that mix lose their parents.",
                    name=name,
                    batch=there.batch,
                )
            )
        if name in case.state.dirty:
            case.ask(say("{name} was not cleaned since it was emptied.", name=name))


def graded(case: Case, said: told.Graded) -> None:
    """Size classes that run upward, all animals together as many as there were."""
    for heap in said.classes:
        if heap.from_mm > heap.to_mm:
            case.refuse(
                say(
                    "A size class runs from {from_mm:g} up to {to_mm:g} mm; the first number is"
                    " the "
                    "smaller one.",
                    from_mm=heap.from_mm,
                    to_mm=heap.to_mm,
                )
            )
    out_of(case, sum(heap.animals for heap in said.classes), say("graded"))
    _into(case, tuple(heap.to for heap in said.classes if heap.to))


def lost(case: Case, said: told.Lost) -> None:
    """No more than there were."""
    out_of(case, said.animals, say("lost"))


def released(case: Case, said: told.Released) -> None:
    """Never more than there are."""
    out_of(case, said.animals, say("released"), refused=True)


def settled(case: Case, said: told.Settled) -> None:
    """No more settled than were offered it."""
    if said.offered is not None and said.animals > said.offered:
        case.refuse(
            say(
                "{animals:,} settled of {offered:,} offered; give the larger last.",
                animals=said.animals,
                offered=said.offered,
            )
        )
    fits(case, said.animals)
    out_of(case, said.animals, say("counted as settled"))


def competence_checked(case: Case, _said: told.CompetenceChecked) -> None:
    """In a vessel that holds animals."""
    needs_animals(case)


def weighed(case: Case, said: told.Weighed) -> None:
    """A weight that fits the length."""
    holding = case.holding
    if not needs_animals(case) or holding is None or holding.length_mm is None:
        return
    try:
        a, b = case.species.number("weight.a"), case.species.number("weight.b")
    except MissingNumber:
        return
    usual, grams = a * holding.length_mm**b, said.grams / said.animals
    times = bound("unlikely.weight_times")
    if not usual / times <= grams <= usual * times:
        case.ask(
            say(
                "One animal weighs {grams}; at {length_mm:.3g} mm about {usual} are usual.",
                grams=text(grams, "g", 3),
                length_mm=holding.length_mm,
                usual=text(usual, "g", 2),
            )
        )
