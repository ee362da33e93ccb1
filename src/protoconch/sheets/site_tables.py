"""The tables of the site report."""

from collections.abc import Iterator
from typing import Any

from protoconch.pictures.words import amount, counted
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

DATA = ("pipes", "fittings", "cartridges", "uv", "water_limits", "storage", "loops", "outage",
        "materials")  # fmt: skip
VERDICTS = {
    "use": "may be wet",
    "cure": "may be wet, once cured",
    "dry": "dry side only",
    "never": "never wet",
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
            " to ".join(amount(flow) for flow in effect.to_tanks_l_min),
            ", ".join(
                "dark or dry" if new is None else amount(new)
                for _, new in effect.doses_mj_cm2.values()
            )
            or "no lamp",
        )
        for effect in seen.effects
    ]
    return table(
        "As it stands, and after one change",
        ("Change", "Tanks", "Flow to all tanks, L/min", "UV dose then, mJ/cm²"),
        rows,
        numeric=2,
    )


def _tanks_then(effect: Effect) -> str:
    said = ", ".join(f"{name} loses {100 * share:.0f} %" for name, share in effect.losing.items())
    said = said or "no tank loses more than a fifth"
    if effect.without_light:
        said += f"; water reaches {len(effect.without_light)} tanks without passing a lamp"
    return said


def cartridge_table(seen: Assessment) -> Html:
    """The stages with their pressure, and when each is due."""
    change = number("cartridges", "change_drop") * KPA_PER_PSI
    rows = [
        (part.name, f"{100 * part.stage.loaded:.0f} % of its capacity used",
         f"{amount(part.stage.rating_um)} µm", f"{amount(part.stage.elements)}",
         f"{amount(seen.drops_kpa[part.name])} of {change:.0f} kPa")
        for part in seen.waterworks.network.pressed
        if isinstance(part, Cartridge)
    ]  # fmt: skip
    return table(
        "Cartridges are changed at their pressure, when the flow has fallen by a fifth, or after "
        f"{number('cartridges', 'most_days_wet'):.0f} days wet, whichever comes first",
        ("Stage", "Loading", "Rating", "Ten-inch lengths", "Pressure"),
        rows,
        numeric=3,
    )


def uv_tables(seen: Assessment) -> Iterator[Html]:
    """What today's dose is known to do, organism by organism."""
    lit = [dose for dose in seen.doses_mj_cm2.values() if dose is not None]
    if not lit:
        yield paragraph("No lamp shines on running water.")
        return
    dose = min(lit)
    rows = [
        (row.organism, row.kind, row.effect, cited(row.source), f"{amount(row.dose_mj_cm2)}",
         "reached" if row.reached else "not reached")
        for row in targets_reached(dose)
    ]  # fmt: skip
    yield table(
        f"Published doses against today's {amount(dose)} mJ/cm²",
        ("Organism", "Kind", "Effect", "Source", "Dose, mJ/cm²", "Today"),
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
            (loop.name, "ammonia nitrogen given off", "", f"{amount(size.ammonia_g_day)} g/d"),
            (loop.name, "filter surface", f"{amount(loop.medium_m2)} m²",
             f"{amount(size.medium_m2)} m²"),
            (loop.name, "flow through the filter", f"{counted(loop.flow_l_h)} L/h",
             f"{counted(size.flow_l_h)} L/h"),
            (loop.name, "new water", f"{counted(loop.exchange_l_day)} L/d",
             f"{counted(size.new_water_l_day)} L/d"),
            (loop.name, "bicarbonate that replaces alkalinity", "",
             f"{amount(size.bicarbonate_g_day)} g/d"),
            (loop.name, "ammonium chloride for the test of ripeness", "",
             f"{amount(challenge_dose_g(size.ammonia_g_day))} g"),
        ]  # fmt: skip
    return table("Loops at full load", ("Loop", "What", "Has", "Needs"), rows, numeric=2)


def loop_course_table(seen: Assessment) -> Html:
    """How each loop goes over sixty days at full load, ripe and just started."""
    rows = []
    for name, outlook in seen.loop_outlooks.items():
        for filled, course in (("ripe", outlook.ripe), ("just started", outlook.young)):
            rows.append(
                (
                    f"{name}, filter {filled}",
                    _peak(course.ammonia_mg_l, course),
                    _peak(course.nitrite_mg_l, course),
                    f"{amount(float(course.nitrate_mg_l[-1]))} mg/L",
                    f"{amount(float(course.oxygen_mg_l.min()))} mg/L",
                    f"{course.ph[-1]:.2f}",
                    f"{amount(float(course.aragonite[-1]))}",
                )
            )
    return table(
        "Sixty days at full load from clean water, nitrogen as nitrogen, pH on the total scale; "
        "how fast a filter ripens is an assumption",
        ("Loop", "Most ammonia", "Most nitrite", "Nitrate at the end", "Least oxygen",
         "pH at the end", "Aragonite at the end"),
        rows,
        numeric=6,
    )  # fmt: skip


def _peak(content: Array, course: LoopCourse) -> str:
    at = int(content.argmax())
    return f"{amount(float(content[at]))} mg/L on day {course.days[at]:.0f}"


def outage_tables(seen: Assessment) -> Iterator[Html]:
    """Hours of oxygen by tank, the order of acting, battery and generator."""
    act, emergency = (number("water_limits", f"oxygen.{key}") for key in ("act", "emergency"))

    def hours(value: float | None) -> str:
        return "not reached" if value is None else f"{value:.1f} h"

    if seen.tank_hours:
        yield table(
            "Oxygen without power, the tank with the fewest hours first",
            ("Tank", "Oxygen used", f"To {act:g} mg/L", f"To {emergency:g} mg/L"),
            [
                (tank.name, f"{amount(tank.use_mg_l_h)} mg/L/h", hours(tank.to_act_h),
                 hours(tank.to_emergency_h))
                for tank in seen.tank_hours
            ],
            numeric=3,
        )  # fmt: skip
    yield tag("h3", "Keep running, first things first")
    yield tag("ol", *(tag("li", step) for step in keep_running_first()))
    if seen.generator:
        watts = sum(load.watts for load in seen.waterworks.loads)
        yield paragraph(
            f"All loads together draw {watts / 1000:.2g} kW. A generator of at least "
            f"{amount(seen.generator.kva)} kVA carries them, started one after another (the "
            f"largest motor draws up to {amount(seen.generator.start_kva)} kVA as it starts); "
            f"{OUTAGE_HOURS:.0f} h take {counted(seen.generator.fuel_l)} L of diesel, reserve "
            f"counted. A battery for one hour of all of it holds {counted(battery_wh(watts, 1))} "
            "Wh. A licensed electrician sizes and connects the real ones."
        )


def material_table(seen: Assessment) -> Html:
    """Every wetted material with its verdict."""
    network = seen.waterworks.network
    touched: dict[str, list[str]] = {}
    for part in network.parts:
        touched.setdefault(part.material, []).append(part.name)
    for fixture in network.fixtures:
        touched.setdefault(fixture.material, []).append(f"{fixture.name} at {fixture.at}")
    rows = []
    for name, parts in touched.items():
        material = material_called(name)
        verdict = "not known" if material is None else VERDICTS[material.verdict]
        reason = "" if material is None else material.reason
        source = "" if material is None else cited(material.source)
        where = parts[0] if len(parts) == 1 else f"{parts[0]} and {len(parts) - 1} more"
        rows.append((name, where, verdict, reason, source))
    return table(
        "Every material that the water touches",
        ("Material", "Where", "Verdict", "Why", "Source"),
        rows,
    )


def source_table(seen: Assessment) -> Iterator[Html]:
    """What was assumed for this site, and every number of the trade with its source."""
    if seen.waterworks.assumed:
        yield tag("h3", "Not given in the file, so assumed")
        yield bullets(seen.waterworks.assumed)
    rows = [
        (value.name, _shown(value), value.conditions, f"{cited(value.source)}"
         + (f"; {value.place}" if value.place else ""))
        for name in DATA
        for value in _numbers(data_table(name), name)
    ]  # fmt: skip
    yield folded(
        f"{len(rows)} numbers of the trade with their sources",
        table("Numbers of the waterworks", ("Number", "Value", "Holds for", "Source"), rows),
        class_="long",
    )


def _numbers(entry: Any, path: str) -> Iterator[SourcedValue]:
    if isinstance(entry, SourcedValue):
        yield entry
    elif hasattr(entry, "items"):
        for key, below in entry.items():
            yield from _numbers(below, f"{path}.{key}")


def _shown(value: SourcedValue) -> str:
    unit = "" if value.unit == "1" else f" {value.unit}"
    spread = "" if value.low is None else f" ({value.low:g} to {value.high:g})"
    return f"{value.number:g}{unit}{spread}"
