"""A how-to card as shown on a page and on paper: drawn steps, numbers with their sources."""

from dataclasses import dataclass

from protoconch.animals.species import Species
from protoconch.errors import UnknownName
from protoconch.pictures.how_to.kit import drawing
from protoconch.pictures.how_to.scenes import SCENES
from protoconch.sources.references import PRACTICE, references
from protoconch.sources.values import SourcedValue
from protoconch.units import ends, text
from protoconch.words import phrase, say
from protoconch.work.how_to import AREAS, CARDS, Number, sourced

AREA_WORDS = {
    "larvae": phrase("Eggs and larvae"), "trays": phrase("Settling and trays"),
    "nursery": phrase("Nursery and release"), "algae": phrase("Algae"), "water": phrase("Water"),
}  # fmt: skip
UNITS = {
    "1": "", "d": phrase("days"), "h": phrase("hours"), "um": "µm", "um/d": phrase("µm a day"),
    "mm/d": phrase("mm a day"), "mg/L/d": phrase("mg/L a day"), "%/d": phrase("% a day"),
    "uM": "µM", "per L": phrase("per L"), "per mm": phrase("per mm"),
    "per cm2": phrase("per cm²"), "per m2": phrase("per m²"), "per mm2": phrase("per mm²"),
    "mJ/cm2": "mJ/cm²",
}  # fmt: skip
"""Units of the data files as people read them; others stand as they are."""


@dataclass(frozen=True, slots=True)
class DrawnStep:
    """A step: its words, and its drawing as an <svg> element."""

    words: str
    drawing: str


@dataclass(frozen=True, slots=True)
class ToldNumber:
    """A number of a card: what it is, the amount with its range, and who says so."""

    words: str
    amount: str
    source: str


@dataclass(frozen=True, slots=True)
class ShownCard:
    """A card. kind: of work. slug: in addresses. writes: kinds of entries that take the record."""

    kind: str
    slug: str
    what: str
    why: str
    cautions: tuple[str, ...]
    steps: tuple[DrawnStep, ...]
    numbers: tuple[ToldNumber, ...]
    record: str
    writes: tuple[str, ...]


def slug_of(kind: str) -> str:
    """A kind of work in an address: "change water" is change-water."""
    return kind.replace(" ", "-")


def shown_card(slug: str, species: Species, **colours: str) -> ShownCard:
    """The card at an address.

    species: whose numbers it tells. colours: ink and paper of `kit.drawing`.
    Raises: UnknownName, where there is no such card.
    """
    kind = next((kind for kind in CARDS if slug_of(kind) == slug), None)
    if kind is None:
        raise UnknownName(say("There is no how-to card {slug}.", slug=slug))
    card = CARDS[kind]
    steps = (
        DrawnStep(words, drawing(scene, **colours))
        for words, scene in zip(card.steps, SCENES[kind], strict=True)
    )
    found = ((number, sourced(number, species)) for number in card.numbers)
    numbers = (_told(number, value) for number, value in found if value and value.value is not None)
    return ShownCard(kind, slug, card.what, card.why, card.cautions, tuple(steps),
                     tuple(numbers), card.record, card.writes)  # fmt: skip


def cards_of(area: str) -> tuple[tuple[str, str], ...]:
    """Slug and name of each card of a part of the hatchery, a key of AREA_WORDS."""
    return tuple((slug_of(kind), card.what) for kind, card in AREAS[area].items())


def listed_cards() -> tuple[tuple[str, tuple[tuple[str, str], ...]], ...]:
    """All cards: the words of each part of the hatchery, with slug and name of its cards."""
    return tuple((say(AREA_WORDS[area]), cards_of(area)) for area in AREAS)


def _told(number: Number, value: SourcedValue) -> ToldNumber:
    return ToldNumber(number.words, _amount(number, value), _source(value))


def _amount(number: Number, value: SourcedValue) -> str:
    unit = "%" if number.percent else UNITS.get(value.unit, value.unit)
    times = 100.0 if number.percent else 1.0
    planned = text(value.number * times, unit)
    if value.low is None or value.high is None or value.low == value.high:
        return planned
    low, high = ends(value.low * times, value.high * times, unit)
    return say("{planned} ({low} to {high})", planned=planned, low=low, high=high)


def _source(value: SourcedValue) -> str:
    if value.source == PRACTICE:
        return say("common practice, no source")
    if value.confidence == "assumption":
        return say("assumed by this program, no source")
    citation = references()[value.source].citation
    if value.confidence == "memory":
        return say("from memory of {citation}", citation=citation)
    if value.confidence == "secondary":
        return say("as quoted in {citation}", citation=citation)
    if value.confidence == "derived":
        return say("worked out from {citation}", citation=citation)
    return citation
