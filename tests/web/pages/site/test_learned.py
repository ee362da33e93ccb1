"""What the log has taught: offered on Season and Site, used, left or taken back by the manager."""

from dataclasses import replace
from datetime import date, timedelta

import pytest

from protoconch.hatchery.own_values import learned
from protoconch.records.models import Role
from protoconch.records.queries.learning import KeptSeason, keep_season, offer
from protoconch.records.queries.site import hatchery
from protoconch.season.outlook.season_said import NumberSaid, SeasonSaid
from tests.web.pages.season import planted as invented

FIRST = date(2025, 4, 1)
SAID = SeasonSaid(FIRST, FIRST + timedelta(days=300), 4, 312, (
    NumberSaid("veliger.survival", -1.2, 0.3, 0.315),
    NumberSaid("variation.growth_site", 0.9, 0.1, 1.0),
    NumberSaid("count.clumping_k", 0.8, 0.5, 12.0),
))  # fmt: skip


@pytest.fixture
def site(db):
    return invented.planted(invented.TODAY, compare=False, logged=False)[0]


@pytest.fixture
def manager(site, client_of):
    return client_of(invented.person(site))


def own(site):
    return learned(hatchery(site).own_values)


def page(client, address="/site/learned/"):
    found = client.get(address)
    assert found.status_code == 200
    return found.content.decode()


def test_nothing_is_offered_before_there_is_a_log(site, manager):
    assert "The log has not taught any number yet" in page(manager)
    assert "ready to be used" not in page(manager, "/season")


def test_numbers_of_a_season_that_is_over_are_used_on_the_managers_word(site, manager):
    keep_season(site, KeptSeason(SAID, over=True))
    for address in ("/season", "/site/", "/site/learned/"):
        assert "3 numbers from this hatchery" in page(manager, address), address
    shown = page(manager)
    for words in ("0.315 (0.16 to 0.49)", "Clearly lower.", "narrower.",
                  "Season of 2025: 312 things seen of 4 batches"):  # fmt: skip
        assert words in shown, words
    before = site.descriptions.count()
    manager.post("/site/learned/use/")
    assert site.descriptions.count() == before + 1, "a new description; none is overwritten"
    assert set(own(site)) == {"veliger.survival", "variation.growth_site", "count.clumping_k"}
    assert own(site)["veliger.survival"].number < 0.3
    assert not offer(site).numbers
    shown = page(manager)
    assert "3 numbers in use are from this hatchery" in shown
    assert "ready to be used" not in page(manager, "/season")


def test_they_can_be_left_thought_over_and_taken_back(site, manager):
    keep_season(site, KeptSeason(SAID, over=True))
    manager.post("/site/learned/leave/")
    assert own(site) == {}
    assert "ready to be used" not in page(manager, "/season")
    assert "Left as they are" in page(manager)
    manager.post("/site/learned/again/")
    assert "ready to be used" in page(manager, "/season")
    manager.post("/site/learned/use/")
    first = site.descriptions.first().text
    manager.post("/site/learned/back/")
    assert own(site) == {}
    assert site.descriptions.first().text == first
    assert site.descriptions.count() == 3
    assert "Left as they are" in page(manager), "what was taken back is not asked for at once"


def test_a_season_under_way_waits_but_may_be_used_on_the_managers_word(site, manager):
    here = hatchery(site)
    running = replace(SAID, first_day=here.first_day, last_day=here.first_day + timedelta(days=60))
    keep_season(site, KeptSeason(running, over=False))
    assert "ready to be used" not in page(manager, "/season")
    assert "Use them now all the same" in page(manager)
    manager.post("/site/learned/use/")
    assert len(own(site)) == 3


def test_a_second_season_is_put_together_with_what_the_first_taught(site, manager):
    keep_season(site, KeptSeason(SAID, over=True))
    manager.post("/site/learned/use/")
    once = own(site)["variation.growth_site"]
    later = replace(SAID, first_day=FIRST + timedelta(days=365), last_day=FIRST)
    keep_season(site, KeptSeason(later, over=True))
    number = next(n for n in offer(site).numbers if n.name == "variation.growth_site")
    assert len(number.seasons) == 2
    assert number.value.number > once.number
    assert "Season of 2026" in page(manager)


def test_only_a_manager_may_use_them(site, client_of):
    keep_season(site, KeptSeason(SAID, over=True))
    viewer = client_of(invented.person(site, "crew A", Role.CREW))
    assert "3 numbers from this hatchery" in page(viewer)
    assert "Use them" not in page(viewer)
    for way in ("use", "leave", "again", "back"):
        assert viewer.post(f"/site/learned/{way}/").status_code in (302, 403)
    assert own(site) == {}
    assert offer(site).ready


def test_saving_another_own_number_keeps_what_the_log_taught(site, manager):
    keep_season(site, KeptSeason(SAID, over=True))
    manager.post("/site/learned/use/")
    kept = own(site)
    rows = [{"name": v.name, "value": v.value, "low": v.low, "high": v.high,
             "conditions": v.conditions} for v in hatchery(site).own_values.values()]  # fmt: skip
    rows.append({"name": "variation.tank", "value": 0.2, "low": 0.1, "high": 0.3})
    sent = {"own-TOTAL_FORMS": len(rows), "own-INITIAL_FORMS": len(rows) - 1}
    sent |= {f"own-{i}-{key}": "" if v is None else v
             for i, row in enumerate(rows) for key, v in row.items()}  # fmt: skip
    assert manager.post("/site/own-values/", sent).status_code == 302
    assert own(site) == kept
    assert hatchery(site).own_values["variation.tank"].value == 0.2
