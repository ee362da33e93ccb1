"""What things cost at a hatchery, where its file says so."""

from protoconch.hatchery.description import Prices
from protoconch.hatchery.section import Section


def prices(section: Section) -> Prices:
    """The prices that the file states: of an hour of work always, of the rest where given."""
    found = Prices(
        currency=section.words("currency"),
        crew_hour=section.measure("crew_hour"),
        algae_dry_g=section.measure("algae_dry_g") if section.has("algae_dry_g") else None,
        egg_mass=section.measure("egg_mass") if section.has("egg_mass") else None,
    )
    section.close()
    return found
