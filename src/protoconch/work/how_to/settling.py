"""From larvae that are ready to post-larvae on trays."""

from protoconch.animals.settlement import PEROXIDE_CAUTIONS
from protoconch.words import say
from protoconch.work.how_to.card import OF_SPECIES, HowTo, Number
from protoconch.work.how_to.cautions import ALLERGY, LAW, LIFTING, SHARP, WELFARE, WET_MAINS

SETTLING: dict[str, HowTo] = {
    "test competence": HowTo(
        say("Test whether the larvae are ready to settle"),
        say("An inducer given too early is wasted; a small trial risks no more than a few "
            "larvae."),
        (
            say("Put half of the larvae in plain water, half in water with the inducer."),
            say("Cover both dishes, and keep them in the shade at the tank's temperature."),
            say("Look after a few hours and again the next morning."),
            say("Crawling without lobes is settled; count both dishes."),
            say("Go on only if most settle with the inducer; if not, wait two days and test "
                "again."),
        ),
        round="evening",
        cautions=(*PEROXIDE_CAUTIONS, WELFARE),
        numbers=(
            Number(say("Larvae in the test"), OF_SPECIES, "settlement.test_larvae"),
            Number(say("Share that must settle before the tank gets the inducer"), OF_SPECIES,
                   "settlement.go_share", percent=True),
            Number(say("Hydrogen peroxide in the water"), OF_SPECIES, "settlement.peroxide_um"),
            Number(say("Extract of red alga for each litre"), OF_SPECIES,
                   "settlement.extract_ml_l"),
        ),
        record=say("Write down how many were in each dish and how many of them settled."),
        writes=("competence checked",),
    ),
    "settle": HowTo(
        say("Move the larvae that are ready onto trays"),
        say("Larvae that are ready lose that state within days if they find no place to settle."),
        (
            say("Drain through the sieve that holds the large larvae."),
            say("Count what the sieve holds, by aliquots."),
            say("Share them out evenly over trays with a golden film of diatoms."),
            say("Leave the flow off until the inducer has worked."),
            say("Log the number on each tray, and what was left behind."),
        ),
        cautions=(WET_MAINS, LIFTING, WELFARE),
        numbers=(
            Number(say("Larvae on each square centimetre of tray"), OF_SPECIES,
                   "settlement.larvae_per_cm2"),
            Number(say("Days for which larvae stay ready"), OF_SPECIES,
                   "veliger.competence_window_days"),
            Number(say("Mesh that holds the large larvae"), OF_SPECIES,
                   "sieve.aperture_um.day_21"),
        ),
        record=say("Write down the tank they came from, and the number on each tray."),
        writes=("moved",),
    ),
    "induce": HowTo(
        say("Give the inducer on the trays"),
        say("The larvae change into snails when they sense the alga they settle on, or a "
            "stand-in."),
        (
            say("Make the extract fresh from the red alga, or measure the peroxide, never both."),
            say("Measure the water that stands on the trays; the dose goes with it."),
            say("Stir it gently into the still water of each tray and note the hour."),
            say("Leave the trays still and shaded for the time of exposure."),
            say("Next morning rinse fully and start the flow."),
            say("Count the settled on a few trays."),
        ),
        round="midday",
        cautions=(*PEROXIDE_CAUTIONS, ALLERGY, SHARP, LAW),
        numbers=(
            Number(say("Wet red alga for each litre of extract"), OF_SPECIES,
                   "settlement.extract_g_l"),
            Number(say("Extract for each litre on the trays"), OF_SPECIES,
                   "settlement.extract_ml_l"),
            Number(say("Hydrogen peroxide in the water"), OF_SPECIES, "settlement.peroxide_um"),
            Number(say("Hours in the inducer"), OF_SPECIES, "settlement.inducer_h"),
            Number(say("Share of ready larvae that settle"), OF_SPECIES,
                   "settlement.metamorphosis_share", percent=True),
        ),
        record=say("Write down what was given, how much, the hour, and how many settled."),
        writes=("settled",),
    ),
    "tray care": HowTo(
        say("Look after the trays"),
        say("Post-larvae graze a thin film; bare floor starves them and thick film smothers "
            "them."),
        (
            say("Check flow and drain screen of each tray."),
            say("Look at the film: golden is right, bare wants diatoms, brown and thick wants "
                "none."),
            say("Pour settled benthic diatoms where the floor is grazed bare."),
            say("Take out dead shells and worms; log the deaths."),
        ),
        cautions=(WET_MAINS, SHARP),
        numbers=(
            Number(say("Days until a grazed film is sown again"), "flocculation",
                   "film.renew_d"),
            Number(say("Diatoms on each square millimetre, useful"), "flocculation",
                   "film.useful_per_mm2"),
        ),
        record=say("Write down that it was done, and the dead shells tray by tray."),
        writes=("done", "lost"),
    ),
    "split trays": HowTo(
        say("Spread the animals over more trays"),
        say("Crowded floor slows all of them."),
        (
            say("Get the fresh trays ready: film golden, flow on, screen in place."),
            say("Loosen the animals with a soft brush under water."),
            say("Move the larger ones to the fresh trays, always under water."),
            say("Count them as they move, and log the numbers on each tray."),
        ),
        cautions=(WET_MAINS, LIFTING, WELFARE),
        numbers=(
            Number(say("Share of the floor that animals of 5 mm may cover"), OF_SPECIES,
                   "cover.share_5_mm", percent=True),
        ),
        record=say("Write down from which tray to which, and how many."),
        writes=("moved",),
    ),
}  # fmt: skip
