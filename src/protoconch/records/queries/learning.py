"""What the log of each season said of the hatchery's numbers, and what of it waits to be used."""

from dataclasses import dataclass
from datetime import date
from functools import lru_cache

from protoconch.animals.profiles import species
from protoconch.errors import BadInput, MissingInput
from protoconch.hatchery.own_values import learned_from
from protoconch.records.models import Answer, Site
from protoconch.records.packing import packed, unpacked
from protoconch.records.queries.site import described, description, hatchery
from protoconch.season.outlook.own_numbers import OwnNumber, learned_numbers, own_numbers
from protoconch.season.outlook.season_said import Book, SeasonSaid, book
from protoconch.sources.reading import load_table

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
        question = day.isoformat()
        if refused:
            Answer.objects.update_or_create(
                site=site, name=REFUSED, question=question, defaults={"content": b"refused"}
            )
        else:
            Answer.objects.filter(site=site, name=REFUSED, question=question).delete()


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

    Where no season that is over changes any, one that is under way is offered, not `over`: the
    manager may use it all the same.
    """
    try:
        here = hatchery(site)
    except MissingInput:
        return NOTHING
    seasons = kept_seasons(site)
    ended = [each.said for each in seasons if each.over or each.said.last_day < here.first_day]
    of = _book(description(site).text, site.name)
    numbers = own_numbers(of, ended, here.own_values)
    over = bool(numbers)
    if not over:
        numbers = own_numbers(of, [each.said for each in seasons], here.own_values)
    used = {one.first_day for value in here.own_values.values() for one in learned_from(value)}
    new = {one.first_day for number in numbers for one in number.seasons} - used
    refused = Answer.objects.filter(
        site=site, name=REFUSED, question__in=[day.isoformat() for day in new]
    )
    return Offer(numbers, over, refused=bool(new) and refused.count() == len(new))


def in_use(site: Site) -> tuple[OwnNumber, ...]:
    """The hatchery's numbers that its log has taught it, with how far they moved."""
    try:
        here = hatchery(site)
    except MissingInput:
        return ()
    return learned_numbers(_book(description(site).text, site.name), here.own_values)


@lru_cache(maxsize=8)
def _book(text: str, name: str) -> Book:
    """What is believed without the log of a hatchery so described."""
    here = described(text, name)
    return book(species(here.species), here, load_table("season"), load_table("outlook"))
