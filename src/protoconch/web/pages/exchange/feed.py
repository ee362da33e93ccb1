"""The work of the next 60 days as a calendar, at an address that only its owner knows."""

from datetime import date, timedelta
from zoneinfo import ZoneInfo

from django.core.cache import cache
from django.http import Http404, HttpRequest, HttpResponse
from django.utils import timezone
from django.utils.translation import get_language

from protoconch.errors import MissingInput
from protoconch.operations.exchange.keys import CALENDAR, key_of
from protoconch.records.models import Site
from protoconch.records.queries.answers import planned, question, tasks
from protoconch.records.queries.reading import last_arrived
from protoconch.sheets.work_list_calendar import work_calendar
from protoconch.web.access import ANYONE, allowed
from protoconch.web.shell.reading import read_for

DAYS = 60
KEPT_S = 6 * 3600


@allowed(ANYONE)
def work_feed(request: HttpRequest, secret: str) -> HttpResponse:  # noqa: ARG001
    """The calendar of the hatchery whose person has that key."""
    key = key_of(secret, CALENDAR, timezone.now())
    if key is None:
        raise Http404
    site = key.person.site
    today = timezone.localdate(timezone=ZoneInfo(site.zone))
    with read_for(key.person):
        calendar = _calendar(site, today)
    answer = HttpResponse(calendar, content_type="text/calendar; charset=utf-8")
    answer["Content-Disposition"] = 'inline; filename="work.ics"'
    answer["Cache-Control"] = "private, max-age=900"
    answer["Referrer-Policy"] = "no-referrer"
    return answer


def _calendar(site: Site, today: date) -> bytes:
    """The calendar, made once for each day, each reader and each change of the log or the plan."""
    try:
        asked = question(site).key
    except MissingInput:
        asked = ""
    name = (f"feed {site.pk} {asked[:32]} {planned(site).making} {last_arrived(site).uuid} {today}"
            f" {get_language()} {site.us_units}").replace(" ", "-")  # fmt: skip
    kept = cache.get(name)
    if kept is None:
        ahead = [t for n in range(DAYS) for t in tasks(site, today + timedelta(days=n))]
        kept = work_calendar(ahead, site.name, timezone.now())
        cache.set(name, kept, KEPT_S)
    made: bytes = kept
    return made
