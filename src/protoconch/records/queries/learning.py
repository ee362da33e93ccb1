"""What the log of each season said of the hatchery's numbers, and what of it waits to be used."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from functools import lru_cache

from protoconch.animals.profiles import species
from protoconch.errors import BadInput, MissingInput
from protoconch.hatchery.own_values import learned, learned_from
from protoconch.records.models import Answer, Site
from protoconch.records.packing import packed, unpacked
from protoconch.records.queries.site import described, description, hatchery
from protoconch.season.outlook.own_numbers import OwnNumber, own_numbers
from protoconch.season.outlook.season_said import Book, SeasonSaid, book
from protoconch.sources.reading import load_table
from protoconch.sources.values import SourcedValue

SAID, REFUSED = "season said", "season refused"


@dataclass(frozen=True, slots=True)
class KeptSeason:
    """What a season's log said, as it was last worked out. over: whether the season was over."""

    said: SeasonSaid
    over: bool


@dataclass(frozen=True, slots=True)
class Offer:
    """Numbers that the log has moved and that wait for the manager's word.

    numbers: what they would become. over: whether the seasons behind them are over. refused:
    whether the manager has left them as they are.
    """

    numbers: tuple[OwnNumber, ...]
    over: bool
    refused: bool

    @property
    def ready(self) -> bool:
        """Whether the manager is to be asked."""
        return bool(self.numbers) and self.over and not self.refused


NOTHING = Offer((), over=False, refused=False)


def keep_season(site: Site, kept: KeptSeason) -> None:
    """Keep what a season's log said, in the place of what it said before."""
    Answer.objects.update_or_create(
        site=site, name=SAID, question=kept.said.first_day.isoformat(),
        defaults={"content": packed(kept)},
    )  # fmt: skip


def keep_refused(site: Site, first_days: tuple[date, ...], *, refused: bool) -> None:
    """Keep that what these seasons said is left alone, or no longer."""
    for day in first_days:
        mine = {"site": site, "name": REFUSED, "question": day.isoformat()}
        if refused:
            Answer.objects.update_or_create(**mine, defaults={"content": b"refused"})
        else:
            Answer.objects.filter(**mine).delete()


def kept_seasons(site: Site) -> tuple[KeptSeason, ...]:
    """What the log of each season said, the earliest first."""
    found = []
    for row in Answer.objects.filter(site=site, name=SAID).order_by("question"):
        try:
            found.append(unpacked(bytes(row.content), KeptSeason))
        except BadInput:
            continue
    return tuple(found)


def offer(site: Site) -> Offer:
    """What the log would change of the hatchery's numbers as they are described now.

    A season that is under way alone is offered too, though it is not `over`: the manager may say
    so. Once another season is over, that one waits until it is.
    """
    try:
        here = hatchery(site)
    except MissingInput:
        return NOTHING
    kept = [
        KeptSeason(each.said, each.over or each.said.last_day < here.first_day)
        for each in kept_seasons(site)
    ]
    chosen = [each for each in kept if each.over] or kept
    of = _book(description(site).text, site.name)
    numbers = own_numbers(of, [each.said for each in chosen], here.own_values)
    if not numbers:
        return NOTHING
    waiting = {season.first_day.isoformat() for number in numbers for season in number.seasons}
    waiting &= {each.said.first_day.isoformat() for each in chosen}
    refused = set(Answer.objects.filter(site=site, name=REFUSED, question__in=waiting)
                  .values_list("question", flat=True))  # fmt: skip
    taught = {
        season.first_day.isoformat()
        for value in learned(here.own_values).values() for season in learned_from(value)
    }  # fmt: skip
    return Offer(numbers, over=any(each.over for each in chosen),
                 refused=bool(waiting - taught) and waiting - taught <= refused)  # fmt: skip


def in_use(site: Site) -> Mapping[str, SourcedValue]:
    """The hatchery's numbers that its log has taught it, by name."""
    try:
        return learned(hatchery(site).own_values)
    except MissingInput:
        return {}


@lru_cache(maxsize=8)
def _book(text: str, name: str) -> Book:
    """What is believed without the log of a hatchery so described."""
    here = described(text, name)
    return book(species(here.species), here, load_table("season"), load_table("outlook"))
