"""What each kind of task is for, how it is done, and where care is due."""

from dataclasses import dataclass
from datetime import date

from protoconch.animals.settlement import PEROXIDE_CAUTIONS
from protoconch.work.task import Task, Working

LAW = "The permit and local law come first: what they say goes before this list."
DIVING = (
    "Boats and diving can kill. Go with trained people, watch the weather, and turn back in doubt."
)
WET_MAINS = (
    "Seawater and mains electricity can kill: unplug pumps and heaters before reaching into water, "
    "and leave repairs to a licensed electrician."
)
LIFTING = "Full buckets and trays are heavy: lift with two people, on a dry floor."
ALLERGY = "Cut and strain seaweed with gloves; some people react to it."
STORM = "Do not go out in a storm or under a storm warning."


@dataclass(frozen=True, slots=True)
class HowTo:
    """A kind of task: its words, the reason for it, its steps, its cautions, and its round."""

    what: str
    why: str
    steps: tuple[str, ...]
    round: str = "morning"
    cautions: tuple[str, ...] = ()


HOW_TO: dict[str, HowTo] = {
    "collect": HowTo(
        "Collect the eggs",
        "The batch starts here; a small piece of many masses keeps many families in the release.",
        (
            "Check that the permit, the season and the weather allow the trip.",
            "Take a piece along the whole strand of each mass and leave the rest where it lies.",
            "Keep each piece in its own bag with site, depth and date on it.",
            "Carry them shaded and cool in clean seawater, and log each piece on arrival.",
        ),
        cautions=(LAW, DIVING, STORM),
    ),
    "incubate": HowTo(
        "Care for the eggs",
        "Still water and dead pieces spoil the whole mass before it hatches.",
        (
            "Rinse sand off with filtered seawater.",
            "Take out pink, white or dead pieces.",
            "Check that fresh water and gentle air reach every piece.",
            "Look at a few capsules under the microscope: turning embryos mean hatching is near.",
        ),
        cautions=(WET_MAINS,),
    ),
    "stock": HowTo(
        "Stock the tank with hatched larvae",
        "Too many larvae in a tank foul it and catch on each other; too few waste the room.",
        (
            "Fill the clean tank with filtered, sterilised seawater at the same temperature.",
            "Draw off the swimming larvae and leave shells and dead eggs behind.",
            "Count five aliquots of the hatching bucket.",
            "Pour in the volume that holds the number, slowly, and log both.",
        ),
        cautions=(WET_MAINS,),
    ),
    "count": HowTo(
        "Count the larvae",
        "The count shows early whether this tank keeps up with the plan.",
        (
            "Stir the tank gently up and down, never round, until the larvae hang evenly.",
            "Take the aliquots one after another, from the whole depth.",
            "Count living and dead apart, and log every aliquot.",
        ),
    ),
    "thin": HowTo(
        "Thin the tank to the density for its age",
        "Larger larvae need more water each; the fast ones carry the batch.",
        (
            "Drain through two sieves, the coarser one on top to hold the fast larvae.",
            "Count what each sieve holds.",
            "Put back the fast ones up to the number, and more of the small ones only if short.",
            "Log the number kept and the number culled.",
        ),
        cautions=(WET_MAINS, LIFTING),
    ),
    "change water": HowTo(
        "Change the water",
        "Old water holds waste, dead larvae and old food.",
        (
            "Check the sieve for tears, and keep it under water while draining.",
            "Drain gently through the sieve into a bucket that overflows.",
            "Rinse the larvae into clean water at the same temperature; they stay wet throughout.",
            "Scrub and rinse the tank, refill it with filtered, sterilised water, put them back.",
        ),
        cautions=(WET_MAINS, LIFTING),
    ),
    "feed": HowTo(
        "Feed the larvae",
        "The dry mass of algae counts, whatever the species; hungry larvae stop growing.",
        (
            "Count each culture first: its own count goes before the usual harvest density.",
            "The litres are for Isochrysis and Chaetoceros gracilis; others go by dry mass.",
            "Smell and look: food that is clumped, pale or foul is thrown away.",
            "Pour half now, the rest in the evening round if the water has cleared.",
            "Log litres and counts.",
        ),
        round="midday",
    ),
    "measure": HowTo(
        "Measure larvae",
        "Slow growth shows before deaths do that something is wrong.",
        (
            "Take the animals from the whole depth of the tank.",
            "Measure shell length under the microscope, spire tip to the far lip.",
            "Note lobes, colour of the gut, and anything growing on the shells.",
            "Log every length.",
        ),
        round="midday",
    ),
    "test competence": HowTo(
        "Test whether the larvae are ready to settle",
        "An inducer given too early is wasted; a small trial risks no more than a few larvae.",
        (
            "Put half of the larvae in plain water, half in water with the inducer.",
            "Look after a few hours and again the next morning.",
            "Crawling without lobes is settled; count both dishes.",
            "Go on only if most settle with the inducer; if not, wait two days and test again.",
        ),
        round="evening",
        cautions=PEROXIDE_CAUTIONS,
    ),
    "settle": HowTo(
        "Move the larvae that are ready onto trays",
        "Larvae that are ready lose that state within days if they find no place to settle.",
        (
            "Drain through the sieve that holds the large larvae.",
            "Count, and share them out evenly over trays with a golden film of diatoms.",
            "Leave the flow off until the inducer has worked.",
            "Log the number on each tray, and what was left behind.",
        ),
        cautions=(WET_MAINS, LIFTING),
    ),
    "induce": HowTo(
        "Give the inducer on the trays",
        "The larvae change into snails when they sense the alga they settle on, or a stand-in.",
        (
            "Make the extract fresh from the red alga, or measure the peroxide, never both.",
            "Measure the water that stands on the trays; the dose goes with it.",
            "Stir it gently into the still water of each tray and note the hour.",
            "Next morning rinse fully, start the flow, and count the settled on a few trays.",
        ),
        round="midday",
        cautions=(*PEROXIDE_CAUTIONS, ALLERGY, LAW),
    ),
    "tray care": HowTo(
        "Look after the trays",
        "Post-larvae graze a thin film; bare floor starves them and thick film smothers them.",
        (
            "Check flow and drain screen of each tray.",
            "Pour settled benthic diatoms where the floor is grazed bare.",
            "Take out dead shells and worms; log the deaths.",
        ),
        cautions=(WET_MAINS,),
    ),
    "split trays": HowTo(
        "Spread the animals over more trays",
        "Crowded floor slows all of them.",
        (
            "Loosen the animals with a soft brush under water.",
            "Move the larger ones to the fresh trays, and log the numbers on each.",
        ),
    ),
    "move to nursery": HowTo(
        "Move to the nursery",
        "They outgrow the trays and begin to bury in sand.",
        (
            "Brush the animals off the trays under water and sieve out the sand.",
            "Count all of them, or weigh all and count three weighed samples.",
            "Spread them over the floor, and log number and tank.",
        ),
        cautions=(WET_MAINS, LIFTING),
    ),
    "feed pellets": HowTo(
        "Feed the juveniles",
        "A share of live weight a day, less with size; what is left over fouls the water.",
        (
            "Look what is left from yesterday: with leftovers give less, with none a little more.",
            "Scatter the pellets over the whole floor towards evening.",
            "Log the grams.",
        ),
        round="evening",
    ),
    "siphon": HowTo(
        "Siphon the nursery floor",
        "Waste eats the oxygen that the animals need at night.",
        (
            "Siphon waste and leftovers, not the animals; check the bucket before it is emptied.",
            "Take out dead shells; log the deaths.",
            "Check flow, temperature and overflow screen.",
        ),
        cautions=(WET_MAINS, LIFTING),
    ),
    "grade": HowTo(
        "Grade by size",
        "Large ones take the food of small ones; graded groups grow evenly.",
        (
            "Sort into large and small over a board with a mark at the size.",
            "Put them in floors of their own, and count each group.",
            "Log both groups with their numbers.",
        ),
        cautions=(WET_MAINS, LIFTING),
    ),
    "weigh and measure": HowTo(
        "Measure and weigh juveniles",
        "Lengths correct the date on which they are ready; weights correct the feed.",
        (
            "Take the animals from all parts of the trays or the floor, not the easy ones.",
            "Measure shell length, the small ones under the microscope; weigh all, drained.",
            "Log every length and the weight.",
        ),
        round="midday",
    ),
    "prepare release": HowTo(
        "Prepare the release",
        "Papers, health check and transport take longer than the animals do.",
        (
            "Ask the authority for the release permit and the place, and tell partners the day.",
            "Have a health check made by the person the law names; sick batches stay here.",
            "Mark or tag a known share, and measure the sample.",
            "Book boat, boxes, shade and seawater for the transport.",
        ),
        round="midday",
        cautions=(LAW,),
    ),
    "release": HowTo(
        "Release",
        "This is what the season is for; where and how they are set out decides how many live.",
        (
            "Count them into boxes, moist and shaded, and start early.",
            "Warm or cool the boxes slowly to the sea's temperature.",
            "Set them out by hand, spread apart, in the place the permit names.",
            "Log number, place, hour and the sample of lengths.",
        ),
        cautions=(LAW, DIVING, STORM, LIFTING),
    ),
}
"""Every kind of task, in the order in which an animal meets them."""

KINDS = tuple(HOW_TO)


def task_of(
    kind: str,
    day: date,
    batch: str,
    where: str,
    amount: str,
    minutes: float,
    *workings: Working,
) -> Task:
    """A task of that kind, with its words, steps and cautions.

    where, amount: as the crew reads them. minutes: time it takes [min].
    workings: behind the amount, the main one first.
    """
    words = HOW_TO[kind]
    return Task(
        day=day,
        round=words.round,
        kind=kind,
        what=words.what,
        where=where,
        amount=amount,
        why=words.why,
        batch=batch,
        minutes=minutes,
        working=workings[0] if workings else None,
        cautions=words.cautions,
        steps=words.steps,
        also=workings[1:],
    )
