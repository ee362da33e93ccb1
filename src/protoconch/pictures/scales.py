"""Where a day, a number or a number of animals lies in a drawing."""

import math
from dataclasses import dataclass
from datetime import date, timedelta


@dataclass(frozen=True, slots=True)
class TimeScale:
    """Days along a line: `first` lies at `start` [px] and `last` at `end` [px]."""

    first: date
    last: date
    start: float
    end: float

    @property
    def per_day(self) -> float:
        """Length of one day [px]."""
        return (self.end - self.start) / max(1, (self.last - self.first).days)

    def at(self, day: date) -> float:
        """Place of the morning of a day [px]; days outside are put at the nearer end."""
        inside = min(max(day, self.first), self.last)
        return self.start + (inside - self.first).days * self.per_day

    def holds(self, day: date) -> bool:
        """Whether the day lies on the scale."""
        return self.first <= day <= self.last

    def months(self) -> tuple[date, ...]:
        """The first days of the months on the scale."""
        month = date(self.first.year, self.first.month, 1)
        found = []
        while month <= self.last:
            if month >= self.first:
                found.append(month)
            month = (month + timedelta(days=32)).replace(day=1)
        return tuple(found)


@dataclass(frozen=True, slots=True)
class NumberScale:
    """Numbers along a line: `low` lies at `start` [px] and `high` at `end` [px]."""

    low: float
    high: float
    start: float
    end: float

    def at(self, number: float) -> float:
        """Place of a number [px]."""
        share = (number - self.low) / (self.high - self.low)
        return self.start + share * (self.end - self.start)

    def ticks(self, wanted: int = 5) -> tuple[float, ...]:
        """About so many round numbers on the scale: steps of 1, 2 or 5 times a power of ten."""
        step = round_step((self.high - self.low) / max(1, wanted))
        first = math.ceil(self.low / step - 1e-9)
        last = math.floor(self.high / step + 1e-9)
        return tuple(i * step for i in range(first, last + 1))


def round_step(least: float) -> float:
    """The smallest of 1, 2, 5 times a power of ten that is not less."""
    power = 10.0 ** math.floor(math.log10(least))
    return next(step * power for step in (1, 2, 5, 10) if step * power >= least * (1 - 1e-9))


@dataclass(frozen=True, slots=True)
class Thickness:
    """Thickness of a ribbon: one and the same step [px] for each tenfold of animals.

    least: the number of animals [-] at which the ribbon has no thickness left.
    """

    step: float
    least: float = 10.0

    def of(self, animals: float) -> float:
        """Thickness for so many animals [px]; nothing at or below the least."""
        return self.step * math.log10(animals / self.least) if animals > self.least else 0.0

    def tenfolds(self, most: float) -> tuple[float, ...]:
        """Tenfolds of the least above it and below so many animals: 100, 1,000, 10,000 ..."""
        count = math.ceil(math.log10(max(most, self.least) / self.least) - 1e-9)
        return tuple(self.least * 10.0**i for i in range(1, count))
