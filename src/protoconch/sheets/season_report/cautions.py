"""Where the work can hurt someone, and what comes before any plan."""

from protoconch.animals.settlement import PEROXIDE_CAUTIONS
from protoconch.sheets.look import Html, paragraph, section, tag
from protoconch.words import joined, say
from protoconch.work.how_to import ALLERGY, DIVING, LAW, LIFTING, STORM, WET_MAINS

CAUTIONS = (
    (say("Permit and law"), LAW),
    (say("Boats and diving"), DIVING),
    (say("Storms"), STORM),
    (say("Electricity"), WET_MAINS),
    (say("Lifting"), LIFTING),
    (say("Peroxide"), joined(PEROXIDE_CAUTIONS)),
    (say("Seaweed"), ALLERGY),
)


def cautions_card() -> Html:
    """The usual cautions; local codes and licensed people come first."""
    items = [tag("li", tag("b", name, ". "), words) for name, words in CAUTIONS]
    return section(
        say("Take care"),
        paragraph(
            say(
                "This report plans work. It stands in for no permit, no local code and no "
                "licensed person; where they say otherwise, they are right."
            )
        ),
        tag("ul", *items),
        id_="care",
    )
