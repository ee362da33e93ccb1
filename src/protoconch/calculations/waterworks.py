"""The calculations of the waterworks."""

from protoconch.calculations.declaration import (
    Calculation,
    Found,
    Input,
    Result,
    choice,
    number,
    pairs,
)
from protoconch.errors import MissingInput
from protoconch.seawater.oxygen import oxygen_saturation_mg_l
from protoconch.seawater.ranges import within
from protoconch.waterworks.hydraulics.line import operating_point, pipe_loss
from protoconch.waterworks.hydraulics.pipes import pipe_materials, pipe_size
from protoconch.waterworks.hydraulics.pumps import PumpCurve
from protoconch.waterworks.outage.oxygen import hours_to_limit
from protoconch.waterworks.parameters import number as trade_number
from protoconch.waterworks.storage.reservoir import until_fill
from protoconch.waterworks.treatment.uv import Lamp, uv_dose_mj_cm2
from protoconch.waterworks.treatment.uv_targets import LT2_NOTE, NOT_KILLED
from protoconch.waterworks.water import water_at
from protoconch.words import phrase, say

DARCY = "Darcy-Weisbach; Colebrook 1939, J. Inst. Civ. Eng. 11:133"
ASTM = "ASTM D1785 (bore of the pipe)"
VISCOSITY = "Sharqawy, Lienhard & Zubair 2010, Desalin. Water Treat. 16:354 (viscosity)"

LINE = (
    number("nominal", "in", say("Nominal size of the pipe, 1 for 1-inch."), above=0, high=12),
    number("length", "m", say("Length of the pipe."), low=0, high=100_000),
    choice("material", pipe_materials(), say("Kind of pipe."), default="pvc-sch40"),
    number("temperature", "°C", say("Temperature of the water."), default=25.0, low=0, high=40),
    number(
        "salinity", "psu", say("Practical salinity of the water."), default=35.0, low=0, high=42
    ),
)


def _too_fast(velocity: float) -> tuple[str, ...]:
    most = trade_number("pipes", "most_velocity")
    if velocity <= most:
        return ()
    return (
        (
            say(
                "The water runs at {velocity:.2g} m/s, above the {most:.2g} m/s (5 ft/s) "
                "that PVC makers give for closed systems: take a wider pipe.",
                velocity=velocity,
                most=most,
            )
        ),
    )


def _pipe_loss(
    flow: float, nominal: float, length: float, material: str, temperature: float, salinity: float
) -> Found:
    found = pipe_loss(flow, pipe_size(material, nominal), length, water_at(temperature, salinity))
    values = {
        "velocity_m_s": found.velocity_m_s,
        "reynolds": found.reynolds,
        "friction_factor": found.friction_factor,
        "head_loss_m": found.head_loss_m,
    }
    return Found(values, cautions=_too_fast(found.velocity_m_s))


def _operating_point(
    curve: tuple[tuple[float, float], ...],
    static_head: float,
    nominal: float,
    length: float,
    material: str,
    temperature: float,
    salinity: float,
    extra_k: float,
) -> Found:
    size, water = pipe_size(material, nominal), water_at(temperature, salinity)
    found = operating_point(
        PumpCurve(curve),
        lambda flow: pipe_loss(flow, size, length, water, extra_k).head_loss_m,
        static_head,
    )
    cautions = _too_fast(pipe_loss(found.flow_l_min, size, length, water).velocity_m_s)
    if not found.on_curve:
        cautions += (
            say("The pump runs outside the points of its curve: the answer is a guess there."),
        )
    return Found({"flow_l_min": found.flow_l_min, "head_m": found.head_m}, cautions=cautions)


def _uv_dose(
    flow: float,
    uvc_power: float,
    gap: float,
    transmittance: float,
    age_factor: float,
    fouling_factor: float,
    flow_factor: float,
) -> dict[str, float]:
    lamp = Lamp(uvc_power, gap, transmittance, age_factor, fouling_factor, flow_factor)
    return {"dose_mj_cm2": uv_dose_mj_cm2(flow, lamp)}


def _reservoir(
    volume: float, level: float | None, daily_use: float, fill_interval: float, missed_fills: float
) -> dict[str, float]:
    now = volume if level is None else level
    within(phrase("level"), now, 0.0, volume, "L", phrase("It cannot be above the usable volume."))
    found = until_fill(now, daily_use, fill_interval, int(missed_fills))
    return {
        "days_left": found.days_left,
        "low_point_l": found.low_point_l,
        "shortfall_l": found.shortfall_l,
    }


def _outage(
    volume: float,
    biomass: float,
    oxygen_use: float,
    background_use: float,
    start_oxygen: float,
    saturation_oxygen: float | None,
    temperature: float | None,
    salinity: float | None,
    reaeration: float,
    limit: float,
) -> dict[str, float | None]:
    if saturation_oxygen is None:
        if temperature is None or salinity is None:
            raise MissingInput(
                say(
                    "Saturation oxygen is missing; give it in mg/L, or give temperature "
                    "and salinity."
                )
            )
        saturation_oxygen = oxygen_saturation_mg_l(temperature, salinity)
    hours = hours_to_limit(
        use_mg_l_h=biomass * oxygen_use / volume + background_use,
        start_mg_l=start_oxygen,
        saturation_mg_l=saturation_oxygen,
        reaeration_per_h=reaeration,
        limit_mg_l=limit,
    )
    return {"hours": hours}


def _share(key: str, sentence: str) -> Input:
    return number(key, "1", sentence, default=1.0, above=0, high=1)


CALCULATIONS = (
    Calculation(
        name="pipe-loss",
        purpose=say("Speed and loss of head of a flow in a straight pipe."),
        inputs=(number("flow", "L/min", say("Flow in the pipe."), low=0, high=1e6), *LINE),
        results=(
            Result("velocity_m_s", "m/s", say("Mean speed of the water.")),
            Result("reynolds", "1", say("Reynolds number; above 4,000 the flow is turbulent.")),
            Result("friction_factor", "1", say("Darcy's friction factor.")),
            Result("head_loss_m", "m", say("Head lost, in metres of this water.")),
        ),
        function=_pipe_loss,
        sources=(DARCY, ASTM, VISCOSITY),
    ),
    Calculation(
        name="operating-point",
        purpose=say("The flow at which a pump and a line agree."),
        inputs=(
            pairs("curve", ("L/min", "m"), say("The pump's curve, flow and head."), low=0),
            number("static_head", "m", say("Height to lift."), low=-1000, high=1000),
            *LINE,
            number("extra_k", "1", say("Loss of fittings, in speed heads."), default=0.0, low=0),
        ),
        results=(
            Result("flow_l_min", "L/min", say("Flow.")),
            Result("head_m", "m", say("Head of the pump at that flow.")),
        ),
        function=_operating_point,
        sources=(DARCY, ASTM, VISCOSITY, say("The maker's pump curve, as given")),
    ),
    Calculation(
        name="uv-dose",
        purpose=say("The dose of ultraviolet light that water gets around one lamp."),
        inputs=(
            number("flow", "L/min", say("Flow through the lamp's chamber."), above=0, high=1e6),
            number(
                "uvc_power",
                "W",
                say("Germicidal power, about a third of the lamp's watts."),
                above=0,
                high=1e5,
            ),
            number("gap", "mm", say("Water between sleeve and wall."), above=0, high=1000),
            number(
                "transmittance", "%", say("Light left after 1 cm of the water."), low=1, high=100
            ),
            _share("age_factor", say("Share of its light that the lamp still gives.")),
            _share("fouling_factor", say("Share of the light that the sleeve lets through.")),
            _share("flow_factor", say("Share left because some water takes a short cut.")),
        ),
        results=(Result("dose_mj_cm2", "mJ/cm2", say("Mean dose.")),),
        function=_uv_dose,
        sources=(say("Mean fluence rate in the ring around a lamp with radial light, analytic"),),
        cautions=(
            NOT_KILLED,
            LT2_NOTE,
            say("Never look at a lamp that burns outside its housing."),
        ),
    ),
    Calculation(
        name="reservoir",
        purpose=say("How long stored seawater lasts, and how low it falls before the next fill."),
        inputs=(
            number("volume", "L", say("Usable water when full."), above=0),
            number(
                "level",
                "L",
                say("Usable water now."),
                default=None,
                default_says=say("full"),
                low=0,
            ),
            number("daily_use", "L/d", say("Use and losses of a day."), above=0),
            number("fill_interval", "d", say("Days between chances to fill."), above=0, high=3650),
            number(
                "missed_fills",
                "1",
                say("Chances that pass unused."),
                default=0.0,
                low=0,
                high=1000,
                whole=True,
            ),
        ),
        results=(
            Result("days_left", "d", say("Days until it is empty.")),
            Result("low_point_l", "L", say("Left just before the fill.")),
            Result("shortfall_l", "L", say("Lacking by then.")),
        ),
        function=_reservoir,
        sources=(say("Balance of water"),),
    ),
    Calculation(
        name="outage",
        purpose=say("Hours until a tank's oxygen has fallen to a limit when nothing runs."),
        inputs=(
            number("volume", "L", say("Water in the tank."), above=0),
            number("biomass", "g", say("All animals in it."), low=0),
            number(
                "oxygen_use",
                "mg/g/h",
                say("Oxygen used by each gram of animals in an hour."),
                low=0,
                high=100,
            ),
            number(
                "background_use",
                "mg/L/h",
                say("Oxygen used by all else in a litre and hour."),
                default=0.0,
                low=0,
                high=100,
            ),
            number("start_oxygen", "mg/L", say("Oxygen when the power goes."), low=0, high=60),
            number(
                "saturation_oxygen",
                "mg/L",
                say("Oxygen in balance with air."),
                default=None,
                default_says=say("from temperature and salinity"),
                low=0,
                high=60,
            ),
            number(
                "temperature",
                "°C",
                say("Temperature of the water."),
                default=None,
                default_says=say("not needed where saturation oxygen is given"),
                low=0,
                high=40,
            ),
            number(
                "salinity",
                "psu",
                say("Practical salinity of the water."),
                default=None,
                default_says=say("not needed where saturation oxygen is given"),
                low=0,
                high=42,
            ),
            number(
                "reaeration",
                "1/h",
                say("Exchange of oxygen through the surface."),
                default=0.0,
                low=0,
                high=1000,
            ),
            number("limit", "mg/L", say("Oxygen to stay above."), low=0, high=60),
        ),
        results=(
            Result("hours", "h", say("Hours until the limit; none where it is never reached.")),
        ),
        function=_outage,
        sources=(say("First-order reaeration with steady use, solved; analytic"),),
        cautions=(
            say(
                "Give the animals' mass and their use on the same footing: soft or live with shell."
            ),
        ),
    ),
)
