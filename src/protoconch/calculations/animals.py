"""The animals: parents, sieves, numbers to stock, shell length by age, a dose to settle them."""

from protoconch.animals import genetics, growth_curve, settlement, sieve, stocking
from protoconch.animals.profiles import species
from protoconch.calculations.declaration import Calculation, Found, Result, number, numbers
from protoconch.sources.reading import references
from protoconch.sources.values import SourcedValue
from protoconch.units import text
from protoconch.words import say

PROFILE = "queen-conch"


def _breeders(contributions: tuple[float, ...], sires_per_mass: float) -> dict[str, float]:
    parents = genetics.breeders(contributions, sires_per_mass)
    return {
        "effective_breeders": parents.effective,
        "families": parents.families,
        "largest_share": parents.largest_share,
    }


def _screen(shell_length: float) -> Found:
    profile = species(PROFILE)
    factors = profile.value("sieve.hold_factor"), profile.value("sieve.fast_factor")
    mesh = sieve.sieves(shell_length, factors[0].number, factors[1].number)
    passes = text(sieve.widest_that_passes_um(mesh.hold_all_um), "µm", 3)
    return Found(
        {"hold_all_um": mesh.hold_all_um, "fast_half_um": mesh.fast_half_um},
        cautions=(
            say(
                "A square mesh of that opening lets pass on its diagonal what is under "
                "{passes} wide.",
                passes=passes,
            ),
            say("Try the mesh on a few larvae first, and take the next finer one that you have."),
        ),
        sources=tuple(dict.fromkeys(_told(factor) for factor in factors)),
    )


def _stocking(
    wanted: float, survival: tuple[float, ...], density: float, tank: float
) -> dict[str, float]:
    start = stocking.stocking(wanted, survival, density_per_l=density, tank_l=tank)
    return {"start_animals": start.start_animals, "tanks": start.tanks}


def _von_bertalanffy(l_inf: float, k: float, t0: float, age: float) -> dict[str, float]:
    length = growth_curve.von_bertalanffy_length_mm(age, l_inf_mm=l_inf, k_per_year=k, t0_years=t0)
    return {"length_mm": length}


def _peroxide_dose(volume: float, dose: float, strength: float) -> Found:
    usual = species(PROFILE).value("settlement.peroxide_um")
    low, high = usual.low or 0.0, usual.high or float("inf")
    unusual = say(
        "{dose:g} µM is outside the usual {low:g} to {high:g} µM ({told}); check it.",
        dose=dose,
        low=low,
        high=high,
        told=_told(usual),
    )
    return Found(
        {"add_ml": settlement.peroxide_volume_ml(volume, dose, strength)},
        cautions=() if low <= dose <= high else (unusual,),
    )


def _told(value: SourcedValue) -> str:
    """Where a number comes from, for people."""
    return say(
        "{name} of {profile}: {citation}",
        name=value.name,
        profile=PROFILE,
        citation=references()[value.source].citation,
    )


CALCULATIONS = (
    Calculation(
        name="breeders",
        purpose=say("Effective number of breeders behind the animals of a release."),
        inputs=(
            numbers("contributions", "animals", say("Animals of each egg mass at release."), low=0),
            number(
                "sires_per_mass",
                "1",
                say("Sires of one egg mass, in equal parts; not seen without genotyping."),
                low=1,
                high=50,
                default=1.0,
            ),
        ),
        results=(
            Result("effective_breeders", "1", say("Effective number of breeders.")),
            Result("families", "1", say("Egg masses with animals in the release.")),
            Result("largest_share", "1", say("Largest part of the release from one egg mass.")),
        ),
        function=_breeders,
        sources=(
            "Two sexes: Wright 1938, Science 87:430 (from memory)",
            "Unequal families as 1/Σp² equal ones: Lacy 1989, Zoo Biol 8:111 (from memory)",
        ),
        cautions=(say("Count the animals at release, not eggs; mixed batches no longer show it."),),
    ),
    Calculation(
        name="screen",
        purpose=say("Mesh that holds all larvae of a size, and mesh that keeps the faster half."),
        inputs=(number("shell_length", "µm", say("Mean shell length."), above=0, high=20000),),
        results=(
            Result("hold_all_um", "µm", say("Widest mesh that holds all.")),
            Result("fast_half_um", "µm", say("Mesh that keeps the faster half.")),
        ),
        function=_screen,
        sources=(say("Mesh as a part of shell length: common practice, no source"),),
    ),
    Calculation(
        name="stocking",
        purpose=say("Animals to begin with for so many at the end, and the tanks that hold them."),
        inputs=(
            number("wanted", "animals", say("Animals at the end."), above=0),
            numbers("survival", "1", say("Share that survives each stage."), above=0, high=1),
            number("density", "animals/L", say("Animals per litre at the start."), above=0),
            number("tank", "L", say("Water in one tank."), above=0),
        ),
        results=(
            Result("start_animals", "animals", say("Animals to begin with.")),
            Result("tanks", "1", say("Tanks for them, whole ones.")),
        ),
        function=_stocking,
        sources=(say("Product of the survivals"),),
        cautions=(say("This is the middle: half of the seasons begun so end with fewer."),),
    ),
    Calculation(
        name="von-bertalanffy",
        purpose=say("Shell length at an age on a von Bertalanffy curve."),
        inputs=(
            number("l_inf", "mm", say("Length that the curve approaches."), above=0, high=2000),
            number("k", "per year", say("How fast it does."), above=0, high=50),
            number(
                "t0", "years", say("Age at which the curve begins."), low=-20, high=20, default=0.0
            ),
            number("age", "years", say("Age."), low=0, high=100),
        ),
        results=(Result("length_mm", "mm", say("Shell length.")),),
        function=_von_bertalanffy,
        sources=("von Bertalanffy 1938, Human Biology 10:181 (from memory)",),
        cautions=(say("Parameters fitted to large wild animals tell little of the first year."),),
    ),
    Calculation(
        name="peroxide-dose",
        purpose=say("Hydrogen peroxide to add so that competent larvae settle."),
        inputs=(
            number("volume", "L", say("Water in the tank."), above=0),
            number("dose", "µM", say("Peroxide wanted in the tank."), above=0, high=10000),
            number(
                "strength", "% w/v", say("Strength of the stock."), above=0, high=60, default=3.0
            ),
        ),
        results=(Result("add_ml", "mL", say("Stock to add.")),),
        function=_peroxide_dose,
        sources=("Molar mass 34.014 g/mol: IUPAC 2021 (Prohaska et al. 2022, from memory)",),
        cautions=settlement.PEROXIDE_CAUTIONS,
    ),
)
