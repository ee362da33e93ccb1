"""The site report: complete, plain, safe."""

import json
import re
from dataclasses import replace
from datetime import date

import pytest

from protoconch.hatchery.waterworks_reading import demo_waterworks
from protoconch.sheets.site_answer import site_json, site_text
from protoconch.sheets.site_report import site_answer, site_page, site_section
from protoconch.waterworks.assessment import Assessment, assessment
from protoconch.waterworks.description import Waterworks
from protoconch.waterworks.hydraulics.pipes import pipe_size
from protoconch.waterworks.network.parts import Network, Place, Valve
from tests.waterworks.made_up_networks import changed, small

DAY = date(2027, 6, 1)


@pytest.fixture(scope="module")
def seen() -> Assessment:
    return assessment(demo_waterworks(), first=DAY)


def test_the_page_is_complete_in_itself_and_says_that_it_is_invented(seen: Assessment) -> None:
    page = site_page(seen, "Nowhere", DAY, invented=True)
    assert "<script" not in page
    assert not re.search(r'(src|href)="(?!#)', page)
    assert "invented; the place does not exist" in page
    assert "invented; the place" not in site_page(seen, "Real", DAY, invented=False)
    assert len(page) < 400_000


def test_the_fragment_holds_every_part_once(seen: Assessment) -> None:
    text = site_section(seen)
    for id_ in ("glance", "path", "findings", "what-if", "treatment", "store", "loops", "outage",
                "materials", "care", "sources"):  # fmt: skip
        assert text.count(f'id="site-{id_}"') == 1
    for caution in seen.cautions:
        assert caution.about[:1].upper() + caution.about[1:] in text
    for finding in seen.findings:
        assert finding.remedy.split(";")[0].split("'")[0] in text
    assert "licensed" in text
    assert "Here that is 487 L to waste" in text
    assert "tray loop, filter just started" in text
    assert "UV at these doses does not stop ciliates" in text


def test_a_bare_waterworks_still_makes_a_page() -> None:
    valve = Valve(name="v", start="s", end="t", size=pipe_size("pvc-sch40", 1), k=1)
    network = Network((Place("s", "sump", 1.0), Place("t", "tank", 0.5)), (valve,), small().water)
    bare = assessment(Waterworks(network), first=DAY)
    text = site_section(bare)
    assert "No lamp shines on running water" in text
    assert 'id="site-store"' not in text
    assert site_text(bare, "Bare")
    assert json.dumps(site_json(bare), allow_nan=False)


def test_names_that_people_type_are_only_text() -> None:
    nasty = changed(small(), "main", name='<img src=x onerror="alert(1)">')
    page = site_page(
        assessment(Waterworks(nasty), first=DAY), "<b>Hatchery</b>", DAY, invented=False
    )
    assert "<img" not in page
    assert "<b>Hatchery" not in page


def test_the_judgement_follows_the_heaviest_finding(seen: Assessment) -> None:
    assert "does its job" in site_answer(seen)
    bypassed = assessment(Waterworks(changed(small(), "way around", shut=False)), first=DAY)
    assert "1 danger to see to first" in site_answer(bypassed)
    old = assessment(Waterworks(changed(small(), "lamp", lamp_hours=9500)), first=DAY)
    assert site_answer(old).endswith("works once 1 thing is put right")


def test_the_data_hold_what_the_text_says(seen: Assessment) -> None:
    data = site_json(seen)
    json.dumps(data, allow_nan=False)
    assert data["doses_mj_cm2"]["UV unit"] == pytest.approx(49.93, abs=0.01)
    assert data["solver"]["imbalance"] < 1e-9
    assert data["store"]["fill_by"] == "2027-06-01"
    assert len(data["findings"]) == len(seen.findings)
    text = site_text(seen, "Nowhere")
    for finding in seen.findings:
        assert finding.what in text
    assert "Flow to the tanks" in text
    assert site_json(replace(seen, store=None))["store"] is None
