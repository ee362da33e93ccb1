"""What goes wrong once in the invented season: a crash, a foul culture, two slips of the pen."""

from datetime import date

from protoconch.algae.species import alga, known_algae
from protoconch.operations.demo.crew import Crew


def mishaps_of_the_day(crew: Crew, first: date, until: date, day: date) -> None:
    """The mishaps that fall on a day. first: the first trip; until: today, not lived yet."""
    crew.writing.turn_to(day, "evening", "crew B")
    since, left = (day - first).days, (until - day).days
    if since == 24:
        _crash(crew)
    if since == 33:
        _foul(crew)
    if since in (16, 41):
        _slip_of_a_count(crew)
    if since == 28:
        _wrong_vessel(crew)
    if left == 1:
        _at_odds(crew)


def _feeding(crew: Crew, sort: str) -> list[str]:
    """Cultures of a sort, the oldest first."""
    known = [c for c in crew.writing.state.cultures.values() if c.species in known_algae()]
    mine = [c for c in known if alga(c.species).kind == sort]
    return [c.vessel for c in sorted(mine, key=lambda c: c.started)]


def _crash(crew: Crew) -> None:
    vessels = _feeding(crew, "diatom")
    if vessels:
        told = {"reason": "crashed", "note": "Pale and clumped this evening, smells foul."}
        crew.writing.write("culture ended", vessels[-1], told)
        crew.writing.write("cleaned", vessels[-1], {"with_what": "chlorine"})


def _foul(crew: Crew) -> None:
    vessels = _feeding(crew, "flagellate")
    if vessels:
        where = vessels[-1]
        crew.writing.write("culture counted", where, {"cells_per_ml": 900_000.0,
                                                      "found": "ciliates"})  # fmt: skip
        crew.writing.write("culture ended", where, {"reason": "contaminated"})
        crew.writing.write("cleaned", where, {"with_what": "chlorine"})


def _slip_of_a_count(crew: Crew) -> None:
    """A count with two figures turned, put right by the manager the same evening."""
    state = crew.writing.state
    tanks = sorted(h.vessel for h in state.holdings.values() if h.stage == "veliger"
                   and crew.writing.known[h.vessel].kind == "larval tank")  # fmt: skip
    if not tanks:
        return
    litres = state.holdings[tanks[0]].litres or 400.0
    right = crew.truth.aliquots(tanks[0], 500.0, litres, 5)
    wrong = [2 * right[0] + 90, *right[1:]]
    told = {"aliquot_ml": 500.0, "litres": litres}
    slip = crew.writing.write("counted", tanks[0], {"aliquots": wrong, **told})
    crew.writing.write("correction", "", {
        "of": slip, "payload": {"aliquots": right, **told},
        "why": "two figures turned in the first aliquot"}, who="manager")  # fmt: skip


def _wrong_vessel(crew: Crew) -> None:
    """A reading written to the wrong tank, put right."""
    tanks = sorted(name for name in crew.writing.state.holdings
                   if crew.writing.known[name].kind == "larval tank")  # fmt: skip
    if len(tanks) < 2:
        return
    told = {"quantity": "temperature", "value": 28.4}
    slip = crew.writing.write("read", tanks[0], told)
    crew.writing.write("correction", "", {"of": slip, "where": tanks[1],
                                          "why": "wrong tank"}, who="crew C")  # fmt: skip


def _at_odds(crew: Crew) -> None:
    """The one doubt that is there on purpose: a tank fed that is empty."""
    empty = sorted(name for name in crew.writing.state.emptied
                   if crew.writing.known[name].kind == "larval tank")  # fmt: skip
    if empty:
        crew.writing.write("fed", empty[0], {"foods": [{"food": "t-iso", "litres": 0.5}]})
