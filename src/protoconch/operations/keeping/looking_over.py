"""Whether the records are whole: the database, the log, the descriptions, the photos."""

from collections.abc import Iterator
from hashlib import sha256

from django.db import connection
from pydantic import ValidationError

from protoconch.errors import BrokenRecords, ProtoconchError
from protoconch.log.fold import fold
from protoconch.log.kinds import KINDS
from protoconch.log.payloads.words import Photo as PhotoTold
from protoconch.operations.opening import check_sound
from protoconch.records.append_only import guards
from protoconch.records.models import Entry as Row
from protoconch.records.models import Photo, Site
from protoconch.records.queries.reading import read
from protoconch.records.queries.site import hatchery
from protoconch.records.queries.states import forget, state
from protoconch.words import say


def faults() -> Iterator[str]:
    """What is wrong with the records, a sentence each; nothing where all is well."""
    try:
        check_sound()
    except BrokenRecords as fault:
        yield str(fault)
        return
    if not guards(connection):
        yield say(
            "The database does not guard the log against changes: start protoconch serve once."
        )
    unread = list(_unread())
    yield from unread
    for site in Site.objects.all():
        yield from _site(site, sound=not unread)


def _unread() -> Iterator[str]:
    columns = ("number", "kind", "payload")
    for number, kind, payload in Row.objects.values_list(*columns).iterator(5000):
        try:
            KINDS[kind].payload.model_validate(payload)
        except (KeyError, ValidationError):
            yield say(
                "Entry {number} of the log, '{kind}', cannot be read.", number=number, kind=kind
            )


def _site(site: Site, *, sound: bool) -> Iterator[str]:
    try:
        described = hatchery(site)
    except ProtoconchError as fault:
        yield say(
            "The description of {site} cannot be read. {why}",
            site=site,
            why=str(fault).splitlines()[0],
        )
        return
    yield from _photos(site)
    if not sound:
        return
    entries = read(site)
    shown = {e.payload.photo for e in entries if isinstance(e.payload, PhotoTold)}
    for lost in sorted(shown - set(site.photos.values_list("name", flat=True))):
        yield say(
            "The log of {site} shows a photo {lost} that is not kept.", site=site, lost=lost[:12]
        )
    forget()  # so that the snapshots are used
    if state(site) != fold(entries, described):
        yield (
            say(
                "A snapshot of {site} does not agree with its log; delete the rows of "
                "records_snapshot, which are made anew.",
                site=site,
            )
        )


def _photos(site: Site) -> Iterator[str]:
    for photo in Photo.objects.filter(site=site).iterator(20):
        if sha256(bytes(photo.content)).hexdigest() != photo.name:
            yield say(
                "The photo {name} of {site} is not as it was taken in.",
                name=photo.name[:12],
                site=site,
            )
