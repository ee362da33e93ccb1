"""The calculations of the water itself."""

from protoconch.calculations.declaration import Calculation, Input, Result, choice, number
from protoconch.seawater.ammonia import unionised_share
from protoconch.seawater.carbonate import carbonate_from_ph
from protoconch.seawater.oxygen import oxygen_saturation_mg_l, oxygen_saturation_umol_kg
from protoconch.seawater.ph_scales import SCALES, known_scale, ph_on_total_scale
from protoconch.seawater.salt import top_up
from protoconch.seawater.state import density_kg_m3
from protoconch.words import say

TEOS = "IOC, SCOR & IAPSO 2010, The international thermodynamic equation of seawater (TEOS-10)"
GARCIA_GORDON = "Garcia & Gordon 1992, Limnol. Oceanogr. 37:1307"
DICKSON = "Dickson, Sabine & Christian 2007, Guide to best practices for ocean CO2 measurements"
MOST_MG_N_L = 1000.0


def _temperature(low: float = 0.0, high: float = 40.0) -> Input:
    return number("temperature", "°C", say("Temperature of the water."), low=low, high=high)


def _salinity(low: float = 0.0, high: float = 42.0) -> Input:
    return number("salinity", "psu", say("Practical salinity of the water."), low=low, high=high)


PH = number("ph", "1", say("The pH as read."), low=4, high=11)
PH_SCALE = choice(
    "ph_scale",
    SCALES,
    say("The scale of that pH; a meter set in ordinary buffers reads nbs."),
    default="total",
)


def _oxygen(temperature: float, salinity: float, pressure: float) -> dict[str, float]:
    return {
        "oxygen_mg_l": oxygen_saturation_mg_l(temperature, salinity, pressure),
        "oxygen_umol_kg": oxygen_saturation_umol_kg(temperature, salinity, pressure),
    }


def _density(temperature: float, salinity: float) -> dict[str, float]:
    return {"density_kg_m3": density_kg_m3(temperature, salinity)}


def _ammonia(
    temperature: float, salinity: float, ph: float, ph_scale: str, total_ammonia_mg_n_l: float
) -> dict[str, float]:
    share = unionised_share(temperature, salinity, ph, known_scale(ph_scale))
    return {"unionised_share": share, "unionised_mg_n_l": share * total_ammonia_mg_n_l}


def _carbonate(
    temperature: float, salinity: float, ph: float, ph_scale: str, alkalinity: float
) -> dict[str, float]:
    total = ph_on_total_scale(ph, known_scale(ph_scale), temperature, salinity)
    found = carbonate_from_ph(temperature, salinity, total, alkalinity)
    return {
        "aragonite_saturation": found.aragonite_saturation,
        "calcite_saturation": found.calcite_saturation,
        "pco2_uatm": found.pco2_uatm,
        "dic_umol_kg": found.dic_umol_kg,
    }


def _salinity_top_up(
    volume: float, salinity: float, target_salinity: float, top_up_salinity: float
) -> dict[str, float]:
    return {"add_l": top_up(volume, salinity, target_salinity, top_up_salinity)}


CALCULATIONS = (
    Calculation(
        name="oxygen-saturation",
        purpose=say("Oxygen that seawater holds in balance with moist air."),
        inputs=(
            _temperature(),
            _salinity(),
            number(
                "pressure", "kPa", say("Pressure of the air."), default=101.325, low=50, high=120
            ),
        ),
        results=(
            Result("oxygen_mg_l", "mg/L", say("Oxygen at saturation, by volume of water.")),
            Result("oxygen_umol_kg", "µmol/kg", say("Oxygen at saturation, by mass of seawater.")),
        ),
        function=_oxygen,
        sources=(GARCIA_GORDON, TEOS),
    ),
    Calculation(
        name="seawater-density",
        purpose=say("What a cubic metre of seawater weighs at the surface."),
        inputs=(_temperature(low=-2), _salinity()),
        results=(Result("density_kg_m3", "kg/m3", say("Density of the water.")),),
        function=_density,
        sources=(TEOS,),
    ),
    Calculation(
        name="ammonia",
        purpose=say("The share of the total ammonia that is un-ionised and harms animals."),
        inputs=(
            _temperature(),
            _salinity(high=40),
            PH,
            PH_SCALE,
            number(
                "total_ammonia_mg_n_l",
                "mg/L",
                say("Total ammonia, as nitrogen."),
                low=0,
                high=MOST_MG_N_L,
            ),
        ),
        results=(
            Result("unionised_share", "1", say("Share that is un-ionised.")),
            Result("unionised_mg_n_l", "mg/L", say("Un-ionised ammonia, as nitrogen.")),
        ),
        function=_ammonia,
        sources=("Clegg & Whitfield 1995, Geochim. Cosmochim. Acta 59:2403", DICKSON),
        cautions=(
            say("The same pH number on another scale changes the answer by 15 to 25 %."),
            say("As nitrogen; a kit that shows NH3 or NH4 shows 1.22 or 1.29 times as much."),
        ),
    ),
    Calculation(
        name="carbonate",
        purpose=say("How well the water lets a shell grow, from pH and alkalinity."),
        inputs=(
            _temperature(low=2, high=35),
            _salinity(low=19),
            PH,
            PH_SCALE,
            number(
                "alkalinity", "µmol/kg", say("Alkalinity from a titration."), low=100, high=20_000
            ),
        ),
        results=(
            Result("aragonite_saturation", "1", say("Above 1 aragonite does not dissolve.")),
            Result("calcite_saturation", "1", say("Above 1 calcite does not dissolve.")),
            Result(
                "pco2_uatm", "µatm", say("Pressure of CO2 in the water; outdoor air has about 420.")
            ),
            Result("dic_umol_kg", "µmol/kg", say("All dissolved inorganic carbon.")),
        ),
        function=_carbonate,
        sources=(DICKSON, "Lueker et al. 2000 (K1, K2)", "Mucci 1983 (solubility)"),
        cautions=(say("An error of 0.05 in pH moves the aragonite saturation by about 9 %."),),
    ),
    Calculation(
        name="salinity-top-up",
        purpose=say("Water to add so that the salinity comes to the one wanted."),
        inputs=(
            number("volume", "L", say("Water in the tank."), above=0),
            _salinity(),
            number("target_salinity", "psu", say("The salinity wanted."), low=0, high=42),
            number(
                "top_up_salinity",
                "psu",
                say("Salinity of the water added."),
                default=0.0,
                low=0,
                high=42,
            ),
        ),
        results=(Result("add_l", "L", say("Water to add.")),),
        function=_salinity_top_up,
        sources=(say("Balance of salt, counted in litres"),),
        cautions=(
            (
                say(
                    "Counted in litres: seawater is about 3 % heavier than fresh, so the salinity "
                    "ends within 0.1 of the target; add, mix, measure, correct."
                )
            ),
            (
                say(
                    "Use fresh water without chlorine or copper, and change by no more than 1 to 2 "
                    "an hour (common practice, no source)."
                )
            ),
        ),
    ),
)
