"""Every number the plan rests on, the least known first."""

from collections.abc import Sequence

from protoconch.pictures.words import counted, unit_written
from protoconch.season.answer import SeasonPlan
from protoconch.sheets.look import Html, joined, paragraph, section, table, tag
from protoconch.sources.references import references
from protoconch.sources.values import Confidence, SourcedValue

KNOWN_HOW: dict[Confidence, str] = {
    "assumption": "Assumed by this program, no source",
    "memory": "From memory of the source, to be checked",
    "practice": "Common practice, no source",
    "secondary": "Read where another text quotes the source",
    "derived": "Worked out from sourced numbers",
    "read": "Read in the source",
    "own": "From this hatchery's own log",
}
"""Confidence in words, the least first."""

_HEADS = ("Number", "Value", "Range", "Holds for", "Source")


def assumptions_card(plan: SeasonPlan) -> Html:
    """The assumptions in groups: missing and borrowed, then by how they are known."""
    values = plan.assumptions
    if not values:
        return section("Assumptions", paragraph("No assumption is listed."), id_="assumptions")
    gaps = [value for value in values if value.missing or value.borrowed_from]
    groups = [("Missing or borrowed: no source gives these for this species", gaps)]
    rest = [value for value in values if not (value.missing or value.borrowed_from)]
    groups += [
        (words, [value for value in rest if value.confidence == confidence])
        for confidence, words in KNOWN_HOW.items()
    ]
    told = [
        table(f"{words} ({counted(len(found))})", _HEADS, [_row(value) for value in found])
        for words, found in groups
        if found
    ]
    return section("Assumptions", paragraph(_summary(values, gaps)), *told, id_="assumptions")


def _summary(values: Sequence[SourcedValue], gaps: Sequence[SourcedValue]) -> str:
    sourced = sum(value.confidence in {"read", "derived", "secondary"} for value in values)
    own = sum(value.confidence == "own" for value in values)
    return (
        f"Numbers the plan rests on: {counted(len(values))}. From a published source that was "
        f"read or quoted: {counted(sourced)}; from this hatchery's own log: {counted(own)}; "
        f"missing or borrowed from another species: {counted(len(gaps))}. The rest is practice, "
        "memory and assumption, which the log replaces number by number."
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
    first, *others = (part.replace("_", " ") for part in name.split("."))
    return f"{first.capitalize()}: {', '.join(others)}" if others else first.capitalize()


def number_written(number: float, unit: str) -> str:
    """A number with its unit, as precise as it is in its file: 400,000, 0.315, 21 d."""
    digits = counted(number) if abs(number) >= 1e4 else f"{number:,.6g}"
    return f"{digits} {unit_written(unit)}".strip()


def _value(value: SourcedValue) -> Html:
    known = "not known" if value.value is None else number_written(value.value, value.unit)
    marks = []
    if value.borrowed_from:
        marks.append(f"borrowed from {value.borrowed_from.replace('-', ' ')}")
    elif value.missing:
        marks.append("missing")
    return joined([known, *(tag("span", mark, class_="quiet") for mark in marks)])


def _range(value: SourcedValue) -> str:
    if value.low is None or value.high is None:
        return "not given"
    return f"{number_written(value.low, '')} to {number_written(value.high, value.unit)}"


def _conditions(value: SourcedValue) -> Html:
    told = [value.conditions] if value.conditions else []
    marks = [tag("span", value.missing, class_="mark")] if value.missing else []
    return joined([*told, *marks]) if told or marks else Html("not stated")


def _source(value: SourcedValue) -> Html:
    found = references().get(value.source)
    if found is None:
        citation = value.source
    else:
        place = f"doi {found.doi}" if found.doi else found.address
        citation = f"{found.citation}; {place}" if place else found.citation
    marks = [value.place] if value.place else []
    if value.missing or value.borrowed_from:
        marks.append(KNOWN_HOW[value.confidence])
    return joined([citation, *(tag("span", mark, class_="quiet") for mark in marks)])
