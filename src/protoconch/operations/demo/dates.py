"""The demonstration's calendar, moved so that today lies in the middle of its season."""

import re
from datetime import date, timedelta

from protoconch.hatchery.calendar_words import month_name
from protoconch.hatchery.reading import demo_hatchery, whole_demo_text

FIRST_TRIP = date(2027, 4, 12)
"""About when the plan of the demonstration, unmoved, first collects."""
MIDDLE = timedelta(days=84)
"""So long after the first trip is the middle of the season."""
DATE = re.compile(r"^(first_day|last_day|by)(\s*=\s*)(\d{4}-\d{2}-\d{2})", re.MULTILINE)
MONTHS = re.compile(r"^months\s*=.*$", re.MULTILINE)
TEMPERATURE = re.compile(r"^temperature\s*=\s*\[[^\]]*\]", re.MULTILINE)

MOVED = """\
# Every date of this file was moved by {days} days, and the months of the permit and of the water's
# temperatures with them, so that the day on which it was made lies in the middle of the season.
# So its summer may be in your winter: the place does not exist, and neither does its climate.

"""


def moved_by(today: date) -> timedelta:
    """How far the demonstration is moved: whole weeks, so that its weekdays stay."""
    return timedelta(weeks=round((today - FIRST_TRIP - MIDDLE).days / 7))


def demo_text_for(today: date) -> str:
    """The whole description of the invented hatchery with its season around today.

    Today is about twelve weeks after the first trip, when animals are in every stage.
    """
    by, hatchery = moved_by(today), demo_hatchery()
    months = round(by.days / 30.44)
    text = DATE.sub(lambda found: f"{found[1]}{found[2]}{_moved(found[3], by)}", whole_demo_text())
    first, last = hatchery.first_day + by, hatchery.last_day + by
    allowed = f'months = "{month_name(first.month)} to {month_name(last.month)}"'
    warm = [hatchery.temperature_c[(month - months) % 12] for month in range(12)]
    text = MONTHS.sub(allowed, text, count=1)
    text = TEMPERATURE.sub(f"temperature = {warm}", text, count=1)
    return MOVED.format(days=by.days) + text


def _moved(day: str, by: timedelta) -> str:
    return (date.fromisoformat(day) + by).isoformat()
