"""Entries about algae cultures: volumes, densities, what is in which vessel."""

from protoconch.errors import BadInput
from protoconch.log.checking.animals import full
from protoconch.log.checking.usual import peak_per_ml
from protoconch.log.checking.verdict import Case
from protoconch.log.numbers import bound, cell_density
from protoconch.log.payloads import algae as told
from protoconch.units import text
from protoconch.words import begun, say


def inoculated(case: Case, said: told.Inoculated) -> None:
    """A volume that fits, in a clean and free vessel, from a culture that has enough."""
    full(case, said.litres)
    there = case.state.cultures.get(case.where)
    if there is not None and said.source != case.where:
        case.ask(
            say(
                "{where} still holds {species}; was that culture ended?",
                where=case.where,
                species=there.species,
            )
        )
    if case.where in case.state.dirty:
        case.ask(say("{where} was not cleaned since it was emptied.", where=case.where))
    if said.inoculum_l is None:
        return
    if said.inoculum_l > said.litres:
        case.refuse(
            say(
                "{inoculum_l} of inoculum are more than the whole culture, {litres}.",
                inoculum_l=text(said.inoculum_l, "L", 6),
                litres=text(said.litres, "L", 6),
            )
        )
    source = case.state.cultures.get(said.source)
    if said.source and source is None:
        case.ask(say("{source} holds no culture by the log.", source=said.source))
    elif source is not None and said.inoculum_l > source.litres * bound("ledger.slack"):
        case.ask(
            say(
                "{source} has {litres} by the log, not {inoculum_l}.",
                source=said.source,
                litres=text(source.litres, "L", 3),
                inoculum_l=text(said.inoculum_l, "L", 6),
            )
        )
    if source is not None and source.species != said.species:
        case.ask(
            say(
                "{source} holds {species}, not {asked}.",
                source=said.source,
                species=source.species,
                asked=said.species,
            )
        )
    if source is not None and source.found:
        case.ask(
            say(
                "{found} were found in {source}.",
                found=begun(say(source.found)),
                source=said.source,
            )
        )


def harvested(case: Case, said: told.Harvested) -> None:
    """No more than the vessel holds, from a culture that is there."""
    full(case, said.litres)
    full(case, said.refilled_l)
    there = case.state.cultures.get(case.where)
    if there is None:
        case.ask(
            say("{where} holds no culture by the log; was its start logged?", where=case.where)
        )
    elif said.litres > there.litres * bound("ledger.slack"):
        case.ask(
            say(
                "{where} has {litres} by the log, not {asked}.",
                where=case.where,
                litres=text(there.litres, "L", 3),
                asked=text(said.litres, "L", 6),
            )
        )


def culture_counted(case: Case, said: told.CultureCounted) -> None:
    """A density that the species can reach."""
    try:
        density, _ = cell_density(said)
    except BadInput as error:
        case.refuse(str(error))
        return
    there, vessel = case.state.cultures.get(case.where), case.vessels.get(case.where)
    if there is None:
        case.ask(
            say("{where} holds no culture by the log; was its start logged?", where=case.where)
        )
        return
    peak = peak_per_ml(there.species, vessel.group if vessel is not None else "")
    if peak is not None and density > peak[1] * bound("unlikely.peak_times"):
        case.ask(
            say(
                "{density:,.0f} cells/mL; {species} reaches {peak:,.0f} at harvest. Is the "
                "dilution right?",
                density=density,
                species=there.species,
                peak=peak[1],
            )
        )


def culture_ended(case: Case, _said: told.CultureEnded) -> None:
    """A culture that is there."""
    if case.where not in case.state.cultures and case.where not in case.state.dirty:
        case.ask(say("{where} holds no culture by the log.", where=case.where))
