"""Battery, generator and fuel that carry what must run."""

from dataclasses import dataclass
from math import ceil

from protoconch.errors import UnknownName
from protoconch.seawater.ranges import more_than_zero, within
from protoconch.waterworks.parameters import number, table
from protoconch.words import phrase, say


@dataclass(frozen=True, slots=True)
class Load:
    """Something that must run.

    name: for people. watts: while running [W].
    motor_hp: of the motor [hp], 0 where there is none. code: letter on its plate.
    """

    name: str
    watts: float
    motor_hp: float = 0.0
    code: str = "L"


@dataclass(frozen=True, slots=True)
class Generator:
    """A generator for some loads.

    kva: the least size [kVA]. running_kw: [kW]. start_kva: of the motor that starts last [kVA].
    fuel_l: for the hours asked, with reserve [L].
    """

    kva: float
    running_kw: float
    start_kva: float
    fuel_l: float


def battery_wh(watts: float, hours: float) -> float:
    """Size of a battery on its label [Wh].

    watts: load [W]. hours: to carry it [h].
    Raises: BadInput or OutOfRange.
    Source: load over inverter efficiency and usable share of the charge, common practice.
    """
    within(phrase("the load"), watts, 0.0, 1e6, "W")
    within(phrase("the hours"), hours, 0.0, 1e4, "h")
    return watts * hours / number("outage", "battery.inverter") / number("outage", "battery.depth")


def starting_kva(motor_hp: float, code: str) -> tuple[float, float]:
    """Least and most that a motor draws while it starts [kVA].

    motor_hp: [hp]. code: locked-rotor letter on the plate; small motors often have L.
    Raises: BadInput; UnknownName.
    Source: NEMA MG-1.
    """
    within(phrase("the motor"), motor_hp, 0.0, 500.0, "hp")
    rows = {letter: (low, high) for letter, low, high in table("outage")["locked_rotor"]["codes"]}
    if code.upper() not in rows:
        raise UnknownName(
            say(
                "There is no motor code {code!r} here; there are {letters}.",
                code=code,
                letters=", ".join(rows),
            )
        )
    low, high = rows[code.upper()]
    return motor_hp * low, motor_hp * high


def generator(
    loads: tuple[Load, ...],
    hours: float,
    *,
    diesel: bool,
    altitude_m: float = 0.0,
    air_c: float = 25.0,
) -> Generator:
    """The generator that carries loads started one after another, and its fuel.

    hours: to run [h]. diesel: or petrol. altitude_m: of the place [m]. air_c: around it [°C].
    Raises: BadInput or OutOfRange; UnknownName.
    Source: running load and the largest start, with a quarter on top; common practice. A licensed
    electrician sizes and connects the real one.
    """
    more_than_zero(phrase("the hours"), hours, "h")
    within(phrase("altitude"), altitude_m, 0.0, 4000.0, "m")
    running_kw = (
        sum(
            more_than_zero(say("the load {name}", name=each.name), each.watts, "W")
            for each in loads
        )
        / 1e3
    )
    starts = [starting_kva(each.motor_hp, each.code)[1] for each in loads if each.motor_hp]
    start = max(starts, default=0.0)
    lost = number("outage", "generator.derating_altitude") * altitude_m / 300
    lost += number("outage", "generator.derating_heat") * max(0.0, air_c - 25) / 5.5
    needed = running_kw / number("outage", "generator.power_factor") + start
    kva = needed * number("outage", "generator.margin") / max(0.2, 1 - lost)
    fuel = number("outage", "fuel.diesel" if diesel else "fuel.petrol")
    litres = running_kw * hours * fuel * (1 + number("outage", "fuel.reserve"))
    return Generator(ceil(kva * 10) / 10, running_kw, start, litres)
