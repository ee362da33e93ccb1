"""Days in addresses, and days in words."""

from datetime import date, datetime, time, timedelta

from django.utils import timezone
from django.utils.formats import date_format
from django.utils.translation import gettext as _

HOURS = {"morning": time(8), "midday": time(12), "evening": time(18)}
"""When a round usually is, offered for work of a past day; common practice, no source."""


class DayConverter:
    """A day in an address: 2027-07-14."""

    regex = r"20\d\d-\d\d-\d\d"

    def to_python(self, value: str) -> date:
        """The day. Raises: ValueError, which the addresses take for nothing there."""
        return date.fromisoformat(value)

    def to_url(self, value: date) -> str:
        """As it stands in an address."""
        return value.isoformat()


def here_today() -> date:
    """The day it is by the site's clock."""
    return timezone.localdate()


def in_words(day: date) -> str:
    """A day as people name it: "Wednesday 14 July"."""
    return date_format(day, _("l j F"))


def neighbours(day: date) -> tuple[date | None, date | None]:
    """The day before and the day after, within what an address can name."""
    first, last = date(2000, 1, 1), date(2099, 12, 31)
    one = timedelta(days=1)
    return (day - one if day > first else None), (day + one if day < last else None)


def hour_of(day: date, round_name: str) -> str:
    """When work of a past day was most likely done, for the field that asks when."""
    return datetime.combine(day, HOURS[round_name]).isoformat(timespec="minutes")
