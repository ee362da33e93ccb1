"""Around the water: filling, reading, cartridges, lamps, clean tanks, and hours without power."""

from protoconch.algae.sterilising import CHLORINE_CAUTIONS
from protoconch.words import say
from protoconch.work.how_to.card import HowTo, Number
from protoconch.work.how_to.cautions import (
    BLEACH,
    CONFINED,
    GENERATOR,
    GLASS,
    LIFTING,
    PRESSURE,
    STORM,
    UV,
    WET_MAINS,
)

WATER: dict[str, HowTo] = {
    "fill the reservoir": HowTo(
        say("Fill the reservoir"),
        say("What comes in now is what the larvae live in for weeks."),
        (
            say("Look at tide, sky and sea: high tide, no heavy rain before, no plume, bloom or "
                "oil."),
            say("Look at the strainer, the hoses and the clamps."),
            say("Run the line to waste first: what stood in it has lost its oxygen."),
            say("Read salinity, temperature and smell at the waste hose; fill only within the "
                "limits."),
            say("Turn the water into the reservoir and stay until it is full."),
            say("Switch the pump off, close the valve and read the level."),
        ),
        cautions=(WET_MAINS, STORM, CONFINED, LIFTING),
        numbers=(
            Number(say("Volumes of the line to run to waste"), "storage", "first_flush"),
            Number(say("Hours to wait after heavy rain"), "storage", "wait_after_rain"),
            Number(say("Least salinity without a second look"), "water_limits",
                   "salinity.warn_low"),
            Number(say("Most salinity without a second look"), "water_limits",
                   "salinity.warn_high"),
        ),
        record=say("Write down the litres pumped in and the level that is reached."),
        writes=("pumped", "read"),
    ),
    "read the water": HowTo(
        say("Read the water"),
        say("A drift shows in the readings days before it shows in the animals."),
        (
            say("Rinse probe and cup in the water that is to be read."),
            say("Hold the probe in the tank, not in the jet, and wait until the number stands."),
            say("Take a sample for ammonia, nitrite and nitrate, and add the drops of the kit."),
            say("Wait the time of the kit, and compare the colour in daylight on white."),
            say("Read the gauges before and after each cartridge within the same minutes."),
            say("Log each number with its place, also those that are as always."),
        ),
        cautions=(
            WET_MAINS,
            say("Test kits hold acids and poisons: gloves on, waste into its own can, not into "
                "the tank."),
        ),
        numbers=(
            Number(say("Oxygen at which to look into it"), "water_limits", "oxygen.warn"),
            Number(say("Ammonia as nitrogen at which to look into it"), "water_limits",
                   "total_ammonia.warn"),
            Number(say("Warmest without a second look"), "water_limits",
                   "temperature.warn_high"),
            Number(say("Coolest without a second look"), "water_limits",
                   "temperature.warn_low"),
        ),
        record=say("Write down what was read, where, and at what hour."),
        writes=("read",),
    ),
    "change a cartridge": HowTo(
        say("Change a cartridge"),
        say("A clogged cartridge takes flow from the tanks, and an old one rots."),
        (
            say("Read the pressures before and after it."),
            say("Switch the pump off, and close the valves on both sides."),
            say("Let the pressure out at the vent until the gauge stands at zero."),
            say("Unscrew the bowl over a bucket, and take the old cartridge out."),
            say("Scrub and rinse the bowl; wipe the ring, and grease it with silicone grease."),
            say("Put the new cartridge in and screw the bowl on by hand."),
            say("Open the valves slowly, let the air out, look for drops, and read the "
                "pressures."),
        ),
        cautions=(PRESSURE, WET_MAINS, LIFTING, BLEACH),
        numbers=(
            Number(say("Difference of pressure at which to change"), "cartridges",
                   "change_drop"),
            Number(say("Difference at which it may give way"), "cartridges", "most_drop"),
            Number(say("Most days in the water"), "cartridges", "most_days_wet"),
        ),
        record=say("Write down the new cartridge's fineness, and the pressures after it."),
        writes=("cartridge changed", "read"),
    ),
    "change a lamp": HowTo(
        say("Change a UV lamp"),
        say("An old lamp burns and no longer kills: its dose falls before its light does."),
        (
            say("Shut the valve to the larvae: while the lamp is out the water is not treated."),
            say("Switch the unit off, unplug it, and lock the plug away."),
            say("Let the lamp cool; put on gloves and glasses."),
            say("Draw the old lamp out straight; it holds mercury and goes to the collecting "
                "point."),
            say("Wipe the quartz sleeve clean, or change it where it is clouded or chipped."),
            say("Put the new lamp in without touching its glass, and close the housing."),
            say("Let water run, plug it in, and look at its indicator, never at the lamp."),
        ),
        cautions=(UV, WET_MAINS, GLASS),
        numbers=(
            Number(say("Hours that a lamp lasts"), "uv", "lamp_hours"),
            Number(say("Least dose planned for"), "uv", "least_design_dose"),
        ),
        record=say("Write down that the lamp was changed, and the hours of the old one."),
        writes=("lamp changed", "cleaned"),
    ),
    "clean a tank": HowTo(
        say("Clean a tank between batches"),
        say("A film on the wall carries what killed the last batch into the next one."),
        (
            say("Look that no animal is left, and drain the tank."),
            say("Scrub walls, floor, pipes and air stones with a brush, no soap."),
            say("Fill it, add the chlorine, and leave it covered overnight."),
            say("Neutralise with thiosulfate and test: no colour may show."),
            say("Rinse with filtered seawater and leave it to dry."),
        ),
        cautions=(*CHLORINE_CAUTIONS, WET_MAINS, LIFTING, CONFINED),
        numbers=(
            Number(say("Chlorine that shall be left after the night"), "sterilising",
                   "chlorine.residual_mg_l"),
            Number(say("Hours that it stands"), "sterilising", "chlorine.hours"),
        ),
        record=say("Write down which tank was cleaned, and that the test showed none."),
        writes=("cleaned",),
    ),
    "power is out": HowTo(
        say("When the power is out"),
        say("Still water runs short of oxygen within hours; the fullest tanks first."),
        (
            say("People first: lights, dry floor, nobody touches wet plugs or switches."),
            say("Stop feeding, in every tank."),
            say("Give air by battery to the fullest tanks first."),
            say("Turn the UV and the heaters off at the switch, so that they do not start dry."),
            say("Read oxygen and temperature every half hour, and write down the hour."),
            say("When it is back: pumps one by one, look at each tank, then the lamps."),
        ),
        cautions=(WET_MAINS, GENERATOR, STORM),
        numbers=(
            Number(say("Oxygen at which to act"), "water_limits", "oxygen.act"),
            Number(say("Oxygen at which half of the bottom animals tested are harmed, and the "
                       "range"), "water_limits", "oxygen.emergency"),
        ),
        record=say("Write down when it went and came back, the readings, and what was lost."),
        writes=("note", "read", "lost"),
    ),
}  # fmt: skip
