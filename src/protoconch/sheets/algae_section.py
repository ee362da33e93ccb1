"""The algae room on a page: supply, vessels, the next days' moves, what to do about shortages."""

from collections.abc import Mapping, Sequence
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
from protoconch.pictures.words import amount, counted, day_short, day_written, measured
from protoconch.sheets.look import Html, bullets, figure, page, paragraph, section, table, tag
from protoconch.words import joined, listed, say

MOVES_DAYS = 14
MOST_SHORT = 12


def algae_section(answer: AlgaeAnswer, start: date | None = None) -> str:
    """The algae room as a fragment of a page: cards, one after another.

    start: first of the days whose moves are listed, the first of the schedule where None.
    Returns: HTML; it needs the style of `sheets.look.page`, no script and no network.
    """
    cards = [
        section(
            say("Food from the algae room"),
            paragraph(algae_words(answer)),
            *(paragraph(words) for words in [tray_words(answer)] if words),
            tag(
                "div",
                figure(algae_supply(answer)),
                figure(algae_vessels(answer)),
                class_="small-figures",
            ),
            id_="algae-food",
        ),
        section(say("How the cultures are expected to grow"), *_curves(answer), id_="algae-growth"),
        section(
            say("What the algae room does"),
            _moves(answer, start or answer.first),
            id_="algae-moves",
        ),
        section(say("Who goes short, and what to do"), *_short(answer), id_="algae-short"),
        section(say("Spare cultures and what binds"), *_spares(answer), id_="algae-spare"),
        section(say("Chemicals for the media"), _shopping(answer), id_="algae-shopping"),
        section(
            say("Take care in the algae room"),
            bullets(
                (
                    *CHLORINE_CAUTIONS,
                    *HEAT_CAUTIONS,
                    say("Lamps and pumps near seawater: mains kill; a licensed electrician first."),
                )
            ),
            id_="algae-care",
        ),
    ]
    return "".join(cards)


def algae_page(answer: AlgaeAnswer, name: str, printed: date, *, invented: bool) -> str:
    """The algae room as a page complete in itself.

    name: of the hatchery. printed: the day on the page. invented: it is no real place.
    """
    notice = say("This hatchery is invented; the place does not exist.")
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
    return say("The algae room feeds {met:.0%} of all days, losses counted", met=met)


def algae_words(answer: AlgaeAnswer) -> str:
    """What the schedule is, how near the best and how sure."""
    plan, odds = answer.plan, answer.sure.sureness
    return say(
        "From {day} on, {cultures} cultures are started, at most {gap:.1%} more work than the "
        "least that is possible. In {runs} simulated seasons with cultures lost by chance, "
        "{met:.0%} of all days are fed, which reaches the {aim:.0%} aimed at. "
        "Spare cultures for each species: {spare}."
        if answer.sure.enough
        else "From {day} on, {cultures} cultures are started, at most {gap:.1%} more work than the "
        "least that is possible. In {runs} simulated seasons with cultures lost by chance, "
        "{met:.0%} of all days are fed, which does not reach the {aim:.0%} aimed at. Spare "
        "cultures for each species: {spare}.",
        day=day_written(answer.first),
        cultures=len(plan.lives),
        gap=plan.gap,
        runs=odds.runs,
        met=odds.met,
        aim=answer.days_fed,
        spare=_spare(answer.sure.spare),
    )


def _spare(spare: Mapping[str, int]) -> str:
    kinds = [say("{number} {kind}", number=n, kind=say(kind)) for kind, n in spare.items() if n]
    return joined(kinds, ", ") or say("none")


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
            words = say("{name}, the first {kind}", name=alga(line.species).name, kind=say(kind))
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
            use = (
                say("sown as film")
                if alga(key).kind == "film diatom"
                else say("settled and poured on")
            )
            said.append(
                say(
                    "{name}, {use}, at most {cells} billion cells ({mass}) on a day",
                    name=alga(key).name,
                    use=use,
                    cells=amount(cells),
                    mass=measured(most, "g"),
                )
            )
    return say(
        "The trays are fed too, from {first} to {last}: {foods}.",
        first=day_written(answer.day(days[0])),
        last=day_written(answer.day(days[-1])),
        foods=joined(said, "; "),
    )


def _vessel(life: Life) -> str:
    return say("{kind} {number}", kind=say(life.vessel[0]), number=life.vessel[1])


def moves_on(answer: AlgaeAnswer, number: int) -> Sequence[tuple[str, str, str]]:
    """Moves of a day: what, which vessel, from where or how much."""
    rows: list[tuple[str, str, str]] = []
    steps = {line.species: line.steps for line in answer.plan.problem.room.lines}
    for life in answer.plan.lives:
        name = alga(life.species).name
        if life.started == number:
            donors = joined(
                [say("{kind} {number}", kind=say(kind), number=n) for kind, n in life.donors], ", "
            ) or say("tube")
            rows.append(
                (say("start {name}", name=name), _vessel(life), say("from {donors}", donors=donors))
            )
        cells = dict(life.drawn).get(number, 0.0)
        if cells:
            share = cells / steps[life.species][life.step].cells
            rows.append(
                (
                    say("harvest {name}", name=name),
                    _vessel(life),
                    say(
                        "{cells} billion cells ({share:.0%} of what it gives)",
                        cells=amount(cells / 1e9),
                        share=share,
                    ),
                )
            )
        if life.ended == number and life.ending != "poured":
            rows.append((say("end {name}", name=name), _vessel(life), say(life.ending)))
    return rows


def _moves(answer: AlgaeAnswer, start: date) -> Html:
    first = max(0, (start - answer.first).days)
    rows = []
    for number in range(first, min(first + MOVES_DAYS, answer.demand.days)):
        moves = [tag("li", say("{what}, {vessel}: {more}", what=what, vessel=vessel, more=more))
                 for what, vessel, more in moves_on(answer, number)]  # fmt: skip
        if moves:
            rows.append((day_short(answer.day(number)), tag("ul", *moves)))
    if not rows:
        return paragraph(say("Nothing is to be moved in these days."))
    caption = say(
        "Moves of {days} days from {first}",
        days=MOVES_DAYS,
        first=day_written(answer.day(first)),
    )
    return table(caption, (say("Day"), say("Moves")), rows)


def _short(answer: AlgaeAnswer) -> list[Html]:
    if not answer.short:
        return [paragraph(say("If nothing is lost, no tank goes short."))]
    rows = [(day_short(answer.day(s.day)), s.tank, s.batch, s.remedy)
            for s in answer.short[:MOST_SHORT]]  # fmt: skip
    more = len(answer.short) - len(rows)
    parts = [
        table(
            say("Tanks that go short"),
            (say("Day"), say("Tank"), say("Batch"), say("What to do")),
            rows,
        )
    ]
    return parts + ([paragraph(say("And {more} more like these.", more=more))] if more else [])


def _spares(answer: AlgaeAnswer) -> list[Html]:
    tried = [(_spare(spare), f"{met:.0%}")
             for spare, met in answer.sure.tried]  # fmt: skip
    binding = [
        (say(b.kind), str(b.full_days), f"{counted(b.one_more_min)} min") for b in answer.bindings
    ]
    return [
        table(
            say("Spare cultures of each species, and days fed with losses by chance"),
            (say("Spare"), say("Days fed")),
            tried,
            numeric=1,
        ),
        table(
            say("Vessels, and what one more of them is worth at most"),
            (say("Kind"), say("Days all in use"), say("Work saved")),
            binding,
            numeric=2,
        ),
    ]


def _shopping(answer: AlgaeAnswer) -> Html:
    litres: dict[str, float] = {}
    steps = {line.species: line.steps for line in answer.plan.problem.room.lines}
    for life in answer.plan.lives:
        species, step = alga(life.species), steps[life.species][life.step]
        name = "f/2-double-silicate" if species.silicate_doses > 1 else species.medium
        fill = sum(cells for _, cells in life.drawn) / step.cells * step.taken_l
        litres[name] = litres.get(name, 0.0) + (step.medium_l if life.started >= 0 else 0) + fill
    litres = {name: volume for name, volume in litres.items() if volume > 0}
    rows = [
        (
            chemical,
            measured(grams, "g") if grams >= 0.01 else f"{amount(grams * 1000)} mg",
        )
        for chemical, grams in shopping_g(litres).items()
    ]
    said = listed(
        [
            say("{volume} of {name}", volume=measured(volume, "L"), name=name)
            for name, volume in litres.items()
        ]
    )
    return table(
        say("For {media}", media=said or say("no medium")),
        (say("Chemical"), say("Amount")),
        rows,
        numeric=1,
    )
