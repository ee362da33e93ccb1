"""Where the work can hurt someone, and what comes before any plan."""

from protoconch.animals.settlement import PEROXIDE_CAUTIONS
from protoconch.sheets.look import Html, paragraph, section, tag
from protoconch.work.how_to import ALLERGY, DIVING, LAW, LIFTING, STORM, WET_MAINS

CAUTIONS = (
    ("Permit and law", LAW),
    ("Boats and diving", DIVING),
    ("Storms", STORM),
    ("Electricity", WET_MAINS),
    ("Lifting", LIFTING),
    ("Peroxide", " ".join(PEROXIDE_CAUTIONS)),
    ("Seaweed", ALLERGY),
)


def cautions_card() -> Html:
    """The usual cautions; local codes and licensed people come first."""
    items = [tag("li", tag("b", f"{name}. "), words) for name, words in CAUTIONS]
    return section(
        "Take care",
        paragraph(
            "This report plans work. It stands in for no permit, no local code and no licensed "
            "person; where they say otherwise, they are right."
        ),
        tag("ul", *items),
        id_="care",
    )
