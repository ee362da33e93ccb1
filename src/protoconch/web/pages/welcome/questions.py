"""The first questions in their order, with what is offered before anything is typed."""

import time
from datetime import date
from typing import Any, NamedTuple

from django import forms as django_forms
from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as _

from protoconch.operations.first_description import first_answers, first_season
from protoconch.web.pages.welcome import forms


class Question(NamedTuple):
    """One screen: its key in the address, its form, the question, and a sentence under it."""

    key: str
    form: type[django_forms.Form]
    title: Promise
    lead: Promise


QUESTIONS = (
    Question("where", forms.Where, _("Which hatchery is it, and where?"),
             _("Eleven short questions lead to a plan; all of it can be changed afterwards.")),
    Question("water", forms.Water, _("How warm is the sea through the year?"),
             _("Larvae grow faster in warm water; the plan reckons with the mean of each month.")),
    Question("tanks", forms.Tanks, _("Where do eggs hatch and larvae swim?"),
             _("Each larval tank holds one batch at a time, some weeks long.")),
    Question("trays", forms.Trays, _("On what do they settle?"),
             _("Trays with a film of algae take the larvae when they turn into snails.")),
    Question("nursery", forms.Nursery, _("Where do the juveniles grow?"),
             _("Floor is what counts: juveniles graze and dig on it until the hand-over.")),
    Question("algae", forms.Algae, _("In what is their food grown?"),
             _("A culture moves from small vessels to large ones, each about ten times the last.")),
    Question("reservoir", forms.Reservoir, _("How much seawater is stored?"),
             _("The plan says when to fill, and how long the store lasts if a fill is missed.")),
    Question("crew", forms.Crew, _("How many hours of work are there?"),
             _("A plan that nobody has the time to carry out is no plan.")),
    Question("permit", forms.Permit, _("What does the permit allow?"),
             _("No plan goes beyond it. Local rules come first.")),
    Question("target", forms.Target, _("What is to be handed over, and when?"),
             _("The plan asks the least of the wild that reaches this surely enough.")),
    Question("manager", forms.Yourself, _("Who are you?"),
             _("You become the manager, and can let others in.")),
)  # fmt: skip
KEYS = tuple(question.key for question in QUESTIONS)


def offered(key: str, today: date, earlier: dict[str, Any]) -> dict[str, Any]:
    """What a question offers. earlier: answers to the questions before it, as cleaned."""
    known: dict[str, Any] = dict(first_answers().get(key, {}))
    if key == "water":
        return {"kind": "warm"}
    if key == "where":
        return {"zone": _zone_of_machine(), "species": "queen-conch"}
    if key == "permit":
        return known | {"months": [str(month) for month in known["months"]]}
    if key == "target":
        months = earlier.get("permit", {}).get("months") or first_answers()["permit"]["months"]
        season = first_season(tuple(months), today)
        return known | season._asdict()
    return known


def _zone_of_machine() -> str:
    return time.tzname[0] if "/" in time.tzname[0] else "UTC"
