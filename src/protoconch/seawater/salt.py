"""Salt in and out of a tank: it stays when water evaporates and shares out when waters mix."""

from protoconch.errors import BadInput
from protoconch.seawater.ranges import more_than_zero, within
from protoconch.seawater.teos10 import checked_salinity
from protoconch.words import phrase, say


def salinity_after_evaporation(salinity: float, mass_kg: float, lost_kg: float) -> float:
    """Practical salinity [-] of a mass of water after some of it evaporated.

    salinity: before [-], 0 to 42. mass_kg: before [kg]. lost_kg: evaporated [kg], below mass_kg.
    Raises: BadInput or OutOfRange.
    Source: balance of salt, which does not evaporate.
    """
    checked_salinity(salinity)
    more_than_zero(phrase("the mass of water"), mass_kg, "kg")
    within(phrase("the water lost"), lost_kg, 0.0, mass_kg, "kg")
    if lost_kg >= mass_kg:
        raise BadInput(
            say("All of the water would be gone; less must evaporate than the tank holds.")
        )
    return salinity * mass_kg / (mass_kg - lost_kg)


def blended_salinity(parts: "tuple[tuple[float, float], ...]") -> float:
    """Practical salinity [-] of waters poured together.

    parts: for each water its mass [kg] and its practical salinity [-].
    Raises: BadInput or OutOfRange, also where there is no water at all.
    Source: balance of salt by mass.
    """
    mass = salt = 0.0
    for part_kg, salinity in parts:
        mass += within(phrase("the mass of a part"), part_kg, 0.0, float("inf"), "kg")
        salt += part_kg * checked_salinity(salinity)
    more_than_zero(phrase("the mass of all parts together"), mass, "kg")
    return salt / mass


def top_up(amount: float, salinity: float, target: float, top_up_salinity: float = 0.0) -> float:
    """Water to add so that the salinity falls, or rises, to a target [unit of amount].

    amount: water in the tank; by mass [kg] the answer is exact; by volume [L] the fresh water
        is about 3 % short, because seawater is that much heavier, and the salinity ends within
        0.1 of the target: add, mix, measure, correct.
    salinity: now [-]. target: wanted [-]. top_up_salinity: of what is added [-].
    Raises: BadInput, where what is added cannot reach the target; OutOfRange.
    Source: balance of salt.
    """
    more_than_zero(phrase("the amount of water"), amount)
    for each in (salinity, target, top_up_salinity):
        checked_salinity(each)
    if salinity == target:
        return 0.0
    if not min(salinity, top_up_salinity) < target < max(salinity, top_up_salinity):
        raise BadInput(
            say(
                "Water of salinity {top_up_salinity:g} cannot bring {salinity:g} to "
                "{target:g}: the target must lie between the two.",
                top_up_salinity=top_up_salinity,
                salinity=salinity,
                target=target,
            )
        )
    return amount * (salinity - target) / (target - top_up_salinity)


def steady_salinity(incoming: float, exchange_per_day: float, evaporation_per_day: float) -> float:
    """Salinity [-] at which a tank settles when all make-up is seawater.

    incoming: salinity of the new seawater [-]. exchange_per_day: water run off each day, and
    evaporation_per_day: water lost to the air, both as shares of the tank [1/d].
    Raises: BadInput or OutOfRange.
    Source: balance of salt: in (q + e) S_in, out q S.
    """
    checked_salinity(incoming)
    more_than_zero(phrase("the exchange"), exchange_per_day, phrase("per day"))
    within(phrase("the evaporation"), evaporation_per_day, 0.0, float("inf"), phrase("per day"))
    return incoming * (exchange_per_day + evaporation_per_day) / exchange_per_day
