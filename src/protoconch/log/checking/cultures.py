"""Entries about algae cultures: volumes, densities, what is in which vessel."""

from protoconch.errors import BadInput
from protoconch.log.checking.animals import full
from protoconch.log.checking.usual import peak_per_ml
from protoconch.log.checking.verdict import Case
from protoconch.log.numbers import bound, cell_density
from protoconch.log.payloads import algae as told


def inoculated(case: Case, said: told.Inoculated) -> None:
    """A volume that fits, in a clean and free vessel, from a culture that has enough."""
    full(case, said.litres)
    there = case.state.cultures.get(case.where)
    if there is not None and said.source != case.where:
        case.ask(f"{case.where} still holds {there.species}; was that culture ended?")
    if case.where in case.state.dirty:
        case.ask(f"{case.where} was not cleaned since it was emptied.")
    if said.inoculum_l is None:
        return
    if said.inoculum_l > said.litres:
        case.refuse(
            f"{said.inoculum_l:g} L of inoculum are more than the whole culture, {said.litres:g} L."
        )
    source = case.state.cultures.get(said.source)
    if said.source and source is None:
        case.ask(f"{said.source} holds no culture by the log.")
    elif source is not None and said.inoculum_l > source.litres * bound("ledger.slack"):
        case.ask(f"{said.source} has {source.litres:.3g} L by the log, not {said.inoculum_l:g} L.")
    if source is not None and source.species != said.species:
        case.ask(f"{said.source} holds {source.species}, not {said.species}.")
    if source is not None and source.found:
        case.ask(f"{source.found.capitalize()} were found in {said.source}.")


def harvested(case: Case, said: told.Harvested) -> None:
    """No more than the vessel holds, from a culture that is there."""
    full(case, said.litres)
    full(case, said.refilled_l)
    there = case.state.cultures.get(case.where)
    if there is None:
        case.ask(f"{case.where} holds no culture by the log; was its start logged?")
    elif said.litres > there.litres * bound("ledger.slack"):
        case.ask(f"{case.where} has {there.litres:.3g} L by the log, not {said.litres:g} L.")


def culture_counted(case: Case, said: told.CultureCounted) -> None:
    """A density that the species can reach."""
    try:
        density, _ = cell_density(said)
    except BadInput as error:
        case.refuse(str(error))
        return
    there, vessel = case.state.cultures.get(case.where), case.vessels.get(case.where)
    if there is None:
        case.ask(f"{case.where} holds no culture by the log; was its start logged?")
        return
    peak = peak_per_ml(there.species, vessel.group if vessel is not None else "")
    if peak is not None and density > peak[1] * bound("unlikely.peak_times"):
        case.ask(
            f"{density:,.0f} cells/mL; {there.species} reaches {peak[1]:,.0f} at harvest. Is the"
            " dilution right?"
        )


def culture_ended(case: Case, _said: told.CultureEnded) -> None:
    """A culture that is there."""
    if case.where not in case.state.cultures and case.where not in case.state.dirty:
        case.ask(f"{case.where} holds no culture by the log.")
