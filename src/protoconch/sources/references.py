"""The publications, and the kinds of knowledge without one, on which the numbers rest."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from types import MappingProxyType
from typing import Literal, get_args

from protoconch.sources.reading_toml import Document, did_you_mean, parse
from protoconch.words import phrase, say

Seen = Literal["read", "abstract", "quoted", "memory", "none"]
"""How a publication was seen: in full; its abstract or opening; where another text quotes it; not
for this program, cited from memory; not a publication."""

PRACTICE, ASSUMPTION, OWN = "practice", "assumption", "own-log"
"""Ids of the three entries that are no publication."""

NO_PUBLICATION = (
    phrase("Common practice, no source"), phrase("Assumption of this program, no source"),
    phrase("The hatchery's own log"),
)  # fmt: skip
"""What the citations of those three say, for those who translate."""

FIELDS = ("citation", "seen", "doi", "address", "note")


@dataclass(frozen=True, slots=True)
class Reference:
    """One entry of references.toml; doi and address are empty where not known."""

    id: str
    citation: str
    seen: Seen
    doi: str = ""
    address: str = ""
    note: str = ""


@cache
def references() -> Mapping[str, Reference]:
    """All references by id.

    Raises: BadFile, with every fault of the file.
    """
    text = files("protoconch.sources").joinpath("references.toml").read_text(encoding="utf-8")
    return load_references(text, "sources/references.toml")


def load_references(text: str, file: str) -> Mapping[str, Reference]:
    """The references that a text holds, by id.

    Raises: BadFile, with every fault of the text.
    """
    document = parse(text, file)
    found = {key: _reference(document, key, table) for key, table in document.content.items()}
    document.finish()
    return MappingProxyType({key: entry for key, entry in found.items() if entry})


def _reference(document: Document, key: str, table: object) -> Reference | None:
    if not isinstance(table, dict):
        document.fault((key,), say("{key} must be a table with a citation.", key=key))
        return None
    for name in table:
        if name not in FIELDS:
            document.fault(
                (key, name),
                say(
                    "{name} is no field of a reference.{hint}",
                    name=name,
                    hint=did_you_mean(name, FIELDS),
                ),
            )
    words: dict[str, str] = {}
    for name in FIELDS:
        if name in table or name in ("citation", "seen"):
            text = document.words((key, name), table.get(name, ""), f"{key}: {name}")
            words[name] = text or ""
    seen = words.pop("seen")
    if seen == "none":  # no publication but words of ours
        words["citation"] = say(words["citation"])
    for kind in get_args(Seen):
        if seen == kind:
            return Reference(id=key, seen=kind, **words)
    if seen:
        document.fault(
            (key, "seen"),
            say(
                "{key}: seen is {seen}; it must be one of {known}.",
                key=key,
                seen=seen,
                known=", ".join(get_args(Seen)),
            ),
        )
    return None
