"""Juveniles in the nursery, until their release."""

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

JUVENILES: dict[str, HowTo] = {
    "move to nursery": HowTo(
        say("Move to the nursery"),
        say("They outgrow the trays and begin to bury in sand."),
        (
            say("Brush the animals off the trays under water."),
            say("Sieve out the sand with the animals under water."),
            say("Count all of them, or weigh all and count three weighed samples."),
            say("Spread them over the floor of the nursery, not in heaps."),
            say("Log number and tank."),
        ),
        cautions=(WET_MAINS, LIFTING, WELFARE),
        numbers=(
            Number(say("Shell length at which they leave the trays"), OF_SPECIES,
                   "post_larva.until_mm"),
            Number(say("Share of the floor that animals of 5 mm may cover"), OF_SPECIES,
                   "cover.share_5_mm", percent=True),
        ),
        record=say("Write down the trays they came from, the nursery tank and the number."),
        writes=("moved",),
    ),
    "feed pellets": HowTo(
        say("Feed the juveniles"),
        say("A share of live weight a day, less with size; what is left over fouls the water."),
        (
            say("Look what is left from yesterday: with leftovers give less, with none a little "
                "more."),
            say("Weigh the pellets of each tank; mouldy or damp ones are thrown away."),
            say("Scatter the pellets over the whole floor towards evening."),
            say("Log the grams."),
        ),
        round="evening",
        cautions=(WET_MAINS,),
        numbers=(
            Number(say("Dry feed a day for each 100 of live weight, up to 20 mm"), OF_SPECIES,
                   "feed.to_20_mm"),
            Number(say("The same, 20 to 40 mm"), OF_SPECIES, "feed.to_40_mm"),
            Number(say("The same, 40 to 80 mm"), OF_SPECIES, "feed.to_80_mm"),
        ),
        record=say("Write down the grams, and whether anything was left."),
        writes=("fed",),
    ),
    "siphon": HowTo(
        say("Siphon the nursery floor"),
        say("Waste eats the oxygen that the animals need at night."),
        (
            say("Start the siphon with water in the hose, never by mouth."),
            say("Siphon waste and leftovers, not the animals."),
            say("Check the bucket before it is emptied: what lives goes back."),
            say("Take out dead shells; log the deaths."),
            say("Check flow, temperature and overflow screen."),
        ),
        cautions=(WET_MAINS, LIFTING),
        numbers=(
            Number(say("Oxygen at which to look into it"), "water_limits", "oxygen.warn"),
        ),
        record=say("Write down that it was done, and the dead shells."),
        writes=("cleaned", "lost"),
    ),
    "grade": HowTo(
        say("Grade by size"),
        say("Large ones take the food of small ones; graded groups grow evenly."),
        (
            say("Mark a board at the size, and lay two basins of water beside it."),
            say("Hold each animal to the mark and put it with the large or the small ones."),
            say("Count each group."),
            say("Put them in floors of their own."),
            say("Log both groups with their numbers."),
        ),
        cautions=(WET_MAINS, LIFTING, WELFARE),
        numbers=(
            Number(say("Size at which they are graded"), OF_SPECIES, "small_juvenile.until_mm"),
            Number(say("Share of the floor that animals of 20 mm may cover"), OF_SPECIES,
                   "cover.share_20_mm", percent=True),
        ),
        record=say("Write down the size of the mark, and number and tank of each group."),
        writes=("graded",),
    ),
    "weigh and measure": HowTo(
        say("Measure and weigh juveniles"),
        say("Lengths correct the date on which they are ready; weights correct the feed."),
        (
            say("Take the animals from all parts of the trays or the floor, not the easy ones."),
            say("Measure shell length, the small ones under the microscope."),
            say("Let them drain for a moment and weigh all of them together."),
            say("Put them back where they came from, spread apart."),
            say("Log every length and the weight."),
        ),
        round="midday",
        cautions=(WELFARE, WET_MAINS, GLASS),
        numbers=(
            Number(say("Growth in a day, 5 to 20 mm"), OF_SPECIES, "small_juvenile.growth_mm_d"),
            Number(say("Growth in a day, 20 to 80 mm"), OF_SPECIES, "juvenile.growth_mm_d"),
        ),
        record=say("Write down every length, how many were weighed, and their weight."),
        writes=("measured", "weighed"),
    ),
    "prepare release": HowTo(
        say("Prepare the release"),
        say("Papers, health check and transport take longer than the animals do."),
        (
            say("Ask the authority for the release permit and the place, and tell partners the "
                "day."),
            say("Have a health check made by the person the law names; sick batches stay here."),
            say("Mark or tag a known share, and measure the sample."),
            say("Book boat, boxes, shade and seawater for the transport."),
        ),
        round="midday",
        cautions=(LAW, WELFARE),
        numbers=(
            Number(say("Least size at release"), OF_SPECIES, "release.size_mm"),
            Number(say("Largest share of one mass in a release"), OF_SPECIES,
                   "genetics.max_share", percent=True),
        ),
        record=say("Write down the permit's number, the health check, and how many carry a "
                   "mark."),
        writes=("done", "measured"),
    ),
    "release": HowTo(
        say("Release"),
        say("This is what the season is for; where and how they are set out decides how many "
            "live."),
        (
            say("Count them into boxes, moist and shaded, and start early."),
            say("Carry the boxes with two people and keep them out of the sun."),
            say("Warm or cool the boxes slowly to the sea's temperature."),
            say("Set them out by hand, spread apart, in the place the permit names."),
            say("Log number, place, hour and the sample of lengths."),
        ),
        cautions=(LAW, DIVING, STORM, LIFTING, WELFARE),
        numbers=(
            Number(say("Animals on each square metre of sea floor"), OF_SPECIES,
                   "release.density_m2"),
            Number(say("Most that the temperature may change in an hour"), "water_limits",
                   "step.temperature"),
        ),
        record=say("Write down number, place, hour and the lengths of the sample."),
        writes=("released",),
    ),
}  # fmt: skip
