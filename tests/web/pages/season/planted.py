"""An invented hatchery in the middle of its season: planned, and with a log of what was seen."""

from dataclasses import replace
from datetime import datetime, time, timedelta
from functools import cache
from uuid import NAMESPACE_OID, uuid5
from zoneinfo import ZoneInfo

import numpy as np

from protoconch.animals.profiles import species
from protoconch.hatchery.reading import read_hatchery
from protoconch.hatchery.vessels import vessels
from protoconch.log.entry import Entry
from protoconch.log.kinds import KINDS
from protoconch.operations.demo.dates import demo_text_for
from protoconch.records.models import Description, Person, Role, Site
from protoconch.records.queries.answers import KeptAlgae, KeptPlan, keep, question
from protoconch.records.rows import row_of
from protoconch.season.answer import SeasonPlan
from protoconch.season.plan.planning import plan_season
from protoconch.season.plan.study import Effort
from protoconch.sources.reading import load_table
from protoconch.work import hours
from protoconch.work.names import code_in_log, name_of
from tests.fixtures.kept import kept

ZONE = "America/Nassau"
TODAY = datetime.now(ZoneInfo(ZONE)).date()
QUICK = Effort(common=1500, fresh=3000, look=800)


@cache
def season(today, effort=QUICK, compare=True):
    """The text of an invented hatchery whose season is under way today, and its plan."""
    text = demo_text_for(today)
    hatchery = read_hatchery(text, "demo.toml")

    def planned():
        return plan_season(
            hatchery, species(hatchery.species), hatchery.target, hours, load_table("season"), 1,
            effort=effort, compare=compare,
        )  # fmt: skip

    plan = kept(SeasonPlan, f"{text}{effort}{compare}", planned)
    return text, replace(plan, hatchery=hatchery)


def planted(today, *, effort=QUICK, compare=True, logged=True):
    """A hatchery with its plan kept, people, and the log up to today; returns site and plan."""
    text, plan = season(today, effort, compare)
    site = Site.objects.create(name="Nowhere Cay practice hatchery", zone=ZONE)
    row = Description.objects.create(site=site, text=text, by="the test")
    keep(site, question(site), KeptPlan(row.pk, plan))
    keep(site, question(site), KeptAlgae(row.pk, None))
    if logged:
        for entry in entries(plan, today):
            row_of(site, entry).save()
    return site, plan


def person(site, name="manager A", role=Role.MANAGER):
    return Person.objects.create_user(
        name.replace(" ", "-"), "a password of the tests", site=site, name=name, role=role
    )


def entries(plan, today):
    """What a crew would have logged: masses, hatch, stocking, counts, lengths, moves, losses."""
    return sorted(_Crew(plan, today).entries, key=lambda entry: entry.order)


class _Crew:
    def __init__(self, plan, today):
        self.plan, self.today, self.entries = plan, today, []
        self.rng = np.random.default_rng(3)
        known = vessels(plan.hatchery)
        self.trays = [v.name for v in known if v.kind == "tray"]
        self.nursery = [v.name for v in known if v.kind == "nursery tank"]
        self.incubators = [v.name for v in known if v.kind == "incubator"]
        for number, batch in enumerate(plan.batches):
            if batch.dates.collect <= today:
                self.batch(number, batch)

    def log(self, kind, day, where="", hour=9, **parts):
        if day > self.today:
            return
        happened = datetime.combine(day, time(hour), ZoneInfo(ZONE))
        payload = KINDS[kind].payload(**parts)
        name = f"{kind}{day}{where}{len(self.entries)}"
        self.entries.append(
            Entry(uuid5(NAMESPACE_OID, name), kind, happened, happened, "crew A", where, payload)
        )

    def alive(self, number, day):
        daily = self.plan.forecast.batches[number]
        index = (min(day, self.today) - self.plan.forecast.first_day).days
        return int(daily.alive_p50[index] * (0.8 + 0.5 * (number % 3) / 2))

    def batch(self, number, batch):
        code = code_in_log(self.plan, batch.code)
        trays = self.trays[4 * number % 28 : 4 * number % 28 + 3]
        self.eggs(number, batch, code)
        self.larvae(number, batch, code, trays)
        self.on_trays(number, batch, trays)
        self.grown(number, batch, trays)

    def eggs(self, number, batch, code):
        dates, masses = batch.dates, [f"M{number}-{i}" for i in range(batch.egg_masses)]
        for mass in masses:
            self.log(
                "egg mass collected", dates.collect, mass=mass, site="north bank",
                share_taken=0.1, eggs=int(batch.eggs / len(masses)), permit="INVENTED-01",
            )  # fmt: skip
        place = self.incubators[number % len(self.incubators)]
        self.log(
            "incubator loaded", dates.collect, place, 10, batch=code, masses=tuple(masses),
            eggs=int(batch.eggs),
        )  # fmt: skip
        self.log("hatched", dates.hatch, place, 8, batch=code, veligers=int(batch.eggs * 0.7))
        self.log("lost", dates.hatch, place, 12, cause="not needed after stocking")

    def larvae(self, number, batch, code, trays):
        dates, tanks = batch.dates, [name_of(tank) for tank in batch.tanks]
        for tank in tanks:
            stocked = int(batch.stocked.p50 / len(tanks))
            self.log("stocked", dates.hatch, tank, 10, batch=code, animals=stocked, litres=400.0)
            for age in range(2, (dates.induce - dates.hatch).days, 3):
                day = dates.hatch + timedelta(days=age)
                each = self.alive(number, day) / len(tanks) / 400.0 * 0.1
                drawn = tuple(int(n) for n in self.rng.poisson(max(each, 0.1), 6))
                self.log("counted", day, tank, aliquots=drawn, aliquot_ml=100.0, litres=400.0)
                self.log("measured", day, tank, 10, mean_mm=0.3 + 0.04 * age, sd_mm=0.04,
                         animals=20)  # fmt: skip
                self.log("fed", day, tank, 16, foods=({"food": "Isochrysis", "litres": 2.5},))
            self.log("moved", dates.induce, tank, to=tuple(trays))

    def on_trays(self, number, batch, trays):
        dates = batch.dates
        for tray in trays:
            day = dates.induce + timedelta(days=3)
            self.log("settled", day, tray, animals=self.alive(number, day) // 3)
            for after in range(10, 45, 8):
                day = dates.induce + timedelta(days=after)
                if day < dates.to_nursery:
                    self.log("counted", day, tray, animals=self.alive(number, day) // 3)
                    self.log("measured", day, tray, 11, mean_mm=1.2 + 0.1 * after, sd_mm=0.3,
                             animals=15)  # fmt: skip
        self.log("note", dates.induce + timedelta(days=5), trays[0],
                 text="Film on the trays is thin; leave the light on an hour longer.")  # fmt: skip

    def grown(self, number, batch, trays):
        home = self.nursery[number % len(self.nursery)]
        start = batch.dates.to_nursery
        for tray in trays:
            self.log("moved", start, tray, to=(home,))
        for after in range(5, 300, 21):
            day = start + timedelta(days=after)
            self.log("counted", day, home, animals=self.alive(number, day))
            self.log("measured", day, home, 11, mean_mm=min(5.0 + 0.22 * after, 90.0), sd_mm=2.0,
                     animals=30)  # fmt: skip
        self.log("lost", start + timedelta(days=12), home, animals=14, cause="crabs")
