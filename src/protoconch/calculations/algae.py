"""The bench of the algae room: medium, and chlorine taken out again."""

from protoconch.algae.medium import known_media, medium
from protoconch.algae.sterilising import (
    CHLORINE_CAUTIONS,
    PRODUCTS,
    neutraliser_g,
    thiosulfate_ratio,
    usual_ratio,
)
from protoconch.calculations.declaration import Calculation, Found, Result, choice, number
from protoconch.words import say


def _medium(name: str, volume: float) -> Found:
    batch = medium(name, volume)
    values = {f"{key}_um": content for key, content in batch.content_um.items()}
    stocks = {f"{key}_stock_ml": amount for key, amount in batch.stock_ml.items()}
    units = dict.fromkeys(values, "µM") | dict.fromkeys(stocks, "mL")
    return Found(values | stocks, units=units, cautions=batch.cautions)


def _neutralise(volume: float, chlorine: float, product: str, ratio: float | None) -> Found:
    least, most = thiosulfate_ratio(product), thiosulfate_ratio(product, "tetrathionate")
    used = usual_ratio(product) if ratio is None else ratio
    grams = neutraliser_g(volume, chlorine, used)
    said = []
    if used < least:
        said.append(
            say(
                "A ratio of {used:g} is less than the {least:.3g} that chlorine needs.",
                used=used,
                least=least,
            )
        )
    if used > most:
        said.append(
            say(
                "A ratio of {used:g} is more than can be of use; {most:.3g} is the most.",
                used=used,
                most=most,
            )
        )
    return Found({"grams": grams}, cautions=tuple(said))


CALCULATIONS = (
    Calculation(
        name="medium",
        purpose=say("What a batch of medium holds, and the stocks that go into it."),
        inputs=(
            choice("name", known_media(), say("The medium."), default="f/2"),
            number("volume", "L", say("Seawater to be made into medium."), above=0),
        ),
        results=(
            Result("nitrate_um", "µM", say("Nitrate in it.")),
            Result("phosphate_um", "µM", say("Phosphate in it.")),
            Result("silicate_um", "µM", say("Silicate in it.")),
        ),
        function=_medium,
        sources=("Guillard & Ryther 1962, Can J Microbiol 8:229-239", "Guillard 1975"),
    ),
    Calculation(
        name="neutralise-chlorine",
        purpose=say("Thiosulfate that takes the chlorine out of water before algae go in."),
        inputs=(
            number("volume", "L", say("Water."), above=0),
            number("chlorine", "mg/L", say("Residual chlorine, measured."), low=0),
            choice("product", PRODUCTS, say("What is weighed in."), default=PRODUCTS[0]),
            number(
                "ratio",
                "1",
                say("Product for each mg of chlorine, mg/mg."),
                above=0,
                default=None,
                default_says=say("half as much again as the reaction to sulfate needs"),
            ),
        ),
        results=(Result("grams", "g", say("Product to weigh in.")),),
        function=_neutralise,
        sources=(
            say("Stoichiometry of thiosulfate and hypochlorite, to sulfate"),
            say("Half as much again: common practice, no source"),
        ),
        cautions=CHLORINE_CAUTIONS,
    ),
)
