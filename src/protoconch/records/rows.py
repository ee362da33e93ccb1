"""An entry of the log as a row of its table."""

from protoconch.log.entry import Entry
from protoconch.log.fold.corrections import target
from protoconch.log.reading import written
from protoconch.records.models import Entry as Row
from protoconch.records.models import Site


def row_of(site: Site, entry: Entry) -> Row:
    """The row, not saved yet."""
    payload = written(entry)["payload"]
    return Row(
        uuid=entry.id, site=site, kind=entry.kind, happened=entry.happened,
        arrived=entry.arrived, who=entry.who, where=entry.where, task=entry.task,
        batch=str(payload.get("batch") or ""), corrects=target(entry), payload=payload,
        unasked=entry.unasked,
    )  # fmt: skip
