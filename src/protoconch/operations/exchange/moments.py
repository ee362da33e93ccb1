"""Days and times as tables have them, by the order of their dates and the site's clock."""

import re
from datetime import UTC, date, datetime, time, tzinfo

from protoconch.errors import BadInput
from protoconch.words import say

DATE = re.compile(r"^(\d{1,4})[./-](\d{1,2})[./-](\d{1,4})(?:[T,\s]+(.*))?$")
TIME = re.compile(
    r"^(\d{1,2})(?:[:.h](\d{2}))?(?:[:.](\d{2})(?:[.,]\d+)?)?\s*([ap]\.?m\.?)?$", re.IGNORECASE
)
EXAMPLE = "2027-07-14 08:30"


def moment_of(cell: str, clock: str, order: str, zone: tzinfo) -> datetime:
    """A day with its time, or a day and a time of day from another column.

    clock: the other column's cell, empty where there is none. order: as `table_found` names it.
    Raises: BadInput.
    """
    typed = f"{cell.strip()} {clock.strip()}".strip()
    try:
        read = datetime.fromisoformat(typed.replace(" Z", "Z"))
        if read.tzinfo is not None:
            return read.astimezone(zone)
        if re.match(r"\d{4}-", typed):
            return _real(read.replace(tzinfo=zone), typed)
    except (ValueError, OverflowError):
        pass
    found = DATE.match(typed)
    if found is None:
        raise BadInput(
            say(
                "The time is '{typed}', which is none; write it such as {example}.",
                typed=typed[:60],
                example=EXAMPLE,
            )
        )
    return _real(datetime.combine(_day(found, order), _clock(found[4] or "", typed), zone), typed)


def day_of(cell: str, order: str) -> date:
    """A day. Raises: BadInput."""
    found = DATE.match(cell.strip())
    if found is None:
        raise BadInput(
            say("The day is '{cell}', which is none; write it such as 2027-07-14.", cell=cell[:60])
        )
    return _day(found, order)


def _day(found: re.Match[str], order: str) -> date:
    parts = [int(found[n]) for n in (1, 2, 3)]
    if len(found[1]) == 4 or order.startswith("year"):
        year, month, day = parts
    elif order.startswith("day"):
        day, month, year = parts
    else:
        month, day, year = parts
    year += 2000 if year < 100 else 0
    typed = found[0].split()[0][:20]
    try:
        made = date(year, month, day)
    except ValueError:
        raise BadInput(
            say(
                "There is no day '{typed}' read as {order}; write it such as 2027-07-14, or "
                "choose another order of the dates.",
                typed=typed,
                order=order.replace("-", ", "),
            )
        ) from None
    if not 2000 <= made.year <= 2100:
        raise BadInput(
            say(
                "The day '{typed}' lies in {year}; give a year from 2000 to 2100.",
                typed=typed,
                year=made.year,
            )
        )
    return made


def _clock(typed: str, whole: str) -> time:
    if not typed.strip():
        return time()
    found = TIME.match(typed.strip())
    hour = _hour(found) if found else None
    minute, second = (int(found[2] or 0), int(found[3] or 0)) if found else (60, 0)
    if hour is None or hour > 23 or minute > 59 or second > 59:
        raise BadInput(
            say("The time of day in '{whole}' is none; write it such as 08:30.", whole=whole[:60])
        )
    return time(hour, minute, second)


def _hour(found: re.Match[str]) -> int | None:
    """The hour from 0, None where morning or afternoon is said of one that has none."""
    hour = int(found[1])
    if not found[4]:
        return hour
    late = found[4].lower().startswith("p")
    return hour % 12 + 12 * late if 1 <= hour <= 12 else None


def _real(moment: datetime, typed: str) -> datetime:
    """The moment, where the site's clock shows it at all: an hour is left out each spring."""
    back = moment.astimezone(UTC).astimezone(moment.tzinfo)
    if back.replace(tzinfo=None) != moment.replace(tzinfo=None):
        raise BadInput(
            say(
                "The clock never showed {typed}: it was put forward then; give the time after it.",
                typed=typed[:60],
            )
        )
    return moment
