"""The rules that one sourced number of a data file must keep."""

from collections.abc import Mapping
from types import MappingProxyType
from typing import Any, get_args

from protoconch.sources.checking_units import UNITS
from protoconch.sources.reading_lines import Path
from protoconch.sources.reading_toml import Document, did_you_mean, shown
from protoconch.sources.references import ASSUMPTION, OWN, PRACTICE, Reference
from protoconch.sources.values import Confidence, Shape, SourcedValue
from protoconch.words import say

FIELDS = ("value", "low", "high", "unit", "shape", "beta", "conditions", "source", "place",
          "confidence", "missing", "borrow")  # fmt: skip
SHAPES = get_args(Shape)
CONFIDENCES = get_args(Confidence)
SOURCE_FOR = {"practice": PRACTICE, "assumption": ASSUMPTION, "own": OWN}
"""The kinds of confidence that stand without a publication, and the source each must name."""

BETA_TOLERANCE = 0.02
"""How far the planning value may lie from the mean of its beta distribution."""


def sourced_value(
    document: Document,
    path: Path,
    name: str,
    known: Mapping[str, Reference],
    unless_given: Mapping[str, Any] = MappingProxyType({}),
) -> SourcedValue | None:
    """The number that the table at `path` describes, or None with its faults noted.

    document: where the table stands and where faults go. path: names from the top of the file.
    name: dotted, as the number will be called. known: references by id.
    unless_given: fields that hold where the table does not say otherwise.
    """
    table: Any = document.content
    for part in path:
        table = table[part]
    table = {**unless_given, **table}
    before = len(document.problems)
    _check_fields(document, path, name, table)
    unit = _unit(document, path, name, table)
    if "missing" in table:
        return _missing(document, path, name, table, unit, before)
    value = _value(document, path, name, table)
    low, high = _range(document, path, name, table, value)
    shape, beta = _shape(document, path, name, table, (value, low, high))
    source, confidence = _belief(document, path, name, table, known)
    words = {
        "conditions": say(str(table.get("conditions", ""))),
        "place": str(table.get("place", "")),
    }
    if len(document.problems) > before or value is None or confidence is None:
        return None
    return SourcedValue(
        name, value, unit, source, confidence, low, high, shape=shape, beta=beta, **words
    )


def _conditions(table: Mapping[str, Any]) -> str:
    return say(str(table.get("conditions", "")))


def _check_fields(document: Document, path: Path, name: str, table: Mapping[str, Any]) -> None:
    for key, entry in table.items():
        where = (*path, key)
        if key not in FIELDS:
            hint = did_you_mean(key, FIELDS)
            document.fault(
                where,
                say("{name}: {key} is no field of a number.{hint}", name=name, key=key, hint=hint),
            )
        elif key in ("unit", "shape", "conditions", "source", "place", "confidence", "borrow"):
            document.words(where, entry, f"{name}: {key}")
    if "borrow" in table and "missing" not in table:
        document.fault(
            (*path, "borrow"),
            say("{name} borrows a number, but does not say what is missing.", name=name),
        )


def _unit(document: Document, path: Path, name: str, table: Mapping[str, Any]) -> str:
    if "unit" not in table:
        document.fault(
            path, say('{name} has no unit; give one, or "1" for a share or a ratio.', name=name)
        )
        return ""
    unit = table["unit"]
    if isinstance(unit, str) and unit.strip() and unit not in UNITS:
        hint = did_you_mean(unit, UNITS)
        document.fault(
            (*path, "unit"),
            say(
                "{name}: {shown} is not a known unit.{hint}",
                name=name,
                shown=shown(unit),
                hint=hint,
            ),
        )
    return str(unit)


def _missing(
    document: Document, path: Path, name: str, table: Mapping[str, Any], unit: str, before: int
) -> SourcedValue | None:
    """A number that no source gives; the name of the lender stands in `borrowed_from` for now."""
    where = (*path, "missing")
    missing = document.words(where, table["missing"], say("{name}: missing", name=name))
    extra = [key for key in ("value", "low", "high", "shape", "beta", "source", "confidence")
             if key in table]  # fmt: skip
    if extra:
        document.fault(
            where,
            say("{name} is called missing and yet has {extra}.", name=name, extra=", ".join(extra)),
        )
    if len(document.problems) > before or missing is None:
        return None
    return SourcedValue(
        name, None, unit, ASSUMPTION, "assumption", conditions=_conditions(table),
        place=table.get("place", ""), missing=say(missing), borrowed_from=table.get("borrow", ""),
    )  # fmt: skip


def _value(document: Document, path: Path, name: str, table: Mapping[str, Any]) -> float | None:
    if "value" not in table:
        document.fault(
            path, say("{name} has no value; where none is known, say missing and why.", name=name)
        )
        return None
    return document.number((*path, "value"), table["value"], say("{name}: value", name=name))


def _range(
    document: Document, path: Path, name: str, table: Mapping[str, Any], value: float | None
) -> tuple[float | None, float | None]:
    low, high = (
        document.number((*path, key), table[key], f"{name}: {key}") if key in table else None
        for key in ("low", "high")
    )
    if ("low" in table) != ("high" in table):
        lacking = "high" if "low" in table else "low"
        document.fault(
            path,
            say(
                "{name} gives one end of its range; give {lacking} too.", name=name, lacking=lacking
            ),
        )
    if low is not None and high is not None:
        if low > high:
            document.fault(
                (*path, "low"),
                say(
                    "{name}: low is {low:g}, above high, which is {high:g}.",
                    name=name,
                    low=low,
                    high=high,
                ),
            )
        elif value is not None and not low <= value <= high:
            document.fault(
                (*path, "value"),
                say(
                    "{name}: value is {value:g}, outside {low:g} to {high:g}.",
                    name=name,
                    value=value,
                    low=low,
                    high=high,
                ),
            )
    return low, high


def _shape(
    document: Document,
    path: Path,
    name: str,
    table: Mapping[str, Any],
    numbers: tuple[float | None, float | None, float | None],
) -> tuple[Shape, tuple[float, float] | None]:
    value, low, high = numbers
    spread = low is not None and high is not None and low < high
    where = (*path, "shape" if "shape" in table else "value")
    asked = table.get("shape", "beta" if "beta" in table else "pert" if spread else "fixed")
    shape: Shape | None = next((kind for kind in SHAPES if kind == asked), None)
    if shape is None:
        document.fault(
            where,
            say("{name}: shape must be one of {shapes}.", name=name, shapes=", ".join(SHAPES)),
        )
        return "fixed", None
    if shape in ("pert", "lognormal") and not spread and "low" not in table:
        document.fault(
            where, say("{name}: a {shape} spread needs low and high.", name=name, shape=shape)
        )
    if shape == "lognormal" and low is not None and low <= 0:
        document.fault((*path, "low"), say("{name}: a lognormal spread lies above 0.", name=name))
    if shape != "beta":
        if "beta" in table:
            document.fault(
                (*path, "beta"),
                say("{name} has beta, but its shape is {shape}.", name=name, shape=shape),
            )
        return shape, None
    return shape, _beta(document, path, name, table, value)


def _beta(
    document: Document, path: Path, name: str, table: Mapping[str, Any], value: float | None
) -> tuple[float, float] | None:
    where = (*path, "beta" if "beta" in table else "shape")
    given = table.get("beta")
    if not isinstance(given, list) or len(given) != 2:
        document.fault(
            where, say("{name}: beta must be a list of two numbers, as in [9.6, 20.8].", name=name)
        )
        return None
    a, b = (document.number(where, part, say("{name}: beta", name=name)) for part in given)
    if a is None or b is None:
        return None
    if a <= 0 or b <= 0:
        document.fault(where, say("{name}: both numbers of beta must be above 0.", name=name))
        return None
    mean = a / (a + b)
    if value is not None and abs(mean - value) > BETA_TOLERANCE:
        document.fault(
            where,
            say(
                "{name}: the mean of beta is {mean:.3g}, but value is {value:g}.",
                name=name,
                mean=mean,
                value=value,
            ),
        )
    return a, b


def _belief(
    document: Document,
    path: Path,
    name: str,
    table: Mapping[str, Any],
    known: Mapping[str, Reference],
) -> tuple[str, Confidence | None]:
    """Where the number comes from and how well it is known."""
    for key, way in (
        ("source", say("{practice} or {assumption}", practice=PRACTICE, assumption=ASSUMPTION)),
        ("confidence", "practice"),
    ):
        if key not in table:
            document.fault(
                path,
                say(
                    "{name} has no {key}; where no publication gives the number, say {way}.",
                    name=name,
                    key=key,
                    way=way,
                ),
            )
    source, asked = table.get("source"), table.get("confidence")
    confidence: Confidence | None = next((c for c in CONFIDENCES if c == asked), None)
    if isinstance(asked, str) and asked.strip() and confidence is None:
        hint = did_you_mean(asked, CONFIDENCES)
        document.fault(
            (*path, "confidence"),
            say(
                "{name}: {shown} is no kind of confidence; it must be one of {known}.{hint}",
                name=name,
                shown=shown(asked),
                known=", ".join(CONFIDENCES),
                hint=hint,
            ),
        )
    if not isinstance(source, str) or not source.strip():
        return "", confidence
    if source not in known:
        document.fault(
            (*path, "source"),
            say(
                "{name}: {shown} is not in the list of references.{hint}",
                name=name,
                shown=shown(source),
                hint=did_you_mean(source, known),
            ),
        )
    elif confidence is not None:
        _check_belief(document, path, name, known[source], confidence)
    return source, confidence


def _check_belief(
    document: Document, path: Path, name: str, source: Reference, confidence: Confidence
) -> None:
    where = (*path, "confidence")
    wanted = SOURCE_FOR.get(confidence)
    if wanted is not None and source.id != wanted:
        document.fault(
            where,
            say(
                "{name}: confidence {confidence} goes with source {wanted}, not {source}.",
                name=name,
                confidence=confidence,
                wanted=wanted,
                source=source.id,
            ),
        )
    if wanted is None and source.id in SOURCE_FOR.values():
        document.fault(
            where,
            say(
                "{name}: {source} is no publication, so the number is not {confidence}.",
                name=name,
                source=source.id,
                confidence=confidence,
            ),
        )
    if confidence == "read" and source.seen not in ("read", "abstract"):
        document.fault(
            where,
            say(
                "{name}: {source} was not read (it is known from: {seen}).",
                name=name,
                source=source.id,
                seen=source.seen,
            ),
        )
