"""Everything there is as tables: the log by kind, the state, the plan, the work, the readings."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from datetime import date, datetime, timedelta
from typing import Any

from protoconch.log.fields import field_of
from protoconch.log.fold.replay import by_name, items_of
from protoconch.log.kinds import KINDS
from protoconch.log.payloads.water import QUANTITIES, Read
from protoconch.log.table import ENTRY_COLUMNS, columns, columns_of, rows
from protoconch.operations.exchange.state_tables import state_sheets
from protoconch.records.models import Site
from protoconch.records.queries import log
from protoconch.records.queries.answers import planned, tasks
from protoconch.records.queries.pointers import Trees, brought_up
from protoconch.records.queries.reading import read
from protoconch.records.queries.site import hatchery
from protoconch.season.answer import Batch
from protoconch.sheets.workbook import Cell, Column, Sheet, readme, slug
from protoconch.words import joined, phrase, say
from protoconch.work.names import code_in_log

AT_ONCE = 2000
WORK_DAYS = 14
NESTED = ("fed", "graded", "moved", "incubator loaded", "correction")
"""Kinds whose columns follow from their entries: so many foods, so many classes."""

ENTRY_WORDS = {
    "id": say("number of the entry"), "kind": say("kind of entry"),
    "happened": say("when it was seen or done, by the site's clock, with its zone (ISO 8601)"),
    "arrived": say("when the log got it (ISO 8601)"), "who": say("who saw or did it"),
    "where": say("vessel or place"), "task": say("line of the work list that it settles"),
    "unasked": say("yes where it came from a phone without network, so that nobody could be asked"),
}  # fmt: skip
AS_WRITTEN = say(
    "stand as they were first written; what was put right stands under correction and confirmed,"
    " while the state and the readings are as of all that is known"
)
CLOCK = Column(
    "site clock", "", say("when it was seen or done, by the site's clock, without a zone")
)


def everything(site: Site, today: date, made: datetime) -> tuple[Sheet, ...]:
    """All tables, the one that explains them first. made: when, with a zone."""
    sheets = tuple(build(site, today) for build in _BUILT)
    found = tuple(sheet for each in sheets for sheet in each)
    about = (
        ("hatchery", site.name),
        ("zone", say("times are by the clock of {zone}", zone=site.zone)),
        ("made", made.isoformat(timespec="minutes")),
        ("entries", AS_WRITTEN),
    )
    return (readme(found, about), *found)


def sheet_of(site: Site, name: str, today: date) -> Sheet | None:
    """One table by the name of its file, None where there is none."""
    kinds = [kind for kind in KINDS if slug(kind) == name or name == "entries"]
    if kinds:
        return _entries(site, "entries" if name == "entries" else kinds[0], kinds, "")
    found = (one for build in _BUILT[1:] for one in build(site, today))
    return next((one for one in found if one.file == name), None)


def _logged(site: Site, _today: date) -> tuple[Sheet, ...]:
    """A table for each kind that the log has, and one of all."""
    counted = set(site.entries.order_by().values_list("kind", flat=True).distinct())
    kinds = [kind for kind in KINDS if kind in counted]
    whole = _entries(site, "entries", kinds, say("All entries of the log, in their order."))
    return (
        whole,
        *(_entries(site, kind, [kind], say("Entries: {kind}.", kind=kind)) for kind in kinds),
    )


def _entries(site: Site, name: str, kinds: Sequence[str], words: str) -> Sheet:
    names = _names(site, kinds)
    one = kinds[0] if len(kinds) == 1 else ""
    told = tuple(_column(one, column) for column in names)

    def cells() -> Iterator[Sequence[Cell]]:
        found = site.entries.filter(kind__in=kinds).order_by("happened", "uuid")
        for row in found.select_related("site").iterator(AT_ONCE):
            (entry,) = log.entries([row])
            (flat,) = rows([entry])
            local = entry.happened.replace(tzinfo=None, microsecond=0)
            yield (local, *(_cell(entry.kind, column, flat.get(column)) for column in names))

    return Sheet(name, words, (CLOCK, *told), cells())


def _names(site: Site, kinds: Sequence[str]) -> tuple[str, ...]:
    """The columns of entries of those kinds; lists of parts as many times as they are used."""
    names = dict.fromkeys(columns(kind for kind in kinds if kind not in NESTED))
    for kind in [kind for kind in kinds if kind in NESTED]:
        found = site.entries.filter(kind=kind).order_by("happened", "uuid").select_related("site")
        used: dict[str, None] = {}
        for row in found.iterator(AT_ONCE):
            used |= dict.fromkeys(columns_of(rows(log.entries([row]))))
        names |= dict.fromkeys(_sorted(used))
    return tuple(names)


def _sorted(used: Mapping[str, None]) -> list[str]:
    """Numbered parts in the order of their numbers, after the simple ones."""

    def place(name: str) -> tuple[int, str, int]:
        head, _dot, rest = name.partition(".")
        number = rest.partition(".")[0]
        first = ENTRY_COLUMNS.index(name) if name in ENTRY_COLUMNS else len(ENTRY_COLUMNS)
        return first, head if number else "", int(number) if number.isdecimal() else 0

    return sorted(used, key=place)


def _column(kind: str, name: str) -> Column:
    if name in ENTRY_COLUMNS:
        return Column(name, "", ENTRY_WORDS[name])
    field = field_of(kind, name.removeprefix("new ").rpartition(".")[2])
    return Column(name, field.shown_unit, field.words)


def _cell(kind: str, column: str, text: str | None) -> Cell:
    """A number as a number, so that a table program can reckon with it."""
    if text is None or column in ENTRY_COLUMNS:
        return text
    if field_of(kind, column.removeprefix("new ").rpartition(".")[2]).is_number:
        try:
            return float(text)
        except ValueError:
            return text
    return text


def _readings(site: Site, _today: date) -> tuple[Sheet, ...]:
    """All readings that count, as they read now, with their units."""
    columns_ = (
        CLOCK, Column("happened", "", ENTRY_WORDS["happened"]), Column("where", "", "place"),
        Column("quantity", "", say("what was read")), Column("value", "",
        say("the value that was read")),
        Column("unit", "", say("of the value")), Column("instrument"), Column("who"), Column("id"),
    )  # fmt: skip

    def cells() -> Iterator[Sequence[Cell]]:
        found = {one.id: one for one in read(site, kind="read")}
        pointing = brought_up(site, Trees()).known
        whole = {**pointing, **found}
        for item in items_of(whole.values(), by_name(hatchery(site))):
            entry = item.entry
            said = entry.payload
            if item.counted and isinstance(said, Read):
                unit = QUANTITIES[said.quantity][0]
                yield (
                    entry.happened.replace(tzinfo=None, microsecond=0), entry.happened.isoformat(),
                    entry.where, said.quantity, said.value, "" if unit == "1" else unit,
                    said.instrument, entry.who, str(entry.id),
                )  # fmt: skip

    words = say("All readings that count, as they read after corrections.")
    return (Sheet("readings", words, columns_, cells()),)


def _state(site: Site, _today: date) -> tuple[Sheet, ...]:
    return state_sheets(log.state(site))


def _plan(site: Site, _today: date) -> tuple[Sheet, ...]:
    """The planned batches."""
    plan = planned(site).plan
    columns_ = (
        Column("batch", "", say("the batch as the log calls it")), Column("egg_masses"),
        Column("eggs"), Column("share_of_mass"), Column("tanks"), Column("litres", "L"),
        *(Column(day, "", say("planned day: {day}", day=say(words))) for day,
        words in DAYS.items()),
        *(Column(f"{what}_{part}", "", say("number {what}: {part}", what=say(words), part=part))
          for what, words in SPREADS.items() for part in ("p10", "p50", "p90")),
    )  # fmt: skip
    batches: tuple[Batch, ...] = plan.batches if plan else ()
    cells = [
        (
            code_in_log(plan, one.code) if plan else one.code,
            one.egg_masses, one.eggs, one.share_of_mass,
            ", ".join(f"{tank.kind} {tank.number}" for tank in one.tanks), one.litres,
            *(getattr(one.dates, day) for day in DAYS),
            *(getattr(getattr(one, what), part)
              for what in SPREADS for part in ("p10", "p50", "p90")),
        )
        for one in batches
    ]  # fmt: skip
    words = say("The batches of the plan in force: what is expected, and its 10 % and 90 % limits.")
    return (Sheet("plan batches", words, columns_, cells),)


DAYS = {
    "collect": phrase("collect"), "hatch": phrase("hatch"), "induce": phrase("induce"),
    "to_nursery": phrase("to nursery"), "ready": phrase("ready"), "release": phrase("release"),
}  # fmt: skip
SPREADS = {
    "stocked": phrase("stocked"), "competent": phrase("competent"), "settled": phrase("settled"),
    "to_nursery": phrase("to nursery"), "released": phrase("released"),
}  # fmt: skip


def _work(site: Site, today: date) -> tuple[Sheet, ...]:
    """The work of the next two weeks, from what there is."""
    columns_ = (
        Column("day"), Column("round"), Column("kind"), Column("batch"), Column("what"),
        Column("where"), Column("amount"), Column("minutes", "min"), Column("why"),
        Column("cautions"), Column("task", "", say("what an entry settles the line by")),
    )  # fmt: skip

    def cells() -> Iterator[Sequence[Cell]]:
        for ahead in range(WORK_DAYS):
            for task in tasks(site, today + timedelta(days=ahead)):
                yield (
                    task.day, task.round, task.kind, task.batch, str(task.what), str(task.where),
                    str(task.amount), task.minutes, str(task.why), str(joined(task.cautions)),
                    task.key,
                )  # fmt: skip

    return (Sheet("work list", say("The work of the next two weeks."), columns_, cells()),)


_BUILT: tuple[Callable[[Site, date], tuple[Any, ...]], ...] = (
    _logged, _readings, _state, _plan, _work,
)  # fmt: skip
