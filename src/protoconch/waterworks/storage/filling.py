"""Before the reservoir is filled: flush, read, look at the sky."""

from protoconch.seawater.ranges import within
from protoconch.units import ends, text
from protoconch.waterworks.hydraulics.pipes import PipeSize
from protoconch.waterworks.parameters import number, table
from protoconch.words import phrase, say

TOO_SALT_OR_FRESH = phrase(
    "The salinity is {value}, outside {low} to {high}: wait for the tide or the weather, or blend."
)
TOO_WARM_OR_COLD = phrase(
    "The temperature is {value}, outside {low} to {high}: wait for the tide or the weather, or "
    "blend."
)


def checklist() -> tuple[str, ...]:
    """What to see to before a fill, one sentence each; common practice, no source."""
    return tuple(say(row["say"]) for row in table("storage")["before_filling"])


def first_flush_l(size: PipeSize, length_m: float) -> float:
    """Water to run to waste before a fill [L].

    size, length_m: of the intake line [m].
    Raises: BadInput or OutOfRange.
    Source: common practice, no source: so many volumes of the line.
    """
    within(phrase("the length of the intake line"), length_m, 0.0, 1e5, "m")
    return size.area_m2 * length_m * 1000 * number("storage", "first_flush")


def reasons_not_to_fill(
    salinity: float, temperature_c: float, hours_since_heavy_rain: float | None = None
) -> tuple[str, ...]:
    """What speaks against pumping this water in, one sentence each; empty where nothing does.

    salinity, temperature_c: read at the waste hose [-], [°C].
    hours_since_heavy_rain: [h], None where it did not rain.
    Raises: BadInput or OutOfRange.
    """
    within(phrase("salinity"), salinity, 0.0, 60.0)
    within(phrase("temperature"), temperature_c, -2.0, 45.0, "°C")
    found = []
    for name, template, value, unit in (
        ("salinity", TOO_SALT_OR_FRESH, salinity, "1"),
        ("temperature", TOO_WARM_OR_COLD, temperature_c, "°C"),
    ):
        low, high = (number("water_limits", f"{name}.warn_{end}") for end in ("low", "high"))
        if not low <= value <= high:
            lowest, highest = ends(low, high, unit)
            found.append(say(template, value=text(value, unit), low=lowest, high=highest))
    wait = number("storage", "wait_after_rain")
    if hours_since_heavy_rain is not None and hours_since_heavy_rain < wait:
        found.append(
            say(
                "Heavy rain fell {ago:g} h ago; wait until {wait:g} h "
                "have passed, or until the water reads right and looks clear.",
                ago=hours_since_heavy_rain,
                wait=wait,
            )
        )
    return tuple(found)
