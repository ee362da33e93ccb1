"""The algae room on a page: supply, vessels, the next days' moves, what to do about shortages."""

from collections.abc import Sequence
from datetime import UTC, date, datetime, time

from protoconch.algae.chain.answer import AlgaeAnswer
from protoconch.algae.chain.culture_curve import culture_curve
from protoconch.algae.chain.plan import Life
from protoconch.algae.demand import PG_PER_G
from protoconch.algae.medium import shopping_g
from protoconch.algae.species import alga
from protoconch.algae.sterilising import CHLORINE_CAUTIONS, HEAT_CAUTIONS
from protoconch.pictures.algae_curve import algae_curve
from protoconch.pictures.algae_supply import algae_supply
from protoconch.pictures.algae_vessels import algae_vessels
from protoconch.pictures.words import amount, day_short, day_written
from protoconch.sheets.look import Html, bullets, figure, page, paragraph, section, table, tag

MOVES_DAYS = 14
MOST_SHORT = 12


def algae_section(answer: AlgaeAnswer, start: date | None = None) -> str:
    """The algae room as a fragment of a page: cards, one after another.

    start: first of the days whose moves are listed, the first of the schedule where None.
    Returns: HTML; it needs the style of `sheets.look.page`, no script and no network.
    """
    cards = [
        section(
            "Food from the algae room",
            paragraph(algae_words(answer)),
            *(paragraph(words) for words in [tray_words(answer)] if words),
            tag("div", figure(algae_supply(answer)), figure(algae_vessels(answer)),
                class_="small-figures"),
            id_="algae-food",
        ),
        section("How the cultures are expected to grow", *_curves(answer), id_="algae-growth"),
        section("What the algae room does", _moves(answer, start or answer.first),
                id_="algae-moves"),
        section("Who goes short, and what to do", *_short(answer), id_="algae-short"),
        section("Spare cultures and what binds", *_spares(answer), id_="algae-spare"),
        section("Chemicals for the media", _shopping(answer), id_="algae-shopping"),
        section("Take care in the algae room", bullets((*CHLORINE_CAUTIONS, *HEAT_CAUTIONS,
                "Lamps and pumps near seawater: mains kill; a licensed electrician first.")),
                id_="algae-care"),
    ]  # fmt: skip
    return "".join(cards)


def algae_page(answer: AlgaeAnswer, name: str, printed: date, *, invented: bool) -> str:
    """The algae room as a page complete in itself.

    name: of the hatchery. printed: the day on the page. invented: it is no real place.
    """
    notice = "This hatchery is invented; the place does not exist."
    return page(
        f"{algae_title(answer)} - {name}",
        tag("header", paragraph(f"{name}, {day_written(printed)}"),
            tag("h1", algae_title(answer))),
        *([paragraph(notice, class_="notice")] if invented else []),
        Html(algae_section(answer)),
    )  # fmt: skip


def algae_title(answer: AlgaeAnswer) -> str:
    """The answer in a sentence."""
    met = answer.sure.sureness.met
    return f"The algae room feeds {met:.0%} of all days, losses counted"


def algae_words(answer: AlgaeAnswer) -> str:
    """What the schedule is, how near the best and how sure."""
    plan, odds = answer.plan, answer.sure.sureness
    aim = "which reaches" if answer.sure.enough else "which does not reach"
    spare = ", ".join(f"{n} {kind}" for kind, n in answer.sure.spare.items() if n) or "none"
    return (
        f"From {day_written(answer.first)} on, {len(plan.lives)} cultures are started, at most"
        f" {plan.gap:.1%} more work than the least that is possible. In {odds.runs} simulated"
        f" seasons with cultures lost by chance, {odds.met:.0%} of all days are fed, {aim} the"
        f" {answer.days_fed:.0%} aimed at. Spare cultures for each species: {spare}."
    )


def _curves(answer: AlgaeAnswer) -> list[Html]:
    """The expected curve of the first large culture of each species; counts replace it."""
    drawn = []
    for line in answer.plan.problem.room.lines:
        place, kind = len(line.steps) - 1, line.steps[-1].kind
        started = [x.started for x in answer.plan.lives
                   if x.species == line.species and x.step == place and x.started >= 0]  # fmt: skip
        if started:
            begun = datetime.combine(answer.day(min(started)), time(8), UTC)
            grown = culture_curve(answer.plan.problem.room, line.species, kind, begun, [],
                                  now=begun)  # fmt: skip
            name = f"algae-curve-{line.species}"
            words = f"{alga(line.species).name}, the first {kind}"
            drawn.append(tag("div", tag("h3", words), figure(algae_curve(grown, name))))
    return [tag("div", *drawn, class_="small-figures")]


def tray_words(answer: AlgaeAnswer) -> str:
    """What is grown for the trays, from when to when; empty where nothing is."""
    food = [entry for entry in answer.demand.tanks if entry.trays]
    if not food:
        return ""
    days = sorted({entry.day for entry in food})
    said = []
    for key in answer.demand.species:
        total: dict[int, float] = {}
        for entry in food:
            total[entry.day] = total.get(entry.day, 0.0) + entry.grams.get(key, 0.0)
        most = max(total.values())
        if most > 0:
            cells = most * PG_PER_G / alga(key).number("ration_pg") / 1e9
            use = "sown as film" if alga(key).kind == "film diatom" else "settled and poured on"
            said.append(f"{alga(key).name}, {use}, at most {amount(cells)} billion cells"
                        f" ({amount(most)} g) on a day")  # fmt: skip
    return (
        f"The trays are fed too, from {day_written(answer.day(days[0]))} to"
        f" {day_written(answer.day(days[-1]))}: {'; '.join(said)}."
    )


def _vessel(life: Life) -> str:
    return f"{life.vessel[0]} {life.vessel[1]}"


def moves_on(answer: AlgaeAnswer, number: int) -> Sequence[tuple[str, str, str]]:
    """Moves of a day: what, which vessel, from where or how much."""
    rows: list[tuple[str, str, str]] = []
    steps = {line.species: line.steps for line in answer.plan.problem.room.lines}
    for life in answer.plan.lives:
        name = alga(life.species).name
        if life.started == number:
            donors = ", ".join(f"{kind} {n}" for kind, n in life.donors) or "tube"
            rows.append((f"start {name}", _vessel(life), f"from {donors}"))
        cells = dict(life.drawn).get(number, 0.0)
        if cells:
            share = cells / steps[life.species][life.step].cells
            rows.append(
                (
                    f"harvest {name}",
                    _vessel(life),
                    f"{amount(cells / 1e9)} billion cells ({share:.0%} of what it gives)",
                )
            )
        if life.ended == number and life.ending != "poured":
            rows.append((f"end {name}", _vessel(life), life.ending))
    return rows


def _moves(answer: AlgaeAnswer, start: date) -> Html:
    first = max(0, (start - answer.first).days)
    rows = []
    for number in range(first, min(first + MOVES_DAYS, answer.demand.days)):
        moves = [tag("li", f"{what}, {vessel}: {more}")
                 for what, vessel, more in moves_on(answer, number)]  # fmt: skip
        if moves:
            rows.append((day_short(answer.day(number)), tag("ul", *moves)))
    if not rows:
        return paragraph("Nothing is to be moved in these days.")
    caption = f"Moves of {MOVES_DAYS} days from {day_written(answer.day(first))}"
    return table(caption, ("Day", "Moves"), rows)


def _short(answer: AlgaeAnswer) -> list[Html]:
    if not answer.short:
        return [paragraph("If nothing is lost, no tank goes short.")]
    rows = [(day_short(answer.day(s.day)), s.tank, s.batch, s.remedy)
            for s in answer.short[:MOST_SHORT]]  # fmt: skip
    more = len(answer.short) - len(rows)
    parts = [table("Tanks that go short", ("Day", "Tank", "Batch", "What to do"), rows)]
    return parts + ([paragraph(f"And {more} more like these.")] if more else [])


def _spares(answer: AlgaeAnswer) -> list[Html]:
    tried = [(", ".join(f"{n} {kind}" for kind, n in spare.items() if n) or "none", f"{met:.0%}")
             for spare, met in answer.sure.tried]  # fmt: skip
    binding = [(b.kind, str(b.full_days), f"{b.one_more_min:,.0f} min") for b in answer.bindings]
    return [
        table("Spare cultures of each species, and days fed with losses by chance",
              ("Spare", "Days fed"), tried, numeric=1),
        table("Vessels, and what one more of them is worth at most",
              ("Kind", "Days all in use", "Work saved"), binding, numeric=2),
    ]  # fmt: skip


def _shopping(answer: AlgaeAnswer) -> Html:
    litres: dict[str, float] = {}
    steps = {line.species: line.steps for line in answer.plan.problem.room.lines}
    for life in answer.plan.lives:
        species, step = alga(life.species), steps[life.species][life.step]
        name = "f/2-double-silicate" if species.silicate_doses > 1 else species.medium
        fill = sum(cells for _, cells in life.drawn) / step.cells * step.taken_l
        litres[name] = litres.get(name, 0.0) + (step.medium_l if life.started >= 0 else 0) + fill
    litres = {name: volume for name, volume in litres.items() if volume > 0}
    rows = [(chemical, f"{amount(grams)} g" if grams >= 0.01 else f"{amount(grams * 1000)} mg")
            for chemical, grams in shopping_g(litres).items()]  # fmt: skip
    said = " and ".join(f"{amount(volume)} L of {name}" for name, volume in litres.items())
    return table(f"For {said or 'no medium'}", ("Chemical", "Amount"), rows, numeric=1)
