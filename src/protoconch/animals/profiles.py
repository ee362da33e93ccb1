"""Species profiles, read from their files; a number that is missing may be lent by another."""

import re
from collections.abc import Mapping
from dataclasses import replace
from functools import cache
from importlib.resources import files
from types import MappingProxyType
from typing import Any

from protoconch.animals.species import Species
from protoconch.errors import UnknownName
from protoconch.sources.reading import values_in
from protoconch.sources.reading_toml import Document, did_you_mean, parse, shown
from protoconch.sources.references import references
from protoconch.sources.values import SourcedValue
from protoconch.words import phrase, say

HEADER = "species"
WORDS = ("scientific_name", "common_name", "size_measure", "egg_unit")
FIELDS = (*WORDS, "larvae_feed", "months", "months_source", "regimes", "notes")
SIZE_MEASURES = (phrase("shell length"), phrase("shell width"))
REGIME = re.compile(r"regime\.([^.]+)\.competence_days")


@cache
def known_species() -> tuple[str, ...]:
    """Keys of the species that have a profile, in alphabetical order."""
    names = (entry.name for entry in files("protoconch.sources").joinpath("species").iterdir())
    return tuple(sorted(n.removesuffix(".toml") for n in names if n.endswith(".toml")))


@cache
def species(key: str) -> Species:
    """The profile of that species, with what it borrows filled in.

    key: as in "queen-conch". Where a number is missing and borrowed, the lender's stands in its
    place, with confidence "assumption", `borrowed_from` set and `missing` kept.

    Raises: UnknownName, where there is no such profile; BadFile, with every fault of its file.
    """
    if key not in known_species():
        raise UnknownName(
            say(
                "There is no profile of the species {key}; there are {known}.{near}",
                key=key,
                known=", ".join(known_species()),
                near=did_you_mean(key, known_species()),
            )
        )
    file = f"{key}.toml"
    text = files("protoconch.sources").joinpath("species", file).read_text(encoding="utf-8")
    return read_profile(key, text, f"sources/species/{file}")


def read_profile(key: str, text: str, file: str) -> Species:
    """The profile that a text holds, with what it borrows filled in.

    Raises: BadFile, with every fault and its line.
    """
    document = parse(text, file)
    values = values_in(document, besides=(HEADER,))
    values = {name: _with_loan(document, key, value) for name, value in values.items()}
    header = document.content.get(HEADER)
    if not isinstance(header, dict):
        document.fault((), say("The file needs a table [species] with the names of the species."))
        header = {}
    words = _words(document, header)
    months = _months(document, header)
    regimes = _regimes(document, header, values)
    notes = tuple(map(say, _texts(document, header, "notes")))
    feeds = header.get("larvae_feed")
    if not isinstance(feeds, bool):
        document.fault((HEADER, "larvae_feed"), say("larvae_feed must be true or false."))
    document.finish()
    return Species(
        key=key, larvae_feed=feeds is True, months=months, regimes=regimes, notes=notes,
        values=MappingProxyType(values), **words,
    )  # fmt: skip


def _with_loan(document: Document, key: str, value: SourcedValue) -> SourcedValue:
    """The value itself, or where it borrows, the lender's number under its name."""
    lender = value.borrowed_from
    if not lender:
        return value
    path = (*value.name.split("."), "borrow")
    if lender == key or lender not in known_species():
        others = [name for name in known_species() if name != key]
        document.fault(
            path,
            say(
                "{name} borrows from {lender}, which has no profile; there are {others}.{near}",
                name=value.name,
                lender=lender,
                others=", ".join(others),
                near=did_you_mean(lender, others),
            ),
        )
        return value
    lent = species(lender).values.get(value.name)
    if lent is None or lent.value is None or lent.borrowed_from:
        document.fault(
            path,
            say(
                "{name}: {lender} has no such number of its own to lend.",
                name=value.name,
                lender=lender,
            ),
        )
        return value
    if lent.unit != value.unit:
        document.fault(
            path,
            say(
                "{name} is in {unit}, but {lender} has it in {lent_unit}.",
                name=value.name,
                unit=value.unit,
                lender=lender,
                lent_unit=lent.unit,
            ),
        )
        return value
    return replace(
        lent, confidence="assumption", missing=value.missing, borrowed_from=lender,
        conditions=value.conditions or lent.conditions, place=value.place or lent.place,
    )  # fmt: skip


def _words(document: Document, header: Mapping[str, Any]) -> dict[str, str]:
    for name in header:
        if name not in FIELDS:
            hint = did_you_mean(name, FIELDS)
            document.fault(
                (HEADER, name), say("{name} is no field of [species].{hint}", name=name, hint=hint)
            )
    words = {
        name: document.words((HEADER, name), header.get(name, ""), name) or "" for name in WORDS
    }
    if words["size_measure"] and words["size_measure"] not in SIZE_MEASURES:
        document.fault(
            (HEADER, "size_measure"),
            say("size_measure must be one of {known}.", known=", ".join(SIZE_MEASURES)),
        )
    return words


def _months(document: Document, header: Mapping[str, Any]) -> tuple[int, ...]:
    months = header.get("months")
    sound = isinstance(months, list) and all(
        isinstance(m, int) and not isinstance(m, bool) and 1 <= m <= 12 for m in months
    )
    if not sound or not months:
        document.fault(
            (HEADER, "months"), say("months must be a list of the laying months, 1 to 12.")
        )
        return ()
    source = header.get("months_source")
    if source not in references():
        hint = did_you_mean(str(source), references())
        document.fault(
            (HEADER, "months_source"),
            say(
                "months_source must be in the list of references, and {source} is not.{hint}",
                source=shown(source),
                hint=hint,
            ),
        )
    return tuple(months)


def _regimes(
    document: Document, header: Mapping[str, Any], values: Mapping[str, SourcedValue]
) -> tuple[str, ...]:
    listed = _texts(document, header, "regimes")
    described = [m[1] for name in values if (m := REGIME.fullmatch(name))]
    for name in {*listed} ^ {*described}:
        document.fault(
            (HEADER, "regimes"),
            say(
                "The feeding regime {name} must be listed in regimes and have competence_days.",
                name=name,
            ),
        )
    return listed


def _texts(document: Document, header: Mapping[str, Any], name: str) -> tuple[str, ...]:
    texts = header.get(name)
    if not isinstance(texts, list) or not all(isinstance(t, str) and t.strip() for t in texts):
        document.fault((HEADER, name), say("{name} must be a list of texts.", name=name))
        return ()
    return tuple(texts)
