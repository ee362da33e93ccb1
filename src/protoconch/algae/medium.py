"""Nutrients for cultures: what a batch of medium holds, what goes into it, how stocks are made."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from protoconch.errors import UnknownName
from protoconch.sources.reading import load_catalogue
from protoconch.sources.reading_toml import did_you_mean
from protoconch.sources.values import SourcedValue
from protoconch.units import not_negative, positive
from protoconch.words import say


@dataclass(frozen=True, slots=True)
class Medium:
    """A batch of medium.

    name: of its variant. volume_l: [L]. content_um: each nutrient in it [µM].
    stock_ml: each stock to pour in [mL]. weighed_g: each chemical in it [g], for shopping.
    cautions: what to mind.
    """

    name: str
    volume_l: float
    content_um: Mapping[str, float]
    stock_ml: Mapping[str, float]
    weighed_g: Mapping[str, float]
    cautions: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class StockRecipe:
    """How to make a stock: grams of each chemical weighed in, mL of each primary stock.

    weighed_g, primary_ml: by chemical. primary_g: grams for 100 mL of each primary stock.
    how: in words.
    """

    name: str
    volume_l: float
    weighed_g: Mapping[str, float]
    primary_ml: Mapping[str, float]
    primary_g: Mapping[str, float]
    how: str


def known_media() -> tuple[str, ...]:
    """Names of the media in the table."""
    return tuple(load_catalogue("media")["variants"])


def molarity_um(content_mg_l: float, molar_mass: float) -> float:
    """Content as amount of substance [µM].

    content_mg_l: [mg/L]. molar_mass: [g/mol].
    """
    positive(molar_mass, "g/mol", say("molar mass"))
    return not_negative(content_mg_l, "mg/L", "content") / molar_mass * 1000.0


def medium(name: str, volume_l: float, silicate_doses: float | None = None) -> Medium:
    """A batch of medium of any volume.

    name: of a medium in the table. volume_l: of seawater [L]. silicate_doses: times the silicate
        of f/2 where it should differ, 2 for Chaetoceros.
    Raises: UnknownName; BadInput for a volume that is not above 0, or silicate below 0.
    Source: Guillard & Ryther 1962, Can J Microbiol 8:229; Guillard 1975.
    """
    table = load_catalogue("media")
    variants = table["variants"]
    if name not in variants:
        raise UnknownName(
            say(
                "There is no medium {name}; there are {variants}.{near}",
                name=name,
                variants=", ".join(variants),
                near=did_you_mean(name, variants),
            )
        )
    positive(volume_l, "L", "volume")
    strength: float = variants[name]["strength"]
    silicate = strength * variants[name]["silicate"] if silicate_doses is None else silicate_doses
    not_negative(silicate, "1", "silicate")
    doses = dict.fromkeys(table["stocks"], strength) | {"silicate": silicate}
    parts: Mapping[str, Mapping[str, Any]] = table["components"]
    content = {key: doses[part["stock"]] * _of(part["final_mg_l"]) for key, part in parts.items()}
    return Medium(
        name,
        volume_l,
        {key: molarity_um(mg, _of(parts[key]["molar_mass"])) for key, mg in content.items()},
        {key: dose * _of(table["stocks"][key]["dose_ml_l"]) * volume_l
         for key, dose in doses.items()},
        {say(parts[key]["name"]): mg * volume_l / 1000 for key, mg in content.items() if mg > 0},
        _cautions(doses["silicate"], _of(table["silicate_precipitates"])),
    )  # fmt: skip


def _of(value: SourcedValue) -> float:
    return value.number


def _cautions(silicate: float, most: float) -> tuple[str, ...]:
    said = [say("Nutrients go in after the seawater has cooled; vitamins last, never heated.")]
    if silicate > 0:
        said.append(say("Silicate goes in last and slowly, while the water moves, or it clouds."))
    if silicate > most:
        said.append(
            say("More than {most:g} times the silicate of f/2 falls out when heated.", most=most)
        )
    return tuple(said)


def stock_recipe(stock: str, volume_l: float = 1.0) -> StockRecipe:
    """How a stock of the media is made.

    stock: "nitrate", "phosphate", "silicate", "trace" or "vitamin". volume_l: of it [L].
    Raises: UnknownName; BadInput.
    """
    table = load_catalogue("media")
    if stock not in table["stocks"]:
        raise UnknownName(
            say(
                "There is no stock {stock}; there are {known}.",
                stock=stock,
                known=", ".join(table["stocks"]),
            )
        )
    positive(volume_l, "L", "volume")
    parts = [part for part in table["components"].values() if part["stock"] == stock]
    primary = [part for part in parts if part["by_primary_stock"]]
    return StockRecipe(
        say(table["stocks"][stock]["name"]),
        volume_l,
        {
            say(part["name"]): _of(part["stock_g_l"]) * volume_l
            for part in parts
            if part not in primary
        },
        {say(part["name"]): volume_l for part in primary},
        {say(part["name"]): _of(part["stock_g_l"]) / 10 for part in primary},
        say(table["stocks"][stock]["how"]),
    )


def shopping_g(batches: Mapping[str, float]) -> dict[str, float]:
    """Chemicals for so many litres of each medium [g].

    batches: litres by name of the medium. Raises: UnknownName; BadInput.
    """
    total: dict[str, float] = {}
    for name, litres in batches.items():
        for chemical, grams in medium(name, litres).weighed_g.items():
            total[chemical] = total.get(chemical, 0.0) + grams
    return total
