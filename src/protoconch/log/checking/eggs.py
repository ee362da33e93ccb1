"""Entries about egg masses: labels, the permit, days to hatching."""

from protoconch.log.checking.verdict import Case
from protoconch.log.numbers import bound
from protoconch.log.payloads import animals as told
from protoconch.sources.reading import load_table
from protoconch.units import text
from protoconch.words import say


def collected(case: Case, said: told.EggMassCollected) -> None:
    """A label of its own, within the permit."""
    permit, when = case.hatchery.permit, case.entry.happened
    if said.mass in case.state.masses:
        sentence = say(
            "There is already an egg mass {mass}; give this one another label.", mass=said.mass
        )
        case.refuse(sentence, by_log=True)
    if permit.months and when.month not in permit.months:
        case.ask(
            say(
                "The permit {number} does not cover the month of {when:%B}.",
                number=permit.number,
                when=when,
            )
        )
    this_year = [m for m in case.state.masses.values() if m.collected.year == when.year]
    if len(this_year) >= permit.egg_masses:
        case.ask(
            say(
                "The permit {number} allows {egg_masses} egg masses in a season; {this_year} are "
                "logged already.",
                number=permit.number,
                egg_masses=permit.egg_masses,
                this_year=len(this_year),
            )
        )
    _water(case, said.temperature_c)


def _water(case: Case, temperature_c: float | None) -> None:
    if temperature_c is None:
        return
    usual, reach = month_c(case), bound("unlikely.from_month_c")
    if abs(temperature_c - usual) > reach:
        case.ask(
            say(
                "Water of {temperature_c}; the site has {usual} in {happened:%B} on the mean.",
                temperature_c=text(temperature_c, "°C", 6),
                usual=text(usual, "°C", 6),
                happened=case.entry.happened,
            )
        )


def month_c(case: Case) -> float:
    """Mean water temperature of the month of the entry [°C]."""
    return case.hatchery.temperature_c[case.entry.happened.month - 1]


def loaded(case: Case, said: told.IncubatorLoaded) -> None:
    """Masses that the log knows, into a free place."""
    holding = case.holding
    if holding is not None and holding.batch != said.batch:
        case.ask(say("{where} still holds batch {batch}.", where=case.where, batch=holding.batch))
    for mass in said.masses:
        found = case.state.masses.get(mass)
        if found is None:
            case.ask(say("The log knows no egg mass {mass}; is its label right?", mass=mass))
        elif found.batch not in ("", said.batch):
            case.ask(
                say(
                    "Egg mass {mass} already went into batch {batch}.", mass=mass, batch=found.batch
                )
            )


def hatched(case: Case, said: told.Hatched) -> None:
    """A batch that is there, after as many days as eggs take, no more veligers than eggs."""
    holding, batch = case.holding, case.state.batches.get(said.batch)
    if holding is not None and holding.batch != said.batch:
        case.ask(
            say(
                "{where} holds batch {batch}, not {asked}.",
                where=case.where,
                batch=holding.batch,
                asked=said.batch,
            )
        )
    if batch is None:
        case.ask(say("The log knows no batch {batch} yet; is its name right?", batch=said.batch))
        return
    if batch.loaded is not None:
        days = (case.entry.happened - batch.loaded).total_seconds() / 86400
        usual = load_table("log_ranges")["unlikely.hatch_days"]
        assert usual.low is not None  # noqa: S101 - the table has a range
        assert usual.high is not None  # noqa: S101
        if not usual.low <= days <= usual.high:
            case.ask(
                say(
                    "Batch {batch} was loaded {days:.1f} days before; {low:g} to {high:g} days are "
                    "usual.",
                    batch=said.batch,
                    days=days,
                    low=usual.low,
                    high=usual.high,
                )
            )
    if said.veligers and batch.eggs and said.veligers > batch.eggs * bound("ledger.slack"):
        case.ask(
            say(
                "{veligers:,} veligers from {eggs:,} eggs.", veligers=said.veligers, eggs=batch.eggs
            )
        )
