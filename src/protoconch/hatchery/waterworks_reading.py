"""Reads the waterworks part of a hatchery file; every fault is told at once, by line."""

from functools import cache
from importlib.resources import files
from typing import Any

from protoconch.errors import BadFile, BadInput, MissingInput
from protoconch.hatchery.waterworks_parts import fixture, part, place
from protoconch.hatchery.waterworks_words import WaterSection
from protoconch.sources.reading_toml import Document, parse
from protoconch.units import text
from protoconch.waterworks.description import LoopPlan, StoreKeeping, Waterworks
from protoconch.waterworks.network.parts import Network, Part, Place, Pump, naming_problems
from protoconch.waterworks.outage.order import StockedTank
from protoconch.waterworks.outage.power import Load, starting_kva
from protoconch.waterworks.parameters import number
from protoconch.waterworks.storage.reservoir import Store
from protoconch.waterworks.water import water_at
from protoconch.words import say

HEAD = "waterworks"
LISTS = ("places", "parts", "fixtures", "loops", "stocked", "loads")


def waterworks_in(text: str, file: str) -> Waterworks:
    """The waterworks that a hatchery file describes.

    text: TOML. file: its name, for the sentences.
    Raises: BadFile, with every fault and its line; MissingInput, where there is no such part.
    """
    document = parse(text, file)
    if HEAD not in document.content:
        raise MissingInput(
            say(
                "{file} has no [waterworks]; describe the places and parts of the seawater "
                "system, as the demo's file does.",
                file=file,
            )
        )
    found = read_waterworks(document)
    document.finish()
    if found is None:
        raise BadFile(file, tuple(document.problems))
    return found


def hatchery_heading(text: str, file: str) -> tuple[str, bool]:
    """The hatchery's name and whether it calls itself invented; the file's name without one.

    Raises: BadFile, where the text is not TOML.
    """
    head = parse(text, file).content.get("hatchery")
    if not isinstance(head, dict):
        return file, False
    name = head.get("name")
    return (name if isinstance(name, str) and name.strip() else file), head.get("invented") is True


def read_waterworks(document: Document) -> Waterworks | None:
    """The waterworks of a document; faults are noted in it, and None is given where there are any.

    A document without a [waterworks] gives None and no fault.
    """
    content = document.content.get(HEAD)
    if content is None:
        return None
    if not isinstance(content, dict):
        document.fault((HEAD,), say("waterworks must be a section headed [waterworks]."))
        return None
    before = len(document.problems)
    head = WaterSection(document, (HEAD,), content, kind="works")
    temperature, salinity = head.size("temperature"), head.size("salinity")
    lists = {name: _tables(document, head, name) for name in LISTS}
    keeping = _keeping(document, head)
    head.close()
    if len(document.problems) > before:
        temperature, salinity = temperature or 25.0, salinity or 35.0
    return _described(document, lists, keeping, (temperature, salinity), before)


def demo_waterworks_text() -> str:
    """The waterworks part of the invented hatchery's file."""
    return files("protoconch.hatchery").joinpath("demo_waterworks.toml").read_text("utf-8")


@cache
def demo_waterworks() -> Waterworks:
    """The waterworks of the invented hatchery."""
    return waterworks_in(demo_waterworks_text(), "demo_waterworks.toml")


Lists = dict[str, list[WaterSection]]


def _described(
    document: Document,
    lists: Lists,
    keeping: StoreKeeping | None,
    state: tuple[float, float],
    before: int,
) -> Waterworks | None:
    water, assumed = water_at(*state), list[str]()
    places = tuple(place(section) for section in lists["places"])
    for section in lists["parts"]:
        section.water, section.assumed = water, assumed
    parts = tuple(part(section) for section in lists["parts"])
    fixtures = tuple(fixture(section) for section in lists["fixtures"])
    loops = tuple(_loop(section, state) for section in lists["loops"])
    stocked = tuple(_stocked(section, state) for section in lists["stocked"])
    loads = tuple(_load(section) for section in lists["loads"])
    for name in ("places", "parts"):
        if not lists[name]:
            document.fault((HEAD,), say("The waterworks has no [[waterworks.{name}]].", name=name))
    if len(document.problems) == before:
        _check_names(document, places, parts, keeping)
    if len(document.problems) > before:
        return None
    network = Network(places, parts, water, fixtures)
    return Waterworks(network, keeping, loops, stocked, loads, tuple(assumed))


def _check_names(
    document: Document,
    places: tuple[Place, ...],
    parts: tuple[Part, ...],
    keeping: StoreKeeping | None,
) -> None:
    for sentence in naming_problems(places, parts):
        where = next((i for i, p in enumerate(parts) if sentence.startswith(f"{p.name} ")), None)
        document.fault((HEAD,) if where is None else (HEAD, "parts", where), sentence)
    if keeping is None:
        return
    stores = [each.name for each in places if each.kind == "reservoir"]
    if keeping.place not in stores:
        document.fault(
            (HEAD, "reservoir", "place"),
            say(
                "There is no place of kind reservoir called {place}; there are {stores}.",
                place=keeping.place,
                stores=", ".join(stores) or say("none"),
            ),
        )
    pumps = [each.name for each in parts if isinstance(each, Pump)]
    if keeping.fill_pump not in pumps:
        document.fault(
            (HEAD, "reservoir", "fill_pump"),
            say(
                "There is no pump called {fill_pump}; there are {pumps}.",
                fill_pump=keeping.fill_pump,
                pumps=", ".join(pumps) or say("none"),
            ),
        )


def _tables(document: Document, head: WaterSection, name: str) -> list[WaterSection]:
    """The tables of one list, each a section."""
    if not head.has(name):
        return []
    typed: Any = head.table[name]
    if not isinstance(typed, list) or not all(isinstance(each, dict) for each in typed):
        head.fault(
            name, say("{name} must be headed [[waterworks.{name}]], once for each.", name=name)
        )
        return []
    kinds = {"stocked": "stock"}
    kind = kinds.get(name, name.removesuffix("s"))
    return [
        WaterSection(document, (HEAD, name, i), each, kind=kind) for i, each in enumerate(typed)
    ]


def _keeping(document: Document, head: WaterSection) -> StoreKeeping | None:
    if not head.has("reservoir"):
        return None
    typed = head.table["reservoir"]
    if not isinstance(typed, dict):
        head.fault("reservoir", say("reservoir must be a section headed [waterworks.reservoir]."))
        return None
    section = WaterSection(document, (HEAD, "reservoir"), typed, kind="reservoir")
    full = section.size("volume")
    level = section.size("level", full)
    reserve = section.size("reserve", 0.0)
    for key, value in (("level", level), ("reserve", reserve)):
        if full and value > full:
            section.fault(
                key,
                say(
                    "{key} is {value}, above the usable volume of {full}.",
                    key=key,
                    value=text(round(value), "L"),
                    full=text(round(full), "L"),
                ),
            )
            return None
    found = StoreKeeping(
        place=section.words("place"),
        store=Store(
            full or 1.0, min(level, full or 1.0), section.size("loss", 0.0),
            number("storage", "use_spread"), number("storage", "use_bias"),
        ),
        daily_use_l=section.size("daily_use"),
        interval_days=max(1, round(section.size("fill_every"))),
        missed_fills=round(section.size("missed_fills", 0.0)),
        reserve_l=reserve,
        fill_pump=section.words("fill_pump"),
    )  # fmt: skip
    section.close()
    return found


def _loop(section: WaterSection, state: tuple[float, float]) -> LoopPlan:
    found = LoopPlan(
        name=section.words("name"), volume_l=section.size("volume") or 1.0,
        feed_g_day=section.size("feed"), protein_share=section.size("protein") / 100,
        temperature_c=state[0], salinity=state[1],
        ammonia_limit_mg_l=section.size("ammonia_limit", 0.2) or 0.2,
        nitrate_limit_mg_l=section.size(
            "nitrate_limit", number("water_limits", "nitrate.juveniles")
        ) or 20.0,
        medium_m2=section.size("medium"), flow_l_h=section.size("flow"),
        exchange_l_day=section.size("exchange"), aeration_w=section.size("air_power"),
        oxygen_g_day=section.size("oxygen_use"),
    )  # fmt: skip
    section.close()
    return found


def _stocked(section: WaterSection, state: tuple[float, float]) -> StockedTank:
    found = StockedTank(
        name=section.words("name"), volume_l=section.size("volume") or 1.0,
        depth_m=section.size("depth") or 1.0, temperature_c=state[0], salinity=state[1],
        animals=section.size("animals"), soft_mass_g=section.size("soft_mass") or 1.0,
        fed=not section.truth("fasting"), air_stone=section.truth("battery_air"),
    )  # fmt: skip
    section.close()
    return found


def _load(section: WaterSection) -> Load:
    found = Load(
        section.words("name"), section.size("watts") or 1.0, section.size("motor", 0.0),
        section.words("code").upper() if section.has("code") else "L",
    )  # fmt: skip
    try:
        starting_kva(0.0, found.code)
    except BadInput as error:
        section.sound("code", error)
    section.close()
    return found
