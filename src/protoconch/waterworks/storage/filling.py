"""Before the reservoir is filled: flush, read, look at the sky."""

from protoconch.seawater.ranges import within
from protoconch.waterworks.hydraulics.pipes import PipeSize
from protoconch.waterworks.parameters import number, table


def checklist() -> tuple[str, ...]:
    """What to see to before a fill, one sentence each; common practice, no source."""
    return tuple(row["say"] for row in table("storage")["before_filling"])


def first_flush_l(size: PipeSize, length_m: float) -> float:
    """Water to run to waste before a fill [L].

    size, length_m: of the intake line [m].
    Raises: BadInput or OutOfRange.
    Source: common practice, no source: so many volumes of the line.
    """
    within("the length of the intake line", length_m, 0.0, 1e5, "m")
    return size.area_m2 * length_m * 1000 * number("storage", "first_flush")


def reasons_not_to_fill(
    salinity: float, temperature_c: float, hours_since_heavy_rain: float | None = None
) -> tuple[str, ...]:
    """What speaks against pumping this water in, one sentence each; empty where nothing does.

    salinity, temperature_c: read at the waste hose [-], [°C].
    hours_since_heavy_rain: [h], None where it did not rain.
    Raises: BadInput or OutOfRange.
    """
    within("salinity", salinity, 0.0, 60.0)
    within("temperature", temperature_c, -2.0, 45.0, "°C")
    found = []
    for name, value, unit in (("salinity", salinity, ""), ("temperature", temperature_c, " °C")):
        low, high = (number("water_limits", f"{name}.warn_{end}") for end in ("low", "high"))
        if not low <= value <= high:
            found.append(
                f"The {name} is {value:g}{unit}, outside {low:g} to {high:g}{unit}: wait for the "
                "tide or the weather, or blend."
            )
    wait = number("storage", "wait_after_rain")
    if hours_since_heavy_rain is not None and hours_since_heavy_rain < wait:
        found.append(
            f"Heavy rain fell {hours_since_heavy_rain:g} h ago; wait until {wait:g} h have passed, "
            "or until the water reads right and looks clear."
        )
    return tuple(found)
