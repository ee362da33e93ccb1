"""The tables of the site report."""

from collections.abc import Iterator
from typing import Any

from protoconch.pictures.words import amount, counted, measured
from protoconch.sheets.look import Html, bullets, folded, paragraph, table, tag
from protoconch.sources.references import references
from protoconch.sources.values import SourcedValue
from protoconch.waterworks.assessment import OUTAGE_HOURS, Assessment
from protoconch.waterworks.hydraulics.friction import Array
from protoconch.waterworks.loops.course import LoopCourse
from protoconch.waterworks.loops.ripeness import challenge_dose_g
from protoconch.waterworks.materials import material_called
from protoconch.waterworks.network.parts import Cartridge
from protoconch.waterworks.network.what_if import Effect
from protoconch.waterworks.outage.order import keep_running_first
from protoconch.waterworks.outage.power import battery_wh
from protoconch.waterworks.parameters import number
from protoconch.waterworks.parameters import table as data_table
from protoconch.waterworks.treatment.cartridges import KPA_PER_PSI
from protoconch.waterworks.treatment.uv_targets import LT2_NOTE, NOT_KILLED, targets_reached
from protoconch.words import joined, phrase, say

DATA = ("pipes", "fittings", "cartridges", "uv", "water_limits", "storage", "loops", "outage",
        "materials")  # fmt: skip
VERDICTS = {
    "use": say("may be wet"),
    "cure": say("may be wet, once cured"),
    "dry": say("dry side only"),
    "never": say("never wet"),
}


def cited(source: str) -> str:
    """A source in full where it is one of the references, else as it is."""
    known = references()
    return known[source].citation if source in known else source


def what_if_table(seen: Assessment) -> Html:
    """What the usual changes do to flow and dose."""
    rows = [
        (
            effect.what,
            _tanks_then(effect),
            _to(*effect.to_tanks_l_min),
            joined(
                [
                    say("dark or dry") if new is None else amount(new)
                    for _, new in effect.doses_mj_cm2.values()
                ],
                ", ",
            )
            or say("no lamp"),
        )
        for effect in seen.effects
    ]
    return table(
        say("As it stands, and after one change"),
        (say("Change"), say("Tanks"), say("Flow to all tanks, L/min"), say("UV dose then, mJ/cm²")),
        rows,
        numeric=2,
    )


def _to(before: float, after: float) -> str:
    return say("{low} to {high}", low=amount(before), high=amount(after))


def _tanks_then(effect: Effect) -> str:
    losing = [
        say("{name} loses {share:.0f} %", name=name, share=100 * share)
        for name, share in effect.losing.items()
    ]
    said = joined(losing, ", ") or say("no tank loses more than a fifth")
    if effect.without_light:
        said = say(
            "{effect}; water reaches {tanks} tanks without passing a lamp",
            effect=said,
            tanks=len(effect.without_light),
        )
    return said


def cartridge_table(seen: Assessment) -> Html:
    """The stages with their pressure, and when each is due."""
    change = number("cartridges", "change_drop") * KPA_PER_PSI
    rows = [
        (
            part.name,
            say("{share:.0f} % of its capacity used", share=100 * part.stage.loaded),
            f"{amount(part.stage.rating_um)} µm",
            f"{amount(part.stage.elements)}",
            say(
                "{drop} of {change:.0f} kPa",
                drop=amount(seen.drops_kpa[part.name]),
                change=change,
            ),
        )
        for part in seen.waterworks.network.pressed
        if isinstance(part, Cartridge)
    ]
    return table(
        say(
            "Cartridges are changed at their pressure, when the flow has fallen by a "
            "fifth, or after {days:.0f} days wet, whichever comes first",
            days=number("cartridges", "most_days_wet"),
        ),
        (say("Stage"), say("Loading"), say("Rating"), say("Ten-inch lengths"), say("Pressure")),
        rows,
        numeric=3,
    )


def uv_tables(seen: Assessment) -> Iterator[Html]:
    """What today's dose is known to do, organism by organism."""
    lit = [dose for dose in seen.doses_mj_cm2.values() if dose is not None]
    if not lit:
        yield paragraph(say("No lamp shines on running water."))
        return
    dose = min(lit)
    rows = [
        (
            row.organism,
            row.kind,
            row.effect,
            cited(row.source),
            f"{amount(row.dose_mj_cm2)}",
            say("reached") if row.reached else say("not reached"),
        )
        for row in targets_reached(dose)
    ]
    yield table(
        say("Published doses against today's {dose} mJ/cm²", dose=amount(dose)),
        (
            say("Organism"),
            say("Kind"),
            say("Effect"),
            say("Source"),
            say("Dose, mJ/cm²"),
            say("Today"),
        ),
        rows,
        numeric=2,
    )
    yield paragraph(NOT_KILLED)
    yield paragraph(LT2_NOTE, class_="quiet")


def loop_table(seen: Assessment) -> Html:
    """What each loop needs at full load beside what it has."""
    rows = []
    for loop in seen.waterworks.loops:
        size = seen.loop_sizes[loop.name]
        rows += [
            (loop.name, say("ammonia nitrogen given off"), "", f"{amount(size.ammonia_g_day)} g/d"),
            (
                loop.name,
                say("filter surface"),
                f"{amount(loop.medium_m2)} m²",
                f"{amount(size.medium_m2)} m²",
            ),
            (
                loop.name,
                say("flow through the filter"),
                measured(round(loop.flow_l_h), "L/h"),
                measured(round(size.flow_l_h), "L/h"),
            ),
            (
                loop.name,
                say("new water"),
                measured(round(loop.exchange_l_day), "L/d"),
                measured(round(size.new_water_l_day), "L/d"),
            ),
            (
                loop.name,
                say("bicarbonate that replaces alkalinity"),
                "",
                f"{amount(size.bicarbonate_g_day)} g/d",
            ),
            (
                loop.name,
                say("ammonium chloride for the test of ripeness"),
                "",
                measured(challenge_dose_g(size.ammonia_g_day), "g"),
            ),
        ]
    return table(
        say("Loops at full load"),
        (say("Loop"), say("What"), say("Has"), say("Needs")),
        rows,
        numeric=2,
    )


def loop_course_table(seen: Assessment) -> Html:
    """How each loop goes over sixty days at full load, ripe and just started."""
    rows = []
    for name, outlook in seen.loop_outlooks.items():
        for template, course in (
            (phrase("{name}, filter ripe"), outlook.ripe),
            (phrase("{name}, filter just started"), outlook.young),
        ):
            rows.append(
                (
                    say(template, name=name),
                    _peak(course.ammonia_mg_l, course),
                    _peak(course.nitrite_mg_l, course),
                    f"{amount(float(course.nitrate_mg_l[-1]))} mg/L",
                    f"{amount(float(course.oxygen_mg_l.min()))} mg/L",
                    f"{course.ph[-1]:.2f}",
                    f"{amount(float(course.aragonite[-1]))}",
                )
            )
    return table(
        say(
            "Sixty days at full load from clean water, nitrogen as nitrogen, pH on the total "
            "scale; how fast a filter ripens is an assumption"
        ),
        (
            say("Loop"),
            say("Most ammonia"),
            say("Most nitrite"),
            say("Nitrate at the end"),
            say("Least oxygen"),
            say("pH at the end"),
            say("Aragonite at the end"),
        ),
        rows,
        numeric=6,
    )


def _peak(content: Array, course: LoopCourse) -> str:
    at = int(content.argmax())
    return say("{most} mg/L on day {day:.0f}", most=amount(float(content[at])), day=course.days[at])


def outage_tables(seen: Assessment) -> Iterator[Html]:
    """Hours of oxygen by tank, the order of acting, battery and generator."""
    act, emergency = (number("water_limits", f"oxygen.{key}") for key in ("act", "emergency"))

    def hours(value: float | None) -> str:
        return say("not reached") if value is None else f"{value:.1f} h"

    if seen.tank_hours:
        yield table(
            say("Oxygen without power, the tank with the fewest hours first"),
            (
                say("Tank"),
                say("Oxygen used"),
                say("To {limit:g} mg/L", limit=act),
                say("To {limit:g} mg/L", limit=emergency),
            ),
            [
                (
                    tank.name,
                    f"{amount(tank.use_mg_l_h)} mg/L/h",
                    hours(tank.to_act_h),
                    hours(tank.to_emergency_h),
                )
                for tank in seen.tank_hours
            ],
            numeric=3,
        )
    yield tag("h3", say("Keep running, first things first"))
    yield tag("ol", *(tag("li", step) for step in keep_running_first()))
    if seen.generator:
        watts = sum(load.watts for load in seen.waterworks.loads)
        yield paragraph(
            say(
                "All loads together draw {watts:.2g} kW. A generator of at least {size} "
                "kVA carries them, started one after another (the largest motor draws up "
                "to {start} kVA as it starts); {hours:.0f} h take {fuel} of diesel, reserve "
                "counted. A battery for one hour of all of it holds {battery} Wh. A licensed "
                "electrician sizes and connects the real ones.",
                watts=watts / 1000,
                size=amount(seen.generator.kva),
                start=amount(seen.generator.start_kva),
                hours=OUTAGE_HOURS,
                fuel=measured(round(seen.generator.fuel_l), "L"),
                battery=counted(battery_wh(watts, 1)),
            )
        )


def material_table(seen: Assessment) -> Html:
    """Every wetted material with its verdict."""
    network = seen.waterworks.network
    touched: dict[str, list[str]] = {}
    for part in network.parts:
        touched.setdefault(part.material, []).append(part.name)
    for fixture in network.fixtures:
        touched.setdefault(fixture.material, []).append(
            say("{name} at {at}", name=fixture.name, at=fixture.at)
        )
    rows = []
    for name, parts in touched.items():
        material = material_called(name)
        verdict = say("not known") if material is None else VERDICTS[material.verdict]
        reason = "" if material is None else material.reason
        source = "" if material is None else cited(material.source)
        where = (
            parts[0]
            if len(parts) == 1
            else say("{shown} and {more} more", shown=parts[0], more=len(parts) - 1)
        )
        rows.append((say(name), where, verdict, reason, source))
    return table(
        say("Every material that the water touches"),
        (say("Material"), say("Where"), say("Verdict"), say("Why"), say("Source")),
        rows,
    )


def source_table(seen: Assessment) -> Iterator[Html]:
    """What was assumed for this site, and every number of the trade with its source."""
    if seen.waterworks.assumed:
        yield tag("h3", say("Not given in the file, so assumed"))
        yield bullets(seen.waterworks.assumed)
    rows = [
        (value.name, _shown(value), value.conditions, f"{cited(value.source)}"
         + (f"; {value.place}" if value.place else ""))
        for name in DATA
        for value in _numbers(data_table(name), name)
    ]  # fmt: skip
    yield folded(
        say("{number} numbers of the trade with their sources", number=len(rows)),
        table(
            say("Numbers of the waterworks"),
            (say("Number"), say("Value"), say("Holds for"), say("Source")),
            rows,
        ),
        class_="long",
    )


def _numbers(entry: Any, path: str) -> Iterator[SourcedValue]:
    if isinstance(entry, SourcedValue):
        yield entry
    elif hasattr(entry, "items"):
        for key, below in entry.items():
            yield from _numbers(below, f"{path}.{key}")


def _shown(value: SourcedValue) -> str:
    unit = "" if value.unit == "1" else f" {say(value.unit)}"
    spread = (
        "" if value.low is None else say(" ({low:g} to {high:g})", low=value.low, high=value.high)
    )
    return f"{value.number:g}{unit}{spread}"
