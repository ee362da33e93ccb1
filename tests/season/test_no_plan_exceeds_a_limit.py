"""Over invented hatcheries and targets: no plan asks for more than there is, on any day."""

from collections import Counter
from dataclasses import replace
from datetime import date, timedelta

import numpy as np
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from protoconch.animals.profiles import species
from protoconch.errors import BadInput
from protoconch.hatchery.description import LarvalTank, NurseryTank, Permit, Target, Tray
from protoconch.hatchery.reading import demo_hatchery
from protoconch.season.plan.planning import plan_season
from protoconch.season.plan.study import Effort
from protoconch.sources.reading import load_table
from protoconch.work import hours
from protoconch.work.tasks import season_tasks

QUICK = Effort(common=300, fresh=300, look=200)

rooms = st.builds(
    lambda tanks, litres, small, trays, floors, places, masses, months, algae, week: replace(
        demo_hatchery(),
        larval_tanks=(LarvalTank("large", tanks, litres), LarvalTank("small", small, 100.0)),
        trays=(Tray("tray", trays, 3600.0), Tray("bin", 4, 2000.0)),
        nursery=(NurseryTank("raceway", floors, 3.0),),
        incubator_places=places,
        permit=Permit(masses, months, "nowhere", "INVENTED"),
        algae_dry_g_per_day=algae,
        crew_hours=(week,) * 5 + (week / 2,) * 2,
        first_day=date(2027, 4, 1),
        last_day=date(2027, 6, 20),
    ),
    st.integers(1, 4),
    st.sampled_from([150.0, 400.0, 1000.0]),
    st.integers(0, 2),
    st.integers(1, 40),
    st.integers(1, 10),
    st.integers(1, 10),
    st.integers(1, 20),
    st.sampled_from([(4,), (5, 6), (4, 5, 6, 7)]),
    st.sampled_from([0.05, 0.4, 3.0]),
    st.sampled_from([6.0, 10.0, 20.0]),
)
targets = st.builds(
    Target, st.sampled_from([20, 200, 2000]), st.sampled_from([20.0, 50.0, 80.0]),
    st.sampled_from([date(2027, 12, 1), date(2028, 6, 1), date(2028, 11, 1)]),
    st.sampled_from([0.5, 0.8, 0.95]),
)  # fmt: skip


def held(batches, start, until):
    """Days on which something is held, with who holds it."""
    for batch in batches:
        day = start(batch)
        while day <= until(batch):
            yield day, batch
            day += timedelta(days=1)


@settings(max_examples=12, suppress_health_check=[HealthCheck.too_slow])
@given(rooms, targets)
def test_no_plan_exceeds_a_limit(hatchery, target):
    animal = species("queen-conch")
    try:
        plan = plan_season(hatchery, animal, target, hours, load_table("season"), 3,
                           effort=QUICK, compare=False)  # fmt: skip
    except BadInput:
        assume(False)
        return
    assert plan.egg_masses <= hatchery.permit.egg_masses
    for batch in plan.batches:
        assert batch.dates.collect.month in hatchery.permit.months
        assert hatchery.first_day <= batch.dates.collect <= hatchery.last_day
        assert batch.egg_masses <= hatchery.incubator_places
        assert batch.share_of_mass <= 1.0 + 1e-9
    assert_each_tank_has_one_batch(plan, hatchery)
    assert_trays_are_there(plan, hatchery)
    ahead = plan.forecast
    assert np.all(ahead.tanks_used <= sum(t.count for t in hatchery.larval_tanks))
    assert np.all(ahead.trays_cm2 <= hatchery.tray_area_cm2 + 1e-6)
    assert np.all(ahead.nursery_m2_p90 <= hatchery.nursery_area_m2 + 1e-9)
    assert np.all(ahead.algae_g <= hatchery.algae_dry_g_per_day + 1e-9)
    assert_hours_are_there(plan, hatchery)
    minutes = Counter()
    for task in season_tasks(plan, animal):
        minutes[task.day] += task.minutes
    for day, total in minutes.items():
        assert total / 60 <= hatchery.crew_hours[day.weekday()] + 1e-6, day


def assert_each_tank_has_one_batch(plan, hatchery):
    """No tank holds two batches on a day, and every tank is in the room."""
    counts = {tank.name: tank.count for tank in hatchery.larval_tanks}
    owners = {}
    for day, batch in held(plan.batches, lambda b: b.dates.hatch, lambda b: b.dates.tank_until):
        for tank in batch.tanks:
            assert 1 <= tank.number <= counts[tank.kind]
            assert owners.setdefault((day, tank.kind, tank.number), batch.code) == batch.code


def assert_trays_are_there(plan, hatchery):
    """No day needs more trays of a kind than the room has."""
    used = Counter()
    for day, batch in held(plan.batches, lambda b: b.dates.induce, lambda b: b.dates.tray_until):
        for kind, count in batch.trays.items():
            used[day, kind] += count
    counts = {tray.name: tray.count for tray in hatchery.trays}
    assert all(number <= counts[kind] for (_, kind), number in used.items())


def assert_hours_are_there(plan, hatchery):
    """No day needs more hours than the crew has."""
    first = plan.forecast.first_day
    for number, needed in enumerate(plan.forecast.work_h):
        weekday = (first + timedelta(days=number)).weekday()
        assert needed <= hatchery.crew_hours[weekday] + 1e-6
