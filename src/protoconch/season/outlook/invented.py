"""Invented logs: what would be written in a season whose truth is known.

The truth is drawn from the beliefs; each lot is followed day by day with the rates of the stage
model. The crew counts, measures and checks, and moves animals as the model does: larvae once a
sample is ready, the settled once they have the size, all by the plan's latest dates. What is
written has the errors of the table of counting. Each lot has a raceway of its own while there are
enough. Used to prove the outlook, to show it, and to try a way of counting.
"""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.special import expit, ndtr, ndtri

from protoconch.animals.size import share_longer
from protoconch.log.entry import Entry
from protoconch.season.answer import Batch
from protoconch.season.outlook.basis import Basis
from protoconch.season.outlook.clumping import effective_size
from protoconch.season.outlook.invented_crew import USUAL, Crew, Habits, Truth
from protoconch.season.outlook.likelihood import SURVIVALS
from protoconch.season.outlook.unknowns import BIAS, CLUMPING, SEEN

__all__ = ["USUAL", "Habits", "Truth", "invented_log"]


class _Season(Crew):
    """The crew with the plan's batches to follow."""

    def batch(self, batch: Batch) -> None:
        """Follow a batch from its egg masses to the last day looked at."""
        b, basis, u = self.basis.beliefs, self.basis, self.truth.unknown
        code, day = basis.code(batch.code), basis.day(batch.dates.collect)
        if day > self.until:
            return
        for number in range(batch.egg_masses):
            self.write(day, "egg mass collected", mass=f"{code}-{number + 1}")
        self.write(day, "incubator loaded", "incubator 1", batch=code, masses=(f"{code}-1",),
                   eggs=round(batch.eggs))  # fmt: skip
        quality = self.effect(f"{code} quality")
        factor = np.exp(u["variation.batch"] * quality)
        q10 = u["incubation.q10"]
        egg_days = u["incubation.days"] * q10 ** ((b.incubation_c - b.growth_c) / 10)
        egg_days *= np.exp(basis.measures.number("hatch.day_spread") * self.rng.standard_normal())
        hatch = self.first(day, egg_days)
        if hatch > self.until:
            return
        share = u["incubation.hatch_share"] ** factor
        error = basis.measures.number("hatch.count_error") * self.rng.standard_normal()
        self.write(hatch, "hatched", "incubator 1", batch=code,
                   veligers=max(round(batch.eggs * share * np.exp(error)), 1))  # fmt: skip
        trays, half = self._trays(batch), 1.0 - np.sqrt(1.0 - b.batch_loss)
        together = self.losses(half, half)
        for place, tank in enumerate(batch.tanks):
            alone = self.losses(b.tank_larval_loss, b.tank_nursery_loss)
            lost = (min(together[0], alone[0]), min(together[1], alone[1]))
            _Lot(self, batch, code, f"{tank.kind} tank {tank.number}", tank.litres, hatch,
                 float(factor), trays[place], self.next_lot, lost).follow()  # fmt: skip
            self.next_lot += 1

    def _trays(self, batch: Batch) -> list[list[str]]:
        """Trays of each tank: the plan's, shared out."""
        kind_of, count = next(iter(batch.trays.items()))
        each = max(count // len(batch.tanks), 1)
        first = self.next_tray
        self.next_tray += each * len(batch.tanks)
        total = sum(t.count for t in self.basis.plan.hatchery.trays if t.name == kind_of)
        names = [f"{kind_of} {(first + i - 1) % total + 1}" for i in range(each * len(batch.tanks))]
        return [names[i * each : (i + 1) * each] for i in range(len(batch.tanks))]


@dataclass(slots=True)
class _Lot:
    """One lot while it is followed."""

    crew: Crew
    batch: Batch
    code: str
    tank: str
    litres: float
    hatch: int
    factor: float
    trays: list[str]
    place: int
    lost: tuple[int, int]
    alive: float = 0.0
    numbers: int = 0

    @property
    def key(self) -> str:
        return f"{self.code} {self.tank}"

    def follow(self) -> None:
        """From stocking to the last day, each morning's work and each day's deaths."""
        for stage in (self._as_larvae(), self._on_trays(), self._in_nursery()):
            for day in stage:
                self.crew.truth.alive.setdefault(self.key, {})[day] = self.alive
                if day == self._loss_day():
                    for vessel in self._vessels():
                        self.crew.write(day, "lost", vessel, cause="all dead")
                    self.crew.truth.alive[self.key][day] = self.alive = 0.0
                    return
                if day == self.crew.until and self.stage:
                    self._finish(day)
                self._die(day)

    def _finish(self, day: int) -> None:
        """Note how many have the size asked on the last day, and release them."""
        ready = self.crew.truth.ready[self.key] = self.alive * self._long_enough(day)
        if self.crew.habits.release and self.stage == 2 and round(ready):
            self.crew.write(day, "released", self.raceway, animals=round(ready), site="north bank")

    def _loss_day(self) -> int:
        """Morning on which all of it is lost, if it lives on in its stage until then."""
        return self.entered + self.lost[1] if self.stage == 2 else self.hatch + self.lost[0]

    def _vessels(self) -> list[str]:
        return [[self.tank], self.trays, [self.raceway]][self.stage]

    def _long_enough(self, day: int) -> float:
        """Share of it that has the size asked."""
        spread = np.sqrt(np.log1p(self.crew.truth.unknown["growth.size_cv"] ** 2))
        grown = np.array(max(self._grown(day), 1e-9))
        return float(share_longer(grown, self.crew.basis.size_days, spread))

    def _die(self, day: int) -> None:
        """Deaths from this morning to the next, by stage."""
        self.alive *= np.exp(-self._mortality(self.stage, day))

    stage: int = 0

    def _mortality(self, stage: int, day: int) -> float:
        crew, u = self.crew, self.crew.truth.unknown
        b = crew.basis.beliefs
        if stage == 2 and self._grown(day) >= b.small_juvenile_days:
            stage = 3
        days = (b.veliger_survival_days, *np.diff(b.path.days))[stage]
        names = ("veliger", "post-larva", "small juvenile", "juvenile")
        tank = np.exp(u["variation.tank"] * crew.effect(f"{self.key} {names[stage]}"))
        return float(-np.log(u[SURVIVALS[stage]]) / days * self.factor * tank)

    induced: int = 10**6
    entered: int = 10**6

    def _grown(self, day: int) -> float:
        crew, clock = self.crew, self.crew.truth.clock
        growth = crew.truth.unknown["variation.growth_site"] * np.exp(
            crew.basis.beliefs.growth_batch_sd * crew.effect(f"{self.code} growth"))  # fmt: skip
        return float((clock[day] - clock[self.induced]) * growth)

    def _set(self, day: int, animals: float, name: str) -> None:
        """Stock or thin to a number, which is never exactly the one written."""
        self.numbers += 1
        error = self.crew.basis.measures.number("count.stocking_error")
        true = animals * np.exp(error * self.crew.effect(f"{self.key} number {self.numbers}"))
        told = {"batch": self.code, "animals": round(animals)} if name == "stocked" else {
            "kept": round(animals)}  # fmt: skip
        self.crew.write(day, name, self.tank, **told)
        self.alive = float(true)

    def _as_larvae(self) -> Iterator[int]:
        crew, habits = self.crew, self.crew.habits
        b, u, clock = crew.basis.beliefs, crew.truth.unknown, crew.truth.clock
        q10 = u["incubation.q10"]
        period = np.exp(b.period_batch_sd * crew.effect(f"{self.code} period"))
        needed = u["competence_days"] * q10 ** ((b.veliger_c - b.growth_c) / 10) * period
        latest = min(crew.basis.day(self.batch.dates.tank_until),
                     self.hatch + int(b.longest_larval_days))  # fmt: skip
        self._set(self.hatch, b.density[0][1] * self.litres, "stocked")
        last = self.alive
        for day in range(self.hatch, crew.until + 1):
            age = day - self.hatch
            progress = clock[day] - clock[self.hatch]
            if age and age % habits.count_every == 0:
                last = self._count_aliquots(day)
                self._measure(day, *self._larval_length(progress / needed))
            target = next((p * self.litres for a, p in b.density[1:] if int(a) == age), None)
            if target and last > target:
                self._set(day, target, "thinned")
                last = target
            share = float(ndtr(np.log(max(progress, 1e-9) / needed) / b.competence_spread
                               + ndtri(b.competent_at_induction)))  # fmt: skip
            found = 0.0
            if age >= 14 and age % 2 == 0:
                ready = int(crew.rng.binomial(habits.checked, share))
                crew.write(day, "competence checked", self.tank, looked_at=habits.checked,
                           competent=ready)  # fmt: skip
                found = ready / habits.checked
            if found >= 0.8 or (day >= latest and age > 0):
                self._induce(day, share)
                return
            yield day

    def _count_aliquots(self, day: int) -> float:
        crew, habits, u = self.crew, self.crew.habits, self.crew.truth.unknown
        m = habits.aliquots
        part = habits.aliquot_ml * m / 1000.0 / self.litres
        size = float(effective_size(np.array(u[CLUMPING]), np.array(float(m)),
                                    crew.basis.measures.number("count.volume_error")))  # fmt: skip
        total = crew.clumped(self.alive * part * np.exp(u[BIAS]), size)
        shares = crew.rng.dirichlet(np.full(m, u[CLUMPING]))
        found = crew.rng.multinomial(total, shares)
        crew.write(day, "counted", self.tank, aliquots=tuple(int(x) for x in found),
                   aliquot_ml=habits.aliquot_ml, litres=self.litres)  # fmt: skip
        return total / part

    def _larval_length(self, share: float) -> tuple[float, float]:
        m = self.crew.basis.measures
        mm = m.hatch_mm + (m.competent_mm - m.hatch_mm) * share
        spread = self.crew.basis.beliefs.competence_spread * float(np.clip(share, 0.05, 1.3))
        return mm, spread

    def _measure(self, day: int, middle_mm: float, spread: float) -> None:
        """Write a mean length of larvae."""
        crew, n = self.crew, self.crew.habits.measured
        error = crew.basis.measures.number("length.sample_error")
        off = np.hypot(spread / np.sqrt(n), error) * crew.rng.standard_normal()
        mean = float(middle_mm * np.exp(off))
        crew.write(day, "measured", self.tank, mean_mm=round(mean, 4), animals=n)

    def _induce(self, day: int, share: float) -> None:
        crew, u = self.crew, self.crew.truth.unknown
        b = crew.basis.beliefs
        self.induced, self.stage = day, 1
        area = sum(crew.basis.vessels.sizes[name][1] for name in self.trays)
        placed = min(self.alive * share, area * b.larvae_per_cm2)
        size = 1 / crew.basis.measures.number("count.stocking_error") ** 2
        crew.write(day, "moved", self.tank, to=tuple(self.trays),
                   animals=crew.clumped(placed, size))  # fmt: skip
        m = u["settlement.metamorphosis_share"]
        shift = b.metamorphosis_sd * crew.effect(f"{self.code} settle")
        self.alive = float(placed * expit(np.log(m / (1 - m)) + shift))

    def _on_trays(self) -> Iterator[int]:
        crew = self.crew
        big = crew.basis.beliefs.post_larva_days
        latest = crew.basis.day(self.batch.dates.tray_until)
        for day in range(self.induced, crew.until + 1):
            since = day - self.induced
            if since and since % (2 * crew.habits.count_every) == 0:
                tray = self.trays[(since // 8) % len(self.trays)]
                self._count_all(day, tray, 1.0 / len(self.trays))
            if since and since % 14 == 0:
                self._measure_settled(day, self.trays[0])
            if since and (self._grown(day) >= big or day >= latest):
                for tray in self.trays:
                    crew.write(day, "moved", tray, to=(self.raceway,))
                self.stage = 2
                return
            yield day

    @property
    def raceway(self) -> str:
        tank = self.crew.basis.plan.hatchery.nursery[0]
        return f"{tank.name} {self.place % tank.count + 1}"

    def _count_all(self, day: int, where: str, share: float) -> None:
        size = 1 / self.crew.basis.measures.number("count.total_error") ** 2
        self.crew.write(day, "counted", where, animals=self.crew.clumped(self.alive * share, size))

    def _measure_settled(self, day: int, where: str) -> None:
        """Write the lengths of a sample, one by one."""
        crew, n = self.crew, self.crew.habits.measured
        spread = float(np.sqrt(np.log1p(crew.truth.unknown["growth.size_cv"] ** 2)))
        error = crew.basis.measures.number("length.sample_error")
        shared = error * crew.rng.standard_normal()
        log_days = np.log(self._grown(day)) + shared + spread * crew.rng.standard_normal(n)
        lengths = crew.basis.beliefs.path.length_mm(np.exp(log_days))
        crew.write(day, "measured", where, lengths_mm=tuple(np.minimum(lengths, 399.0).tolist()))

    def _in_nursery(self) -> Iterator[int]:
        crew, every = self.crew, self.crew.habits.nursery_every
        entered = self.entered = self._today()
        before = self.alive
        for day in range(entered, crew.until + 1):
            since = day - entered
            if since and since % every == 0:
                self._count_all(day, self.raceway, 1.0)
                self._measure_settled(day, self.raceway)
                died = (before - self.alive) * crew.truth.unknown[SEEN]
                found = crew.clumped(died, crew.basis.measures.number("count.dead_size"))
                crew.write(day, "lost", self.raceway, animals=min(found, int(0.25 * self.alive)))
                before = self.alive
            yield day

    def _today(self) -> int:
        """The morning after the last one followed."""
        return max(self.crew.truth.alive.get(self.key, {self.hatch: 0.0}), default=self.hatch) + 1


def invented_log(
    basis: Basis,
    rng: np.random.Generator,
    until: int,
    habits: Habits = USUAL,
    site: NDArray[np.float64] | None = None,
) -> tuple[tuple[Entry, ...], Truth]:
    """A log of the plan's batches up to a day, and the truth behind it.

    until: last day of the season that is written. site: unknowns of the site, as standard normals
    in the order of `basis.site.names`; drawn where None. Raises: nothing that the plan allows.
    """
    crew = _Season(basis, habits, rng, until, site)
    if habits.read_water:
        for day in range(until):
            crew.write(day, "read", "reservoir", quantity="temperature",
                       value=float(crew.temperature[day]))  # fmt: skip
    for batch in basis.plan.batches:
        crew.batch(batch)
    return tuple(sorted(crew.entries, key=lambda entry: entry.order)), crew.truth
