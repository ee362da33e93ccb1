"""The particles agree with a general sampler on a reduced model (see reduced_posterior.py)."""

import json
from datetime import UTC, datetime, timedelta
from pathlib import Path
from uuid import UUID

import pytest

from protoconch.log.entry import Entry
from protoconch.log.kinds import kind
from protoconch.season.outlook.update import updated
from tests.season.outlook.seasons import FIRST, on, small

HERE = Path(__file__).parent
SAMPLED = json.loads((HERE / "reduced_posterior.json").read_text("utf-8"))["mean_and_sd"]
DAYS = (3, 6, 9, 12, 15)
COUNTS = (
    ((19, 13, 24, 16, 17), (12, 20, 16, 18, 11), (15, 9, 17, 12, 16), (14, 12, 9, 15, 10),
     (8, 12, 13, 9, 10)),
    ((17, 16, 12, 21, 15), (11, 14, 10, 17, 13), (9, 12, 6, 11, 13), (7, 8, 10, 5, 9),
     (4, 8, 5, 7, 6)),
)  # fmt: skip


def reduced_log() -> list[Entry]:
    """Two tanks stocked on day 10 and counted, nothing else."""
    made: list[Entry] = []

    def write(day: int, name: str, where: str, **told: object) -> None:
        at = datetime.combine(FIRST, datetime.min.time(), UTC) + timedelta(days=day, hours=8)
        made.append(Entry(UUID(int=len(made) + 1), name, at, at, "crew A", where,
                          kind(name).payload.model_validate(told)))  # fmt: skip

    for tank in (0, 1):
        where = f"large tank {tank + 1}"
        write(10, "stocked", where, batch="27A", animals=40000)
        for day, counts in zip(DAYS, COUNTS[tank], strict=True):
            write(10 + day, "counted", where, aliquots=counts, aliquot_ml=200, litres=400)
    return made


def name_here(name: str) -> str:
    """What the outlook calls a coordinate of the reduced model."""
    part, _, tank = name.partition(" ")
    if part == "quality":
        return "27A quality"
    return {"veliger": f"27A large tank {tank} veliger",
            "number": f"27A large tank {tank} number 1"}.get(part, name)  # fmt: skip


def test_means_and_spreads_agree_with_a_general_sampler() -> None:
    told = updated(small(), reduced_log(), on(40), 3, particles=6000)
    assert not told.surprises
    names = told.layout.coordinates.names
    for name, (mean, sd) in SAMPLED.items():
        z = told.z[names.index(name_here(name))]
        assert abs(z.mean() - mean) < 0.1 * sd, name
        assert z.std() == pytest.approx(sd, rel=0.1), name
