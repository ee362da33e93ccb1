"""The judgement of the seawater system, worked out once for a description and a day."""

from datetime import date
from functools import lru_cache
from typing import NamedTuple

from protoconch.errors import ProtoconchError
from protoconch.hatchery.description import Hatchery
from protoconch.records.models import Site
from protoconch.records.queries.site import described, description
from protoconch.sheets.site_report import WEIGHT_WORDS, site_answer
from protoconch.waterworks.assessment import Assessment, assessment


class Soundness(NamedTuple):
    """The hatchery, and its seawater system judged.

    seen: None where there is no seawater system described, or where it cannot be worked out; why
    says the reason then.
    """

    hatchery: Hatchery
    seen: Assessment | None
    why: str = ""

    @property
    def answer(self) -> str:
        """The judgement in one sentence, empty where there is none."""
        return site_answer(self.seen) if self.seen else ""

    @property
    def heavy(self) -> list[tuple[str, str, str, str]]:
        """Dangers and faults: weight, where, what and remedy, heaviest first."""
        found = self.seen.findings if self.seen else ()
        return [(WEIGHT_WORDS[f.weight], f.where, f.what, f.remedy)
                for f in found if f.weight in ("danger", "fault")]  # fmt: skip


def soundness(site: Site, today: date) -> Soundness:
    """The site's hatchery and its water, from today on."""
    return _judged(description(site).text, site.name, today)


@lru_cache(maxsize=16)
def _judged(text: str, name: str, today: date) -> Soundness:
    hatchery = described(text, name)
    if hatchery.waterworks is None:
        return Soundness(hatchery, None)
    try:
        return Soundness(hatchery, assessment(hatchery.waterworks, first=today))
    except ProtoconchError as fault:
        return Soundness(hatchery, None, fault.sentence)
