"""Every number the plan rests on, the least known first."""

from collections.abc import Sequence

from protoconch.pictures.words import unit_written
from protoconch.season.answer import SeasonPlan
from protoconch.sheets.look import Html, joined, paragraph, section, table, tag
from protoconch.sheets.season_report.answer import species_written
from protoconch.sources.references import references
from protoconch.sources.values import Confidence, SourcedValue
from protoconch.words import begun, say
from protoconch.words import joined as joined_words

KNOWN_HOW: dict[Confidence, str] = {
    "assumption": say("Assumed by this program, no source"),
    "memory": say("From memory of the source, to be checked"),
    "practice": say("Common practice, no source"),
    "secondary": say("Read where another text quotes the source"),
    "derived": say("Worked out from sourced numbers"),
    "read": say("Read in the source"),
    "own": say("From this hatchery's own log"),
}
"""Confidence in words, the least first."""

_HEADS = (say("Number"), say("Value"), say("Range"), say("Holds for"), say("Source"))


def assumptions_card(plan: SeasonPlan) -> Html:
    """The assumptions in groups: missing and borrowed, then by how they are known."""
    values = plan.assumptions
    if not values:
        return section(
            say("Assumptions"), paragraph(say("No assumption is listed.")), id_="assumptions"
        )
    gaps = [value for value in values if value.missing or value.borrowed_from]
    groups: list[tuple[str, list[SourcedValue]]] = [
        (say("Missing or borrowed: no source gives these for this species"), gaps)
    ]
    rest = [value for value in values if not (value.missing or value.borrowed_from)]
    groups += [
        (words, [value for value in rest if value.confidence == confidence])
        for confidence, words in KNOWN_HOW.items()
    ]
    told = [
        table(
            say("{words} ({number:,})", words=words, number=len(found)),
            _HEADS,
            [_row(value) for value in found],
        )
        for words, found in groups
        if found
    ]
    return section(say("Assumptions"), paragraph(_summary(values, gaps)), *told, id_="assumptions")


def _summary(values: Sequence[SourcedValue], gaps: Sequence[SourcedValue]) -> str:
    sourced = sum(value.confidence in {"read", "derived", "secondary"} for value in values)
    own = sum(value.confidence == "own" for value in values)
    return say(
        "Numbers the plan rests on: {all:,}. From a published source that was read or quoted: "
        "{sourced:,}; from this hatchery's own log: {own:,}; missing or borrowed from another "
        "species: {gaps:,}. The rest is practice, memory and assumption, which the log replaces "
        "number by number.",
        all=len(values),
        sourced=sourced,
        own=own,
        gaps=len(gaps),
    )


def _row(value: SourcedValue) -> tuple[str, ...]:
    return (
        name_written(value.name),
        _value(value),
        _range(value),
        _conditions(value),
        _source(value),
    )


def name_written(name: str) -> str:
    """A dotted name as words: veliger.density.day_4 becomes Veliger: density, day 4."""
    first, *others = (say(part.replace("_", " ")) for part in name.split("."))
    if not others:
        return begun(first)
    return say("{first}: {others}", first=begun(first), others=joined_words(others, ", "))


def number_written(number: float, unit: str) -> str:
    """A number with its unit, as precise as it is in its file: 400,000, 0.315, 21 d."""
    digits = f"{number:,.0f}" if abs(number) >= 1e4 else f"{number:,.6g}"
    return f"{digits} {unit_written(unit)}".strip()


def _value(value: SourcedValue) -> Html:
    known = say("not known") if value.value is None else number_written(value.value, value.unit)
    marks: list[str] = []
    if value.borrowed_from:
        marks.append(say("borrowed from {species}", species=species_written(value.borrowed_from)))
    elif value.missing:
        marks.append(say("missing"))
    return joined([known, *(tag("span", mark, class_="quiet") for mark in marks)])


def _range(value: SourcedValue) -> str:
    if value.low is None or value.high is None:
        return say("not given")
    return say(
        "{low} to {high}",
        low=number_written(value.low, ""),
        high=number_written(value.high, value.unit),
    )


def _conditions(value: SourcedValue) -> Html:
    told = [value.conditions] if value.conditions else []
    marks = [tag("span", value.missing, class_="mark")] if value.missing else []
    return joined([*told, *marks] or [say("not stated")])


def _source(value: SourcedValue) -> Html:
    found = references().get(value.source)
    if found is None:
        citation = value.source
    else:
        place = say("doi {doi}", doi=found.doi) if found.doi else found.address
        citation = f"{found.citation}; {place}" if place else found.citation
    marks = [value.place] if value.place else []
    if value.missing or value.borrowed_from:
        marks.append(KNOWN_HOW[value.confidence])
    return joined([citation, *(tag("span", mark, class_="quiet") for mark in marks)])
