"""The photos of an entry or of several, those taken back left out."""

from collections.abc import Iterable, Mapping
from uuid import UUID

from protoconch.log.entry import Entry
from protoconch.log.fold.replay import by_name, items_of
from protoconch.log.payloads.words import Photo
from protoconch.records.models import Entry as Row
from protoconch.records.models import Photo as Picture
from protoconch.records.models import Site
from protoconch.records.queries.pointers import Trees, brought_up
from protoconch.records.queries.reading import read
from protoconch.records.queries.site import hatchery


def photos(site: Site, of: Iterable[UUID]) -> Mapping[UUID, tuple[Entry, ...]]:
    """The photo entries that count, by the entry whose photo they are, in the log's order.

    of: entries; a photo that is one of them is its own photo as well.
    """
    wanted = set(of)
    found = [
        entry for entry in read(site, kind="photo")
        if isinstance(entry.payload, Photo) and ({entry.id, entry.payload.of} & wanted)
    ]  # fmt: skip
    if not found:
        return {}
    pointing = brought_up(site, Trees()).known
    whole = {entry.id: entry for entry in (*pointing.values(), *found)}
    items = items_of(whole.values(), by_name(hatchery(site)))
    own: dict[UUID, list[Entry]] = {}
    ids = {entry.id for entry in found}
    for item in items:
        said = item.entry.payload
        if item.entry.id in ids and item.counted and isinstance(said, Photo):
            for one in dict.fromkeys((said.of, item.entry.id)):
                if one is not None and one in wanted:
                    own.setdefault(one, []).append(item.entry)
    return {one: tuple(each) for one, each in own.items()}


def photos_of_batch(site: Site, code: str) -> tuple[Entry, ...]:
    """The photos of all entries that name a batch or that tell what was seen of it.

    code: "27A".
    """
    from protoconch.records.queries.log import state

    known = state(site).batches.get(code)
    ids = set(Row.objects.filter(site=site, batch=code).values_list("uuid", flat=True))
    if known is not None:
        ids |= {seen.entry for seen in known.sightings}
    found = {entry.id: entry for each in photos(site, ids).values() for entry in each}
    return tuple(sorted(found.values(), key=lambda entry: entry.order))


def picture(site: Site, name: str) -> Picture | None:
    """The picture of that name, None where this hatchery has none."""
    return Picture.objects.filter(site=site, name=name).first()
