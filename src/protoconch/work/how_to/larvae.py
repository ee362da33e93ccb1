"""From the egg mass to the larvae that are nearly ready."""

from protoconch.words import say
from protoconch.work.how_to.card import OF_SPECIES, HowTo, Number
from protoconch.work.how_to.cautions import (
    DIVING,
    GLASS,
    LAW,
    LIFTING,
    STORM,
    WELFARE,
    WET_MAINS,
)

LARVAE: dict[str, HowTo] = {
    "collect": HowTo(
        say("Collect the eggs"),
        say("The batch starts here; a small piece of many masses keeps many families in the "
            "release."),
        (
            say("Check that the permit, the season and the weather allow the trip."),
            say("Take a piece along the whole strand of each mass and leave the rest where it "
                "lies."),
            say("Keep each piece in its own bag with site, depth and date on it."),
            say("Carry them shaded and cool in clean seawater."),
            say("Log each piece on arrival."),
        ),
        cautions=(LAW, DIVING, STORM),
        numbers=(
            Number(say("Masses of different females in a season, aimed at"), OF_SPECIES,
                   "genetics.target_masses"),
            Number(say("Largest share of one mass in a release"), OF_SPECIES,
                   "genetics.max_share", percent=True),
            Number(say("Eggs on each millimetre of strand"), OF_SPECIES, "eggs.per_mm_strand"),
        ),
        record=say("Write down for each piece: place, depth, date and how much was taken."),
        writes=("egg mass collected", "incubator loaded"),
    ),
    "incubate": HowTo(
        say("Care for the eggs"),
        say("Still water and dead pieces spoil the whole mass before it hatches."),
        (
            say("Rinse sand off with filtered seawater."),
            say("Take out pink, white or dead pieces."),
            say("Check that fresh water and gentle air reach every piece."),
            say("Look at a few capsules under the microscope: turning embryos mean hatching is "
                "near."),
            say("Read the temperature of the water and write it on the vessel."),
        ),
        cautions=(WET_MAINS, WELFARE),
        numbers=(
            Number(say("Days from laying to hatching"), OF_SPECIES, "incubation.days"),
            Number(say("Vessel for one mass or its pieces"), OF_SPECIES,
                   "incubation.litres_per_mass"),
            Number(say("Fresh water for each mass"), OF_SPECIES, "incubation.flow_l_min"),
        ),
        record=say("Write down that they were looked after, and the hour at which they hatch."),
        writes=("done", "hatched"),
    ),
    "stock": HowTo(
        say("Stock the tank with hatched larvae"),
        say("Too many larvae in a tank foul it and catch on each other; too few waste the room."),
        (
            say("Fill the clean tank with filtered, sterilised seawater at the same temperature."),
            say("Draw off the swimming larvae and leave shells and dead eggs behind."),
            say("Count five aliquots of the hatching bucket."),
            say("Pour in the volume that holds the number, slowly, and log both."),
            say("Set the air to a slow rise of bubbles: the water turns, no larva is thrown "
                "about."),
        ),
        cautions=(WET_MAINS, LIFTING, WELFARE),
        numbers=(
            Number(say("Larvae for each litre, from hatching"), OF_SPECIES,
                   "veliger.density.day_0"),
            Number(say("Finest filter for larval water"), OF_SPECIES, "veliger.filter_um"),
        ),
        record=say("Write down the tank, the litres poured and the number that they hold."),
        writes=("stocked",),
    ),
    "count": HowTo(
        say("Count the larvae"),
        say("The count shows early whether this tank keeps up with the plan."),
        (
            say("Stir the tank gently up and down, never round, until the larvae hang evenly."),
            say("Take the aliquots one after another, from the whole depth."),
            say("Put each aliquot into a dish of its own, under the microscope."),
            say("Count living and dead apart, and log every aliquot."),
            say("Pour the living ones back into their tank."),
        ),
        cautions=(WELFARE, GLASS),
        numbers=(
            Number(say("Days after which an uncounted tank is warned of"), "warnings",
                   "count_after"),
        ),
        record=say("Write down the volume of an aliquot and the count of each one, living and "
                   "dead."),
        writes=("counted",),
    ),
    "thin": HowTo(
        say("Thin the tank to the density for its age"),
        say("Larger larvae need more water each; the fast ones carry the batch."),
        (
            say("Drain through two sieves, the coarser one on top to hold the fast larvae."),
            say("Keep both sieves standing in water: larvae never lie dry."),
            say("Count what each sieve holds."),
            say("Put back the fast ones up to the number, and more of the small ones only if "
                "short."),
            say("Log the number kept and the number culled."),
        ),
        cautions=(WET_MAINS, LIFTING, WELFARE),
        numbers=(
            Number(say("Mesh that keeps the fast half, for each part of mean shell length"),
                   OF_SPECIES, "sieve.fast_factor"),
            Number(say("Larvae for each litre from day 4"), OF_SPECIES, "veliger.density.day_4"),
            Number(say("Larvae for each litre from day 11"), OF_SPECIES,
                   "veliger.density.day_11"),
        ),
        record=say("Write down how many were kept and how many were taken out."),
        writes=("thinned",),
    ),
    "change water": HowTo(
        say("Change the water"),
        say("Old water holds waste, dead larvae and old food."),
        (
            say("Check the sieve for tears, and keep it under water while draining."),
            say("Drain gently through the sieve into a bucket that overflows."),
            say("Rinse the larvae into clean water at the same temperature; they stay wet "
                "throughout."),
            say("Scrub and rinse the tank, no soap, and look that nothing is left in its "
                "corners."),
            say("Refill it with filtered, sterilised water at the same temperature."),
            say("Put the larvae back gently, and set the air again."),
        ),
        cautions=(WET_MAINS, LIFTING, WELFARE),
        numbers=(
            Number(say("Mesh that holds all, days 0 to 3"), OF_SPECIES,
                   "sieve.aperture_um.day_0"),
            Number(say("Mesh that holds all, days 4 to 8"), OF_SPECIES,
                   "sieve.aperture_um.day_4"),
            Number(say("Mesh that holds all, days 9 to 14"), OF_SPECIES,
                   "sieve.aperture_um.day_9"),
            Number(say("Mesh that holds all, days 15 to 20"), OF_SPECIES,
                   "sieve.aperture_um.day_15"),
            Number(say("Mesh that holds all, from day 21"), OF_SPECIES,
                   "sieve.aperture_um.day_21"),
            Number(say("Most that the temperature may change in an hour"), "water_limits",
                   "step.temperature"),
        ),
        record=say("Write down how much was changed, the mesh, and what lay dead on it."),
        writes=("water changed",),
    ),
    "feed": HowTo(
        say("Feed the larvae"),
        say("The dry mass of algae counts, whatever the species; hungry larvae stop growing."),
        (
            say("Count each culture first: its own count goes before the usual harvest density."),
            say("The litres are for Isochrysis and Chaetoceros gracilis; others go by dry mass."),
            say("Smell and look: food that is clumped, pale or foul is thrown away."),
            say("Measure the litres of each culture into one clean bucket."),
            say("Pour half now, the rest in the evening round if the water has cleared."),
            say("Log litres and counts."),
        ),
        round="midday",
        cautions=(WELFARE,),
        numbers=(
            Number(say("Dry algae for each litre of tank and day, from hatching"), OF_SPECIES,
                   "veliger.ration.day_0"),
            Number(say("The same from day 3"), OF_SPECIES, "veliger.ration.day_3"),
            Number(say("The same from day 8"), OF_SPECIES, "veliger.ration.day_8"),
            Number(say("The same from day 15"), OF_SPECIES, "veliger.ration.day_15"),
            Number(say("Age from which diatoms are part of it"), OF_SPECIES,
                   "veliger.diatom_from_day"),
        ),
        record=say("Write down the litres of each culture that went in."),
        writes=("fed",),
    ),
    "measure": HowTo(
        say("Measure larvae"),
        say("Slow growth shows before deaths do that something is wrong."),
        (
            say("Take the animals from the whole depth of the tank."),
            say("Lay them on a slide in a drop of their own water."),
            say("Measure shell length under the microscope, spire tip to the far lip."),
            say("Note lobes, colour of the gut, and anything growing on the shells."),
            say("Log every length."),
        ),
        round="midday",
        cautions=(GLASS, WELFARE),
        numbers=(
            Number(say("Shell length at hatching"), OF_SPECIES, "veliger.hatch_length_um"),
            Number(say("Growth in a day"), OF_SPECIES, "veliger.growth_um_d"),
            Number(say("Day on which four lobes are there"), OF_SPECIES,
                   "veliger.four_lobes_day"),
            Number(say("Day on which six lobes are there"), OF_SPECIES,
                   "veliger.six_lobes_day"),
        ),
        record=say("Write down every length, not the mean."),
        writes=("measured",),
    ),
}  # fmt: skip
