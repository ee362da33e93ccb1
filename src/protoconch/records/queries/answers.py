"""Answers that take long and are kept: the plan, the algae schedule."""

import tomllib
from dataclasses import dataclass, replace
from datetime import date
from functools import lru_cache
from hashlib import sha256
from typing import Literal, NamedTuple, TypeVar
from zoneinfo import ZoneInfo

from protoconch import __version__
from protoconch.algae.chain.answer import AlgaeAnswer
from protoconch.animals.profiles import species
from protoconch.errors import BadInput, MissingInput
from protoconch.records.models import Answer, Description, Site
from protoconch.records.packing import packed, unpacked
from protoconch.records.queries.log import state
from protoconch.records.queries.site import described, description, hatchery
from protoconch.season.answer import SeasonPlan
from protoconch.work.present import present_tasks
from protoconch.work.task import Task

PLAN, ALGAE = "plan", "algae"
Making = Literal["ready", "being made", "failed", "not asked"]


class Planned(NamedTuple):
    """The season's plan and the algae room's schedule, and how far their making is.

    plan, algae: those in force; while new ones are being made, those before.
    why: where it failed, the sentence.
    """

    plan: SeasonPlan | None
    algae: AlgaeAnswer | None
    making: Making
    why: str = ""


@dataclass(frozen=True, slots=True)
class KeptPlan:
    """A plan as it is kept: description is the row it was made for; fault, why there is none."""

    description: int
    plan: SeasonPlan | None
    fault: str = ""


@dataclass(frozen=True, slots=True)
class KeptAlgae:
    """A schedule as it is kept; None without a fault where the room is asked for nothing."""

    description: int
    algae: AlgaeAnswer | None
    fault: str = ""


class Question(NamedTuple):
    """All that a plan follows from. today: nothing is planned before it; None plans as written."""

    description: Description
    today: date | None

    @property
    def key(self) -> str:
        """A hash of it, the same for the same question to the same version of the program."""
        whole = "\n".join((__version__, str(self.today), self.description.text))
        return sha256(whole.encode()).hexdigest()


def question(site: Site) -> Question:
    """What a plan made now would follow from.

    A season is planned from the day on which it was first described: later changes of the tanks
    or the target must not make its first batches disappear. An invented hatchery is planned as it
    is written.
    Raises: MissingInput, where the hatchery is not described yet.
    """
    last = description(site)
    if hatchery(site).invented:
        return Question(last, None)
    began = last
    for earlier in site.descriptions.order_by("-id"):
        if _season(earlier.text) != _season(last.text):
            break
        began = earlier
    return Question(last, began.made.astimezone(ZoneInfo(site.zone)).date())


def planned(site: Site) -> Planned:
    """The plan in force, and whether a new one is being made."""
    try:
        asked = question(site)
    except MissingInput:
        return Planned(None, None, "not asked")
    rows = {row.name: row for row in Answer.objects.filter(site=site, question=asked.key)}
    plan, algae = _plan(site, rows.get(PLAN)), _algae(rows.get(ALGAE))
    waiting = any(len(row.content) == 0 for row in rows.values())
    making: Making = "being made" if waiting else "ready" if plan and algae else "not asked"
    if plan is None:
        before = _before(site, asked)
        return before._replace(making=making)
    why = plan.fault or (algae.fault if algae else "")
    return Planned(plan.plan, algae.algae if algae else None, "failed" if why else making, why)


def tasks(site: Site, day: date) -> tuple[Task, ...]:
    """The work of a day: from the state once there are entries, else from the plan.

    Empty while there is no plan.
    """
    known = planned(site)
    if known.plan is None:
        return ()
    animals = species(known.plan.hatchery.species)
    return present_tasks(state(site), known.plan, animals, day, known.algae)


def keep(
    site: Site, asked: Question, kept: KeptPlan | KeptAlgae,
) -> None:  # fmt: skip
    """Keep an answer; of each name the two latest stay."""
    name = PLAN if isinstance(kept, KeptPlan) else ALGAE
    found, _ = Answer.objects.get_or_create(site=site, name=name, question=asked.key)
    found.content = packed(kept)
    found.save(update_fields=["content"])
    mine = Answer.objects.filter(site=site, name=name).order_by("-id")
    Answer.objects.filter(pk__in=list(mine.values_list("pk", flat=True)[2:])).delete()


def _before(site: Site, asked: Question) -> Planned:
    """The last plan of another question, with its schedule."""
    rows = Answer.objects.filter(site=site).exclude(question=asked.key).order_by("-id")
    for row in rows.filter(name=PLAN):
        plan = _plan(site, row)
        if plan is not None and plan.plan is not None:
            algae = _algae(rows.filter(name=ALGAE, question=row.question).first())
            return Planned(plan.plan, algae.algae if algae else None, "ready")
    return Planned(None, None, "not asked")


def _plan(site: Site, row: Answer | None) -> KeptPlan | None:
    kept = _kept_plan(bytes(row.content)) if row else None
    if kept is None or kept.plan is None:
        return kept
    text = site.descriptions.filter(pk=kept.description).values_list("text", flat=True).first()
    if text is None:
        return None
    return replace(kept, plan=replace(kept.plan, hatchery=described(text, site.name)))


def _algae(row: Answer | None) -> KeptAlgae | None:
    return _kept_algae(bytes(row.content)) if row else None


@lru_cache(maxsize=32)
def _kept_plan(content: bytes) -> KeptPlan | None:
    return _opened(content, KeptPlan)


@lru_cache(maxsize=32)
def _kept_algae(content: bytes) -> KeptAlgae | None:
    return _opened(content, KeptAlgae)


Kept = TypeVar("Kept", KeptPlan, KeptAlgae)


def _opened(content: bytes, kind: type[Kept]) -> Kept | None:
    """What is kept; None where nothing is there yet, or an older version of the program left it."""
    try:
        return unpacked(content, kind) if content else None
    except BadInput:
        return None


@lru_cache(maxsize=256)
def _season(text: str) -> str:
    """The season that a description is of, by the words of its file."""
    return str(tomllib.loads(text).get("season", {}).get("first_day"))
