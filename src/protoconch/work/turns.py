"""Whose water is changed on which day, so that every day has about as many tanks to change."""

from protoconch.season.answer import TankUse
from protoconch.work.expected import ExpectedBatch

Turns = dict[tuple[str, str, int], int]
"""By batch and tank (kind, number): on which day of the round its water is changed, from 0."""


def change_turns(batches: tuple[ExpectedBatch, ...]) -> Turns:
    """The turn of every larval tank of a plan, given out in the order of hatching.

    Each tank takes the turn that shares the fewest days with tanks that have it already.
    """
    turns: Turns = {}
    given: list[tuple[ExpectedBatch, int]] = []
    for batch in sorted(batches, key=lambda b: b.batch.dates.hatch):
        round_days = change_every_days(batch)
        for tank in batch.batch.tanks:
            load = [
                sum(_days_together(batch, other) for other, taken in given if taken == turn)
                for turn in range(round_days)
            ]
            turn = load.index(min(load))
            turns[turn_key(batch, tank)] = turn
            given.append((batch, turn))
    return turns


def change_every_days(batch: ExpectedBatch) -> int:
    """Days from one water change of a tank to the next."""
    return max(int(batch.value("veliger.water_change_every_days").number), 1)


def turn_key(batch: ExpectedBatch, tank: TankUse) -> tuple[str, str, int]:
    """Under which the turn of a tank is found."""
    return batch.batch.code, tank.kind, tank.number


def _days_together(one: ExpectedBatch, other: ExpectedBatch) -> int:
    begin = max(one.batch.dates.hatch, other.batch.dates.hatch)
    end = min(one.batch.dates.induce, other.batch.dates.induce)
    return max((end - begin).days, 0)
