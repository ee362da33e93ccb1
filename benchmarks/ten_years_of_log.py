"""How long the log takes to fold: ten invented years, 200,000 entries, then one more of each sort.

Run `python -m benchmarks.ten_years_of_log [entries]` in the repository.
"""

import random
import sys
import time
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from uuid import UUID

from protoconch.hatchery.reading import demo_hatchery
from protoconch.hatchery.vessels import vessels
from protoconch.log.entry import Entry
from protoconch.log.fold import Folding, fold
from protoconch.log.kinds import KINDS
from protoconch.log.reading import stored, written

FIRST = datetime(2027, 4, 1, 7, 0, tzinfo=UTC)
YEARS = 10


def ten_years(entries: int, seed: int = 5) -> Iterator[Entry]:
    """Invented entries in order of when they happened, as a busy hatchery would write them."""
    dice = random.Random(seed)
    known = vessels(demo_hatchery())
    tanks = [v.name for v in known if v.kind == "larval tank"]
    trays = [v.name for v in known if v.kind == "tray"]
    nursery = [v.name for v in known if v.kind == "nursery tank"]
    algae = [v.name for v in known if v.kind == "algae vessel"]
    step = timedelta(days=365 * YEARS) / entries
    for n in range(entries):
        at = FIRST + step * n
        code = f"{at.year % 100}{chr(65 + (at.timetuple().tm_yday // 30))}"
        tank, tray, race = dice.choice(tanks), dice.choice(trays), dice.choice(nursery)
        kind, where, payload = dice.choices(
            [
                ("fed", tank, {"foods": [{"food": "t-iso", "litres": 3.2}]}),
                ("read", tank, {"quantity": "temperature", "value": dice.uniform(26, 30)}),
                (
                    "counted",
                    tank,
                    {
                        "aliquots": [dice.randint(3, 40) for _ in range(5)],
                        "aliquot_ml": 5,
                        "litres": 400,
                    },
                ),
                ("measured", race, {"lengths_mm": [dice.uniform(5, 9) for _ in range(20)]}),
                ("stocked", tank, {"batch": code, "animals": 20_000}),
                ("moved", tank, {"to": [tray]}),
                ("moved", tray, {"to": [race]}),
                ("lost", race, {"animals": dice.randint(0, 3)}),
                ("culture counted", dice.choice(algae), {"cells_per_ml": 4e6}),
                ("inoculated", dice.choice(algae), {"species": "t-iso", "litres": 1.8}),
                ("harvested", dice.choice(algae), {"litres": 1.0}),
                ("culture ended", dice.choice(algae), {"reason": "used up"}),
                ("water changed", tank, {"share": 1.0}),
                ("pumped", "reservoir", {"litres": 2000}),
                ("done", "", {"work": "siphon"}),
                ("note", "", {"text": "calm sea"}),
            ],
            [22, 22, 12, 4, 0.6, 0.5, 0.5, 5, 6, 2, 4, 1.5, 6, 1, 6, 2],
        )[0]
        yield Entry(
            UUID(int=dice.getrandbits(128)), kind, at, at + timedelta(minutes=3), "crew A", where,
            KINDS[kind].payload.model_validate(payload), f"{at:%Y-%m-%d}|{kind}|{where}",
        )  # fmt: skip


def main(entries: int) -> None:
    """Print the times."""
    hatchery = demo_hatchery()
    log = list(ten_years(entries))
    kept = [written(entry) for entry in log]
    began = time.perf_counter()
    read = [stored(row) for row in kept]
    print(f"{entries:,} entries read back from what was written: {_since(began):.2f} s")
    began = time.perf_counter()
    state = fold(read, hatchery)
    print(f"folded: {_since(began):.2f} s; {len(state.doubts):,} doubts,"
          f" {len(state.batches)} batches, {len(state.settled):,} settled lines")  # fmt: skip
    began = time.perf_counter()
    folding = Folding(hatchery, log)
    print(f"folded with resting points: {_since(began):.2f} s")
    last = log[-1].happened
    times = []
    for n in range(300):
        entry = Entry(UUID(int=n), "note", last + timedelta(minutes=n), last, "crew A", "",
                      KINDS["note"].payload.model_validate({"text": "x"}), f"task {n}")  # fmt: skip
        began = time.perf_counter()
        folding.add([entry])
        times.append(_since(began) * 1000)
    times.sort()
    print(f"one more entry: median {times[150]:.2f} ms, p95 {times[285]:.2f} ms")
    for back, words in ((100, "2 days"), (2_000, "a month"), (entries // 2, "half the log")):
        wrong = log[-back]
        fix = Entry(
            UUID(int=10_000 + back),
            "correction",
            last,
            last,
            "crew A",
            "",
            KINDS["correction"].payload.model_validate({"of": wrong.id, "withdraw": True}),
        )
        began = time.perf_counter()
        folding.add([fix])
        print(f"a correction of {words} ago: {_since(began) * 1000:.0f} ms")


def _since(began: float) -> float:
    return time.perf_counter() - began


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 200_000)
