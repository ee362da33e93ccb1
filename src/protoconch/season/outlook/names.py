"""How people call what an outlook does not know."""

from protoconch.season.outlook.unknowns import BATCH_EFFECTS, BIAS, CLUMPING, SEEN, STAGE_EFFECTS
from protoconch.words import phrase, say

NAMES = {
    "incubation.days": phrase("days from collecting to hatch"),
    "incubation.q10": phrase("how much faster all goes in warmer water (Q10)"),
    "incubation.hatch_share": phrase("share of the eggs that hatch"),
    "competence_days": phrase("days from hatch until the larvae are competent"),
    "veliger.survival": phrase("survival of the larvae to competence"),
    "settlement.metamorphosis_share": phrase("share of the competent larvae that settle"),
    "post_larva.survival": phrase("survival on the trays"),
    "small_juvenile.survival": phrase("survival of the small juveniles"),
    "juvenile.survival": phrase("survival of the large juveniles"),
    "variation.growth_site": phrase("growth in this hatchery, against the book"),
    "growth.size_cv": phrase("spread of shell lengths about their mean"),
    "variation.batch": phrase("how much batches differ in mortality"),
    "variation.tank": phrase("how much tanks differ in mortality"),
    CLUMPING: phrase("evenness of the larvae in an aliquot"),
    SEEN: phrase("share of the dead that are found"),
    BIAS: phrase("true volume of an aliquot, against its mark"),
}
OF_BATCH = dict(zip(BATCH_EFFECTS, (
    phrase("mortality of batch {batch}"), phrase("growth of batch {batch}"),
    phrase("days to competence of batch {batch}"), phrase("settlement of batch {batch}"),
), strict=True))  # fmt: skip
OF_LOT = dict(zip(STAGE_EFFECTS, (
    phrase("mortality of the larvae in {tank}, batch {batch}"),
    phrase("mortality on the trays of the larvae from {tank}, batch {batch}"),
    phrase("mortality of the small juveniles from {tank}, batch {batch}"),
    phrase("mortality of the large juveniles from {tank}, batch {batch}"),
), strict=True))  # fmt: skip
NUMBER = phrase("number of larvae really put into {tank}, batch {batch}")


def trade_name(coordinate: str) -> str:
    """How people call a coordinate of a fit: of the site, of a batch or of a lot."""
    if coordinate in NAMES:
        return say(NAMES[coordinate])
    batch, _, rest = coordinate.partition(" ")
    if rest in OF_BATCH:
        return say(OF_BATCH[rest], batch=batch)
    for effect, name in OF_LOT.items():
        if rest.endswith(f" {effect}") and not rest.endswith(f" small {effect}"):
            return say(name, batch=batch, tank=rest.removesuffix(f" {effect}"))
    tank, number, _ = rest.rpartition(" number ")
    return say(NUMBER, batch=batch, tank=tank) if number else coordinate
