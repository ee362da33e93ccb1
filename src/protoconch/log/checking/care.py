"""Entries about the care of animals: food and water."""

from protoconch.errors import MissingNumber
from protoconch.log.checking.animals import needs_animals
from protoconch.log.checking.usual import age_days, density_of, dry_mg, step_at
from protoconch.log.checking.verdict import Case
from protoconch.log.numbers import bound
from protoconch.log.payloads import care as told
from protoconch.log.state import Holding
from protoconch.units import text
from protoconch.words import begun, say


def fed(case: Case, said: told.Fed) -> None:
    """Food that there is, in an amount that is usual."""
    for food in said.foods:
        culture = case.state.cultures.get(food.culture)
        if food.culture and culture is None:
            case.ask(say("{culture} holds no culture by the log.", culture=food.culture))
        elif culture is not None and food.litres and food.litres > culture.litres * 1.25:
            case.ask(
                say(
                    "{culture} has {litres} by the log, not {asked:g}.",
                    culture=food.culture,
                    litres=text(culture.litres, "L", 3),
                    asked=food.litres,
                )
            )
        if culture is not None and culture.found:
            case.ask(
                say(
                    "{found} were found in {culture}.",
                    found=begun(say(culture.found)),
                    culture=food.culture,
                )
            )
    vessel = case.vessels.get(case.where)
    litres = sum(food.litres or 0.0 for food in said.foods)
    if vessel is not None and vessel.unit == "L" and vessel.size and litres > vessel.size:
        case.refuse(
            say(
                "{litres} of culture do not go into {where}, which holds {size}.",
                litres=text(litres, "L", 6),
                where=case.where,
                size=text(vessel.size, "L", 6),
            )
        )
    if case.kind_of_vessel != "tray" and not needs_animals(case):
        return
    holding = case.holding
    if holding is None:
        return
    if holding.stage == "veliger":
        _ration(case, said, holding)
    elif holding.stage == "juvenile":
        _pellets(case, said, holding)


def _ration(case: Case, said: told.Fed, holding: Holding) -> None:
    litres = holding.litres or case.size
    usual = step_at(
        case.species, "veliger.ration", age_days(case.state, holding, case.entry.happened)
    )
    if not usual or not litres:
        return
    given = 0.0
    for food in said.foods:
        cells = food.cells_per_ml or density_of(case.state.cultures.get(food.culture))
        if food.litres and cells:
            given += dry_mg(food.food, food.litres, cells) or 0.0
    times = given / litres / usual
    if times > bound("unlikely.ration_times"):
        case.ask(
            say(
                "{given:.2g} mg of algae per litre are {times:.0f} times the {usual:.2g} mg that "
                "are usual on a day.",
                given=given / litres,
                times=times,
                usual=usual,
            )
        )


def _pellets(case: Case, said: told.Fed, holding: Holding) -> None:
    grams = sum(food.grams or 0.0 for food in said.foods)
    if not grams or holding.length_mm is None or not holding.alive:
        return
    length = holding.length_mm
    try:
        name = "to_20_mm" if length < 20 else "to_40_mm" if length < 40 else "to_80_mm"
        weight = case.species.number("weight.a") * length ** case.species.number("weight.b")
        usual = weight * holding.alive * case.species.number(f"feed.{name}") / 100.0
    except MissingNumber:
        return
    if grams > usual * bound("unlikely.ration_times"):
        case.ask(
            say(
                "{grams} of feed are {times:.0f} times the {usual} that are usual for {alive:,} "
                "animals of {length:.3g} mm.",
                grams=text(grams, "g", 6),
                times=grams / usual,
                usual=text(usual, "g", 2),
                alive=holding.alive,
                length=length,
            )
        )


def water_changed(case: Case, said: told.WaterChanged) -> None:
    """No more water than some fillings of the vessel."""
    vessel = case.vessels.get(case.where)
    if said.litres is None or vessel is None or vessel.unit != "L" or not vessel.size:
        return
    if said.litres > vessel.size * 2:
        case.ask(
            say(
                "{litres} are more than two fillings of {where} ({size}).",
                litres=text(said.litres, "L", 6),
                where=case.where,
                size=text(vessel.size, "L", 6),
            )
        )
