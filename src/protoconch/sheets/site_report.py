"""The seawater system on a page: drawn, judged, with what to do about it."""

from collections.abc import Iterator
from datetime import date

from protoconch.pictures.store_level import store_level
from protoconch.pictures.water_path import water_path, water_path_phone
from protoconch.pictures.words import amount, counted, day_written, measured
from protoconch.sheets.look import Html, bullets, figure, page, paragraph, section, table, tag
from protoconch.sheets.site_tables import (
    cartridge_table,
    loop_course_table,
    loop_table,
    material_table,
    outage_tables,
    source_table,
    uv_tables,
    what_if_table,
)
from protoconch.waterworks.assessment import Assessment
from protoconch.waterworks.findings.finding import Finding
from protoconch.waterworks.storage.filling import checklist
from protoconch.words import begun, say
from protoconch.words import counted as plural

WEIGHT_WORDS = {
    "danger": say("Danger"),
    "fault": say("Put right"),
    "weakness": say("Better changed"),
    "note": say("Good to know"),
}


def site_section(seen: Assessment) -> str:
    """The seawater system as a fragment of a page: cards, one after another.

    Returns: HTML; it needs the style of `sheets.look.page`, no script and no network.
    """
    return "".join(_cards(seen))


def site_page(seen: Assessment, name: str, printed: date, *, invented: bool) -> str:
    """The seawater system as a page complete in itself.

    name: of the hatchery. printed: the day on the page. invented: it is no real place.
    """
    notice = (
        [paragraph(say("This hatchery is invented; the place does not exist."), class_="notice")]
        if invented
        else []
    )
    return page(
        f"{site_answer(seen)} - {name}",
        tag("header", paragraph(f"{name}, {day_written(printed)}"), tag("h1", site_answer(seen))),
        *notice,
        Html(site_section(seen)),
    )


def site_answer(seen: Assessment) -> str:
    """The judgement in one sentence."""
    counts = {weight: sum(f.weight == weight for f in seen.findings) for weight in WEIGHT_WORDS}
    if counts["danger"]:
        return plural(
            counts["danger"],
            "The seawater system has {number} danger to see to first",
            "The seawater system has {number} dangers to see to first",
        )
    if counts["fault"]:
        return plural(
            counts["fault"],
            "The seawater system works once {number} thing is put right",
            "The seawater system works once {number} things are put right",
        )
    return say("The seawater system does its job as described")


def _cards(seen: Assessment) -> Iterator[Html]:
    yield section(say("The water at a glance"), _measures(seen), id_="site-glance")
    yield section(
        say("The water path"),
        figure(water_path(seen), "desk"),
        figure(water_path_phone(seen), "phone"),
        paragraph(
            say(
                "Numbers beside a sign are those of the findings: a diamond is a danger, a square "
                "is to be put right, a disc would better be changed."
            ),
            class_="quiet",
        ),
        id_="site-path",
    )
    yield section(say("Findings, heaviest first"), *_findings(seen), id_="site-findings")
    yield section(say("What changes when"), what_if_table(seen), id_="site-what-if")
    yield section(
        say("Cartridges and UV"), cartridge_table(seen), *uv_tables(seen), id_="site-treatment"
    )
    if seen.waterworks.keeping and seen.store:
        yield section(
            say("Stored seawater"),
            tag(
                "div",
                figure(store_level(seen.waterworks.keeping, seen.store)),
                class_="small-figures",
            ),
            tag("h3", say("Before every fill")),
            bullets((*checklist(), _flush(seen))),
            id_="site-store",
        )
    if seen.waterworks.loops:
        yield section(
            say("Recirculating loops"), loop_table(seen), loop_course_table(seen), id_="site-loops"
        )
    if seen.tank_hours or seen.generator:
        yield section(say("When the power is out"), *outage_tables(seen), id_="site-outage")
    yield section(say("What the water touches"), material_table(seen), id_="site-materials")
    yield section(
        say("Take care around the water"),
        paragraph(say("Local code, permits and licensed people come first.")),
        *(
            paragraph(tag("b", begun(caution.about), ". "), caution.say)
            for caution in seen.cautions
        ),
        id_="site-care",
    )
    yield section(say("What the water part rests on"), *source_table(seen), id_="site-sources")


def _measures(seen: Assessment) -> Html:
    pairs: list[tuple[str, str]] = []
    for name, dose in seen.doses_mj_cm2.items():
        pairs.append(
            (
                say("UV dose, {name}", name=name),
                say("dark") if dose is None else f"{amount(dose)} mJ/cm²",
            )
        )
    store, keeping = seen.store, seen.waterworks.keeping
    if store and keeping:
        draw = store.daily_use_l + keeping.store.loss_l_per_day
        days = (
            say("{days:.0f} days", days=keeping.store.level_l / draw)
            if draw > 0
            else say("not drawn on")
        )
        pairs.append((say("Stored water lasts"), days))
        if store.fill.by:
            pairs.append((say("Fill by"), day_written(store.fill.by)))
    short = next((tank for tank in seen.tank_hours if tank.to_act_h is not None), None)
    if short and short.to_act_h is not None:
        pairs.append((say("Without power, {name}", name=short.name), f"{short.to_act_h:.1f} h"))
    pairs += [
        (say("Flow to {name}", name=name), measured(max(0.0, flow), "L/min"))
        for name, flow in seen.tank_flows_l_min.items()
    ]
    rows = [part for term, said in pairs for part in (tag("dt", term), tag("dd", said))]
    return tag("dl", *rows, class_="measures")


def _flush(seen: Assessment) -> str:
    return say(
        "Here that is {water} to waste: the line from the sea three times over "
        "(common practice, no source).",
        water=measured(round(seen.first_flush_l), "L"),
    )


def _findings(seen: Assessment) -> Iterator[Html]:
    if not seen.findings:
        yield paragraph(say("Nothing was found."))
        return
    yield table(
        say("Each with what would put it right"),
        (say("No."), say("Weight"), say("Where"), say("What"), say("Remedy")),
        [_finding_row(number, finding) for number, finding in enumerate(seen.findings, start=1)],
    )


def _finding_row(number: int, finding: Finding) -> tuple[str, ...]:
    return (
        counted(number),
        WEIGHT_WORDS[finding.weight],
        finding.where,
        tag("span", finding.what, " ", tag("span", f"({finding.source})", class_="quiet")),
        finding.remedy,
    )
