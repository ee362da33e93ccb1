"""The Season page and what if."""

import re
from dataclasses import replace
from datetime import timedelta

import pytest

from protoconch.records.models import Description, Role, Site, WhatIf
from protoconch.records.queries import answers
from protoconch.records.queries.answers import KeptPlan, Planned, keep, question
from protoconch.season.what_if import Change
from tests.web.pages.season import planted as invented

TODAY = invented.TODAY


@pytest.fixture
def season(db):
    return invented.planted(TODAY)


@pytest.fixture
def manager(season):
    return invented.person(season[0])


@pytest.fixture
def page(season, manager, client_of):
    return client_of(manager)


def heading(answer):
    return re.search(r"<h1>(.*?)</h1>", answer.content.decode()).group(1)


def test_the_title_is_the_answer_in_words(page, season):
    plan = season[1]
    said = heading(page.get("/season"))
    assert f"{plan.target.animals:,} juveniles of {plan.target.size_mm:g}" in said
    assert "in ten" in said or "in 100" in said


def test_it_says_that_counts_do_not_move_the_odds_of_the_plan(page):
    text = page.get("/season").content.decode()
    assert "does not move them" in text
    assert "Dots are what was counted" in text


def test_counts_are_drawn_onto_the_ribbons_for_a_phone_and_for_a_desk(page):
    text = page.get("/season").content.decode()
    phone = text[text.index('id="phone-1-t"') :]
    assert phone.count('class="missed"') > 10
    address = re.search(r'src="(/season/ribbons-[0-9a-f]+\.svg)"', text).group(1)
    desk = page.get(address)
    assert desk["Content-Type"].startswith("image/svg+xml")
    assert desk.content.count(b'class="missed"') > 20
    assert b"Batch " + f"{season_code(text)}".encode() in desk.content


def season_code(text):
    return re.search(r"Batch (\d\dA)", text).group(1)


def test_the_algae_asked_for_and_fed_stand_under_the_season(page, monkeypatch, season):
    from protoconch.web.pages.season import views
    from tests.pictures.algae_answer import small_answer

    algae = small_answer()
    monkeypatch.setattr(views, "planned", lambda _site: Planned(season[1], algae, "ready"))
    assert "Algae asked for and fed" in page.get("/season").content.decode()


def test_an_old_address_of_the_picture_leads_to_the_one_in_force(page):
    assert page.get("/season/ribbons-abc.svg").status_code == 302


def test_a_phone_gets_less_than_100_kb(page):
    assert len(page.get("/season").content) < 100_000
    assert len(page.get("/season/what-if?animals=900").content) < 100_000


def test_without_entries_it_says_so(db, client_of):
    site, _plan = invented.planted(TODAY, logged=False)
    text = client_of(invented.person(site)).get("/season").content.decode()
    assert "Nothing is counted yet" in text
    assert "does not move them" not in text


@pytest.mark.parametrize(
    ("making", "why", "said"),
    [
        ("not asked", "", "There is no plan yet"),
        ("being made", "", "The plan is being made"),
        ("failed", "The date has passed; give a later one.", "No plan could be made"),
    ],
)
def test_a_season_without_a_plan_says_what_is_missing(
    monkeypatch, site, manager_of, client_of, making, why, said
):
    from protoconch.web.pages.season import views

    monkeypatch.setattr(views, "planned", lambda _site: Planned(None, None, making, why))
    answer = client_of(manager_of(site)).get("/season")
    assert answer.status_code == 200
    assert said in heading(answer)
    assert why in answer.content.decode()


@pytest.fixture
def manager_of():
    return invented.person


def test_a_manager_can_ask_for_the_plan(monkeypatch, site, manager_of, client_of):
    assert answers.planned(site).making == "not asked"
    answer = client_of(manager_of(site)).post("/season/plan")
    assert answer.status_code == 302
    assert answers.planned(site).making == "being made"


def test_a_season_that_is_over_says_what_came_of_it(db, client_of):
    text, plan = invented.season(TODAY)
    over = replace(plan, target=replace(plan.target, by=TODAY - timedelta(days=3)))
    site = Site.objects.create(name="over", zone=invented.ZONE)
    row = Description.objects.create(site=site, text=text, by="the test")
    keep(site, question(site), KeptPlan(row.pk, over))
    for entry in invented.entries(plan, TODAY):
        invented.row_of(site, entry).save()
    said = heading(client_of(invented.person(site)).get("/season"))
    assert said.startswith("The season ended on")
    assert "0 released" in said


def test_what_if_shows_the_odds_moved(page):
    text = page.get("/season/what-if?dying-veliger=2.0").content.decode()
    assert "larvae die twice as fast" in text
    assert "The odds fall" in text
    assert 'id="changed-t"' in text


def test_no_change_shows_the_plans_odds(page, season):
    plan = season[1]
    text = page.get(f"/season/what-if?animals={plan.target.animals}").content.decode()
    assert "Nothing is changed" in text
    assert "Keep it as" not in text


def test_only_the_answer_comes_where_only_it_is_asked_for(page):
    text = page.get("/season/what-if?animals=900&part=1").content.decode()
    assert "<html" not in text
    assert "900 juveniles" in text


@pytest.mark.parametrize(
    "asked",
    ["animals=0", "animals=many", "by=yesterday", "dying-veliger=1e9", "size_mm=nan",
     "by=2099-01-01", "size_mm=1", "algae_g=-3", "more_tanks=7", "nursery_m2=1e400",
     "animals=%00%ff", "tanks-0=99999", "by=0001-01-01"],
)  # fmt: skip
def test_what_cannot_be_is_refused_in_a_sentence_and_kept_as_typed(page, asked):
    answer = page.get(f"/season/what-if?{asked}")
    assert answer.status_code == 200
    text = answer.content.decode()
    assert 'id="changed-t"' not in text
    assert 'class="error"' in text or 'class="notice grave"' in text


def kept(page, name="drier year", sent="dying-veliger=2.0"):
    return page.post("/season/what-if/keep", {"name": name, "sent": sent})


def test_it_is_kept_compared_and_dropped(page, season):
    assert kept(page).status_code == 302
    assert kept(page, "later", "animals=900").status_code == 302
    rows = list(WhatIf.objects.order_by("id"))
    assert [row.change for row in rows] == [{"dying": {"veliger": 2.0}}, {"animals": 900}]
    assert rows[0].answer["odds"] < season[1].odds.value < rows[1].answer["odds"]
    text = page.get("/season").content.decode()
    assert "drier year" in text
    one, two = rows[0].pk, rows[1].pk
    both = page.get(f"/season/what-if/compare?one={one}&one={two}").content.decode()
    assert "drier year beside later" in both
    assert 'id="side-0-t"' in both
    assert 'id="side-1-t"' in both
    page.post(f"/season/what-if/{one}/drop")
    assert [row.name for row in WhatIf.objects.all()] == ["later"]


def test_a_name_is_given_once_and_nothing_unchanged_is_kept(page, season):
    kept(page)
    assert "another name" in kept(page).content.decode()
    assert kept(page, " ").status_code == 422
    assert kept(page, "as it is", f"animals={season[1].target.animals}").status_code == 422
    assert WhatIf.objects.count() == 1


def test_what_another_hatchery_keeps_can_be_neither_seen_nor_dropped(page, season, client_of):
    kept(page)
    row = WhatIf.objects.get()
    text, plan = invented.season(TODAY)
    other = Site.objects.create(name="other", zone="UTC")
    described = Description.objects.create(site=other, text=text, by="the test")
    keep(other, question(other), KeptPlan(described.pk, plan))
    stranger = client_of(invented.person(other, "manager B"))
    assert "drier year" not in stranger.get(f"/season/what-if/compare?one={row.pk}",
                                            follow=True).content.decode()  # fmt: skip
    stranger.post(f"/season/what-if/{row.pk}/drop")
    assert WhatIf.objects.count() == 1


@pytest.mark.parametrize("chosen", ["", "?one=abc", "?one=99999999999999999999999", "?one=-1"])
def test_choosing_nothing_that_is_there_leads_back(page, chosen):
    assert page.get(f"/season/what-if/compare{chosen}").status_code == 302


def test_a_viewer_looks_but_keeps_nothing(season, client_of):
    viewer = client_of(invented.person(season[0], "viewer A", Role.VIEWER))
    assert viewer.get("/season").status_code == 200
    assert "Keep it as" not in viewer.get("/season/what-if?animals=900").content.decode()
    assert kept(viewer).status_code == 403
    assert viewer.post("/season/what-if/1/drop").status_code == 403
    assert viewer.post("/season/plan").status_code == 403


def test_crew_keeps_but_does_not_plan(season, client_of):
    crew = client_of(invented.person(season[0], "crew A", Role.CREW))
    assert kept(crew).status_code == 302
    assert crew.post("/season/plan").status_code == 403


@pytest.mark.parametrize("address", ["/season", "/season/what-if", "/season/what-if/compare"])
def test_nobody_sees_a_season_without_signing_in(client, season, manager, address):
    assert client.get(address).status_code == 302


def test_a_new_plan_is_not_answered_from_the_old_one(season):
    from protoconch.operations.what_if import looked_at

    plan = season[1]
    fewer = replace(plan, target=replace(plan.target, animals=300),
                    forecast=replace(plan.forecast))  # fmt: skip
    change = Change(dying={"juvenile": 0.5})
    assert looked_at(plan, change).odds.value != looked_at(fewer, change).odds.value
