"""The UV dose by flow, age and intensity."""

from datetime import UTC, datetime, timedelta
from uuid import uuid4

import pytest

from protoconch.log.state import Part
from protoconch.waterworks.hydraulics.pipes import pipe_size
from protoconch.waterworks.network.parts import Uv
from protoconch.waterworks.parameters import number
from protoconch.waterworks.treatment.uv import Lamp, uv_dose_mj_cm2
from protoconch.work.waterside.lamps import age_share, lamp_now
from protoconch.work.waterside.readings import Seen

BEGIN = datetime(2027, 1, 1, tzinfo=UTC)
LAMP = Lamp(75.0, 25.0, 90.0, 0.8, 0.9, 0.7)
UNIT = Uv(name="UV unit", start="a", end="b", lamp=LAMP, size=pipe_size("pvc-sch40", 2), k=2.0)
ORDER = 0.9


def seen(what, value, day=1.0):
    return {("UV unit", what): (Seen(uuid4(), BEGIN + timedelta(days=day), value, "crew A"),)}


def now(**parts):
    return BEGIN + timedelta(**parts)


def test_without_a_log_the_lamp_is_the_description_s():
    found = lamp_now(UNIT, 60.0, {}, None, now(days=9), ORDER)
    assert found.dose_mj_cm2 == pytest.approx(uv_dose_mj_cm2(60.0, LAMP))
    assert not found.hours_logged


def test_dose_falls_as_one_over_the_flow_that_was_read():
    slow, fast = (lamp_now(UNIT, 1.0, seen("flow", flow), None, now(days=2), ORDER)
                  for flow in (40.0, 80.0))  # fmt: skip
    assert slow.dose_mj_cm2 == pytest.approx(2 * fast.dose_mj_cm2)


def test_a_lamp_loses_its_published_share_by_the_end_of_its_hours():
    assert age_share(0) == 1
    assert age_share(number("uv", "lamp_hours")) == pytest.approx(number("uv", "age_factor"))


def test_an_intensity_stands_for_age_and_dirt_until_the_lamp_is_changed():
    fitted = Part("UV unit", BEGIN)
    found = lamp_now(UNIT, 60.0, seen("UV intensity", 50.0), fitted, now(days=2), ORDER)
    whole = uv_dose_mj_cm2(60.0, Lamp(75.0, 25.0, 90.0, flow_factor=0.7))
    assert found.dose_mj_cm2 == pytest.approx(0.5 * whole)
    changed = Part("UV unit", BEGIN + timedelta(days=1.5))
    after = lamp_now(UNIT, 60.0, seen("UV intensity", 50.0), changed, now(days=2), ORDER)
    assert after.intensity_pct is None
    assert after.dose_mj_cm2 == pytest.approx(whole * age_share(12) * 0.9)


@pytest.mark.parametrize(
    ("flow", "hours", "word"),
    [(60.0, 10, "good"), (60.0, 8200, "soon"), (500.0, 10, "low"), (0.0, 10, "dark")],
)
def test_a_unit_is_judged_by_its_dose_and_its_hours(flow, hours, word):
    found = lamp_now(UNIT, flow, {}, Part("UV unit", BEGIN), now(hours=hours), ORDER)
    assert found.word == word
    if word != "dark":
        most = uv_dose_mj_cm2(found.most_l_min, Lamp(75.0, 25.0, 90.0, age_share(hours), 0.9, 0.7))
        assert most == pytest.approx(found.least_mj_cm2)
