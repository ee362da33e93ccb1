"""What each kind of work is for, how it is done, and where care is due."""

from datetime import date

from protoconch.words import phrase
from protoconch.work.how_to.algae import ALGAE
from protoconch.work.how_to.card import OF_SPECIES, HowTo, Number, sourced
from protoconch.work.how_to.cautions import ALLERGY, DIVING, LAW, LIFTING, STORM, WET_MAINS
from protoconch.work.how_to.juveniles import JUVENILES
from protoconch.work.how_to.larvae import LARVAE
from protoconch.work.how_to.settling import SETTLING
from protoconch.work.how_to.water import WATER
from protoconch.work.task import Task, Working

__all__ = [
    "ALLERGY", "AREAS", "CARDS", "DIVING", "HOW_TO", "KINDS", "LAW", "LIFTING", "OF_SPECIES",
    "STORM", "WET_MAINS", "HowTo", "Number", "sourced", "task_of",
]  # fmt: skip

HOW_TO: dict[str, HowTo] = {**LARVAE, **SETTLING, **JUVENILES}
"""Every kind of task with animals, in the order in which an animal meets them."""

AREAS: dict[str, dict[str, HowTo]] = {
    "larvae": LARVAE, "trays": SETTLING, "nursery": JUVENILES, "algae": ALGAE, "water": WATER,
}  # fmt: skip
"""The cards of every kind of work, by the part of the hatchery it belongs to."""

CARDS: dict[str, HowTo] = {kind: card for area in AREAS.values() for kind, card in area.items()}
"""The card of each kind of work."""

KINDS = tuple(HOW_TO)
KIND_WORDS = (
    phrase("collect"), phrase("incubate"), phrase("stock"), phrase("count"), phrase("thin"),
    phrase("change water"), phrase("feed"), phrase("measure"), phrase("test competence"),
    phrase("settle"), phrase("induce"), phrase("tray care"), phrase("split trays"),
    phrase("move to nursery"), phrase("feed pellets"), phrase("siphon"), phrase("grade"),
    phrase("weigh and measure"), phrase("prepare release"), phrase("release"),
)  # fmt: skip
"""The kinds as people read them in a calendar, for those who translate."""


def task_of(
    kind: str,
    day: date,
    batch: str,
    where: str,
    amount: str,
    minutes: float,
    *workings: Working,
) -> Task:
    """A task of that kind, with its words, steps and cautions.

    where, amount: as the crew reads them. minutes: time it takes [min].
    workings: behind the amount, the main one first.
    """
    words = HOW_TO[kind]
    return Task(
        day=day,
        round=words.round,
        kind=kind,
        what=words.what,
        where=where,
        amount=amount,
        why=words.why,
        batch=batch,
        minutes=minutes,
        working=workings[0] if workings else None,
        cautions=words.cautions,
        steps=words.steps,
        also=workings[1:],
    )
