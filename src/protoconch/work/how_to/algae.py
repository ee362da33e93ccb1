"""The algae room: cultures, medium, harvests, and diatoms for the trays."""

from protoconch.algae.sterilising import CHLORINE_CAUTIONS, HEAT_CAUTIONS
from protoconch.words import say
from protoconch.work.how_to.card import HowTo, Number
from protoconch.work.how_to.cautions import FLAME, GLASS, LIFTING, WET_MAINS

SODA = say("Caustic soda and acid burn: goggles and gloves, soda into water, never water on soda.")

ALGAE: dict[str, HowTo] = {
    "look at cultures": HowTo(
        say("Look at every culture"),
        say("A crash shows in colour and smell a day before it is total."),
        (
            say("Check the air and the light of each culture."),
            say("Swirl it: even colour is right, clumps or a layer on the floor are not."),
            say("Smell at the neck: fresh is right, foul means throw it away."),
            say("Look at a drop under the microscope: anything that swims and is no alga must "
                "not reach larvae."),
            say("Put a sign on a culture in doubt, and work on it last."),
        ),
        cautions=(WET_MAINS, GLASS),
        record=say("Write down cultures that look wrong; end those that have crashed."),
        writes=("done", "culture ended"),
    ),
    "count cells": HowTo(
        say("Count the cells of a culture"),
        say("Litres are poured by the count: a culture half as dense feeds half as many."),
        (
            say("Swirl the culture and take a sample from the middle."),
            say("Thin a dense sample with a known volume of filtered seawater; stop swimmers "
                "with a drop of Lugol, and reckon both in."),
            say("Fill the chamber in one go, without bubbles, and let the cells sink."),
            say("Count the squares: cells on the upper and left lines count, on the others "
                "not."),
            say("Empty it, fill it again and count once more."),
            say("Log both counts, the squares and the dilution."),
        ),
        cautions=(
            GLASS,
            say("Lugol holds iodine: it stains and must not be swallowed; gloves on."),
        ),
        record=say("Write down the chamber, the squares, the dilution and each count."),
        writes=("culture counted",),
    ),
    "make medium": HowTo(
        say("Make medium for tomorrow"),
        say("Medium stands overnight: clean, neutralised and at the room's temperature."),
        (
            say("Filter the seawater to 1 µm into a clean vessel."),
            say("Large vessels: add the chlorine, mix, and leave it covered overnight without "
                "air."),
            say("Small bottles: heat them in the microwave or autoclave, caps loose, and let "
                "them cool."),
            say("Measure the chlorine that is left and neutralise it with thiosulfate."),
            say("Measure again: no colour may show; then aerate."),
            say("Add the nutrients one by one, silicate last and slowly, vitamins never hot."),
            say("Write medium, litres and date on the vessel."),
        ),
        round="evening",
        cautions=(*CHLORINE_CAUTIONS, *HEAT_CAUTIONS, LIFTING),
        numbers=(
            Number(say("Chlorine that shall be left after the night"), "sterilising",
                   "chlorine.residual_mg_l"),
            Number(say("Chlorine that filtered seawater eats besides"), "sterilising",
                   "chlorine.demand_mg_l"),
            Number(say("Vessels from this size on are chlorinated"), "sterilising",
                   "chlorine.from_l"),
        ),
        record=say("Write down the medium, the litres, and the chlorine added and measured."),
        writes=("medium made",),
    ),
    "inoculate": HowTo(
        say("Inoculate a vessel"),
        say("Each culture starts from a clean, growing one; what comes in now stays in."),
        (
            say("Look at the donor under the microscope: growing, clean, nothing that swims but "
                "the alga."),
            say("Wash hands and bench; take the caps off only to pour."),
            say("Pour near a flame or under a cover, the whole donor at once."),
            say("Connect filtered air, and put the vessel in its light."),
            say("Write species, donor and date on the vessel."),
        ),
        cautions=(FLAME, GLASS, WET_MAINS),
        record=say("Write down the vessel, the donor and the litres of both."),
        writes=("inoculated",),
    ),
    "harvest": HowTo(
        say("Harvest a culture"),
        say("It feeds the larvae or the trays today."),
        (
            say("Swirl and smell it; a foul one is thrown away, not harvested."),
            say("Count it; take more of a thinner, less of a denser culture."),
            say("Draw the litres into a clean bucket or bottle with its name on."),
            say("Fill up with new medium at once where the culture goes on; else cover it."),
            say("Keep what is not poured at once cool and shaded."),
        ),
        cautions=(LIFTING, GLASS),
        record=say("Write down the litres taken, and whether it was filled up."),
        writes=("harvested", "culture counted"),
    ),
    "empty a vessel": HowTo(
        say("Empty and clean a vessel"),
        say("What is left of an old culture spoils the new one."),
        (
            say("Pour the old culture away where it reaches no other vessel; a crashed one is "
                "chlorinated first."),
            say("Rinse, and scrub off every film with a soft brush, no soap."),
            say("Fill it with chlorinated water, hoses and stones in it, and leave it covered."),
            say("Neutralise, then rinse with filtered seawater, never with untreated tap or "
                "surface water."),
            say("Leave it to dry upside down."),
        ),
        round="evening",
        cautions=(*CHLORINE_CAUTIONS, GLASS, LIFTING),
        record=say("Write down that the culture ended, and why; and that the vessel is clean."),
        writes=("culture ended", "cleaned"),
    ),
    "renew the tubes": HowTo(
        say("Renew the tubes"),
        say("Everything grows from them; two rows in two rooms, one outside the house."),
        (
            say("Look at the best tube under the microscope first."),
            say("Take microwaved or autoclaved medium that has cooled."),
            say("Work beside a flame, the necks of the tubes through it before and after."),
            say("Put a little of the best old tube into each new one."),
            say("Write species and date on each, and set them on the shelf in weak light."),
            say("Keep last week's row until the new one has grown."),
        ),
        cautions=(*HEAT_CAUTIONS, FLAME, GLASS),
        record=say("Write down the species, the tube they came from and how many were made."),
        writes=("done",),
    ),
    "sow films": HowTo(
        say("Sow a film of diatoms"),
        say("A film is grazed in about a week; bare floor starves post-larvae."),
        (
            say("Look which trays are barest; brown and thick ones are left out."),
            say("Turn the flow of those trays off."),
            say("Swirl the culture and pour it evenly over the floor."),
            say("Leave the water still until the cells have sunk, then turn the flow on."),
        ),
        cautions=(LIFTING,),
        numbers=(
            Number(say("Diatoms on each square millimetre, useful"), "flocculation",
                   "film.useful_per_mm2"),
            Number(say("Days until a grazed film is sown again"), "flocculation",
                   "film.renew_d"),
        ),
        record=say("Write down the litres and the trays that got them."),
        writes=("harvested",),
    ),
    "settle diatoms": HowTo(
        say("Settle diatoms for the trays"),
        say("Post-larvae get them on their film each morning."),
        (
            say("Add the caustic soda slowly while the water moves, until the pH is right; then "
                "the polymer."),
            say("Stop the air and let it settle."),
            say("Siphon the clear water off the top."),
            say("Neutralise, stir into ten times as much filtered seawater, and settle once "
                "more."),
            say("Write species, date and method on the jar; cold, dark, stirred every day."),
        ),
        cautions=(SODA, GLASS),
        numbers=(
            Number(say("pH to settle at, with polymer"), "flocculation", "methods.ph-polymer.ph"),
            Number(say("Polymer for each litre"), "flocculation",
                   "methods.ph-polymer.dose_mg_l"),
            Number(say("Hours to settle"), "flocculation", "settle_h"),
            Number(say("pH after neutralising"), "flocculation", "wash.ph"),
            Number(say("Days that it keeps"), "flocculation", "methods.ph-polymer.keeps_d"),
        ),
        record=say("Write down the culture, its litres and what was settled out of them."),
        writes=("harvested",),
    ),
}  # fmt: skip
