"""A generated log of ten years: the invented season again and again, each time in other weeks."""

import json
import re
from dataclasses import replace
from datetime import datetime, timedelta
from typing import Any
from uuid import NAMESPACE_URL, uuid5

UUIDS = re.compile(r"[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}")
BATCH = re.compile(r'"(\d\d[A-Z])"|/(\d\d[A-Z])(?=[/"])')
MOMENT = re.compile(r'"(\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(?:\.\d+)?[+-]\d\d:\d\d)"')


def made(entries: int, years: float, now: datetime) -> None:
    """The invented hatchery in the records that are open, with so many entries over the years."""
    from protoconch.log.reading import written
    from protoconch.operations import demonstration
    from protoconch.records.models import Site
    from protoconch.records.queries.log import state
    from protoconch.records.queries.reading import read

    demonstration.season, demonstration.season_algae = quick_season, quick_algae
    demonstration.begin_demonstration(now, print)
    site = Site.objects.get()
    season = [written(entry) for entry in sorted(read(site), key=lambda entry: entry.order)]
    last = datetime.fromisoformat(season[-1]["happened"])
    season += ended(state(site), last)
    times = round(entries / len(season)) - 1
    apart = timedelta(days=years * 365.25 / (times + 1))
    for number in range(1, times + 1):
        print(f"\r{number} of {times} earlier seasons", end="", flush=True)
        put(site, [moved(raw, number, apart) for raw in season])
    print()


def ended(state: Any, when: datetime) -> list[dict[str, Any]]:
    """Entries by which a season's vessels are emptied."""
    found = []
    parts = [("lost", name, {"cause": "end of the season"}) for name in state.holdings]
    parts += [("culture ended", name, {"reason": "not needed"}) for name in state.cultures]
    for number, (kind, where, payload) in enumerate(parts):
        moment = (when + timedelta(seconds=number + 1)).isoformat()
        found.append({
            "id": str(uuid5(NAMESPACE_URL, f"end {where}")), "kind": kind, "happened": moment,
            "arrived": moment, "who": "crew A", "where": where, "payload": payload, "task": "",
        })  # fmt: skip
    return found


def moved(raw: dict[str, Any], number: int, apart: timedelta) -> dict[str, Any]:
    """The same entry of an earlier season: other ids, batches and times."""
    text = json.dumps(raw)
    text = UUIDS.sub(lambda id_: str(uuid5(NAMESPACE_URL, f"{number} {id_[0]}")), text)
    text = BATCH.sub(lambda code: re.sub(r"(\d\d[A-Z])", rf"\g<1>{number}", code[0]), text)
    earlier = number * apart
    return json.loads(MOMENT.sub(
        lambda said: f'"{(datetime.fromisoformat(said[1]) - earlier).isoformat()}"', text
    ))  # fmt: skip


def put(site: Any, season: list[dict[str, Any]]) -> None:
    """Entries into the log, at once."""
    from protoconch.log.reading import stored
    from protoconch.records.models import Entry
    from protoconch.records.rows import row_of

    Entry.objects.bulk_create([row_of(site, stored(raw)) for raw in season], batch_size=500)


def quick_season(here: Any, today: Any) -> Any:
    """A plan by few draws."""
    from protoconch.animals.profiles import species
    from protoconch.season.plan.planning import plan_season
    from protoconch.season.plan.study import Effort
    from protoconch.sources.reading import load_table
    from protoconch.work import hours

    return plan_season(
        here, species(here.species), here.target, hours, load_table("season"), 1, today=today,
        effort=Effort(400, 800, 200), compare=False,
    )  # fmt: skip


def quick_algae(plan: Any, room: Any) -> Any:
    """A schedule that is not made sure."""
    from protoconch.work.season_work import season_algae

    return season_algae(plan, replace(room, days_fed=0.2), 0.02, 2)
