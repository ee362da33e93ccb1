"""The hatchery as described, on its pages, and the forms that change it."""

import re

import pytest

from protoconch.hatchery.description import Hatchery
from protoconch.operations.describing import describe
from protoconch.records.models import Site
from protoconch.records.queries.site import hatchery
from protoconch.web.pages.site.parts import PARTS

KEYS = [part.key for part in PARTS]


def said(answer):
    return answer.content.decode()


def typed_as_shown(page: str) -> dict[str, list[str]]:
    """What a browser would send for the form of a page as it came."""
    form = re.search(r'<form method="post"(?! action)[^>]*>(.+?)</form>', page, re.DOTALL)[1]
    sent: dict[str, list[str]] = {}
    for tag in re.findall(r"<input [^>]+>", form):
        found = dict(re.findall(r'(\w+)="([^"]*)"', tag))
        ticked = found.get("type") not in ("checkbox", "radio") or " checked" in tag
        if "name" in found and ticked and found["name"] != "csrfmiddlewaretoken":
            usual = "on" if found.get("type") in ("checkbox", "radio") else ""
            sent.setdefault(found["name"], []).append(found.get("value", usual))
    for name, options in re.findall(r'<select name="([^"]+)".*?>(.+?)</select>', form, re.DOTALL):
        chosen = re.search(r'<option value="([^"]*)" selected', options)
        first = re.search(r'<option value="([^"]*)"', options)
        sent[name] = [(chosen or first)[1]]
    return sent


def test_the_page_says_first_whether_the_water_is_sound(client_of, viewer):
    page = said(client_of(viewer).get("/site/"))
    assert "The seawater system" in re.search(r"<h1>(.+?)</h1>", page)[1]
    assert page.count("<svg") == 2
    assert "This hatchery is invented" in page
    assert "/site/change/" not in page, "a viewer is offered no change"


def test_all_of_the_water_system_has_a_page(client_of, viewer):
    page = said(client_of(viewer).get("/site/water-system/"))
    assert "Take care around the water" in page
    assert "Findings, heaviest first" in page


def test_the_page_is_light_enough_for_a_phone(client_of, viewer):
    assert len(client_of(viewer).get("/site/").content) < 100_000


@pytest.mark.parametrize("key", KEYS)
def test_a_form_sent_as_it_came_changes_nothing(client_of, manager, site, key):
    before, client = hatchery(site), client_of(manager)
    page = client.get(f"/site/change/{key}/")
    answer = client.post(f"/site/change/{key}/", typed_as_shown(said(page)))
    assert answer.status_code == 302, re.findall(r'class="error".+?</p>', said(answer), re.DOTALL)
    after = hatchery(Site.objects.get(pk=site.pk))
    for name in Hatchery.__slots__:
        if name not in ("kept_lines", "waterworks"):
            assert getattr(after, name) == getattr(before, name), name
    assert after.waterworks is not None


CHANGES = [
    ("target", {"animals": "900", "confidence": "75 %"},
     lambda h: (h.target.animals, h.target.confidence), (900, 0.75)),
    ("permit", {"egg_masses": "18", "months": ["5", "6"]},
     lambda h: (h.permit.egg_masses, h.permit.months), (18, (5, 6))),
    ("tanks", {"larval_tanks-0-litres": "0.5 m3", "trays-1-name": "wide", "trays-1-count": "4",
               "trays-1-area_cm2": "1 m2"},
     lambda h: (h.larval_tanks[0].litres, h.trays[1].area_cm2, h.trays[1].count),
     (500, 10000, 4)),
    ("tanks", {"larval_tanks-1-DELETE": "on"}, lambda h: len(h.larval_tanks), 1),
    ("algae", {"vessels-0-count": "20", "no_start": ["5", "6"], "vessels-1-spare": "2"},
     lambda h: (h.algae_room.room.kinds[0].count, h.algae_room.no_start,
                h.algae_room.room.spare["bottle"]), (20, (5, 6), 2)),
    ("crew", {"day_6": "0"}, lambda h: h.crew_hours[6], 0),
    ("water", {"month_0": "77 °F"}, lambda h: h.temperature_c[0], 25),
    ("where", {"place": "Another cay that does not exist"}, lambda h: h.place,
     "Another cay that does not exist"),
]  # fmt: skip


@pytest.mark.parametrize(("key", "typed", "seen", "wanted"), CHANGES)
def test_what_is_typed_is_what_is_described(client_of, manager, site, key, typed, seen, wanted):
    client = client_of(manager)
    page = said(client.get(f"/site/change/{key}/"))
    answer = client.post(f"/site/change/{key}/", typed_as_shown(page) | typed)
    assert answer.status_code == 302, re.findall(r'class="error".+?</p>', said(answer), re.DOTALL)
    assert seen(hatchery(site)) == wanted
    assert site.descriptions.count() == 2
    assert site.descriptions.last().by == manager.name


FAULTS = [
    ("target", {"by": "2020-01-01"}, "by", "before the season has begun"),
    ("target", {"animals": "many"}, "animals", "not a number"),
    ("target", {"last_day": "2026-01-01"}, "last_day", "before first_day"),
    ("permit", {"egg_masses": "2.5"}, "egg_masses", "whole number"),
    ("tanks", {"larval_tanks-0-litres": "-5"}, "larval_tanks-0-litres", "outside"),
    ("tanks", {"places": "0"}, "places", "outside"),
    ("crew", {"day_0": "a lot"}, "day_0", "not a number"),
    ("water", {"month_3": "95"}, "month_3", "outside"),
    ("algae", {"lines-0-share": "200 %"}, "lines-0-share", "outside"),
    ("where", {"zone": "Mars/Base"}, "zone", ""),
]


@pytest.mark.parametrize(("key", "typed", "field", "words"), FAULTS)
def test_a_fault_stands_beside_its_field_and_what_was_typed_is_kept(
    client_of, manager, site, key, typed, field, words
):
    client = client_of(manager)
    page = said(client.get(f"/site/change/{key}/"))
    answer = client.post(f"/site/change/{key}/", typed_as_shown(page) | typed)
    shown = said(answer)
    assert answer.status_code == 200
    error = re.search(rf'id="id_{field}_error">(.+?)</p>', shown, re.DOTALL)
    assert error
    assert words in error[1]
    (value,) = typed.values()
    assert key == "where" or f'value="{value}"' in shown
    assert site.descriptions.count() == 1


def test_faults_of_the_whole_are_said_on_top_of_the_form(client_of, manager, site):
    client = client_of(manager)
    sent = typed_as_shown(said(client.get("/site/change/tanks/")))
    answer = client.post("/site/change/tanks/", sent | {"larval_tanks-1-name": "large"})
    assert "is given twice" in re.search(r'role="alert">(.+?)</div>', said(answer), re.DOTALL)[1]
    assert site.descriptions.count() == 1


def test_an_own_number_stands_before_the_profile_s(client_of, manager, site):
    client = client_of(manager)
    sent = typed_as_shown(said(client.get("/site/own-values/")))
    name = "veliger.survival"
    known = re.findall(
        r'<option value="([^"]+)">[^<]*survival', said(client.get("/site/own-values/"))
    )
    name = known[0]
    typed = {"own-0-name": name, "own-0-value": "0.4", "own-0-low": "0.2", "own-0-high": "0.6"}
    assert client.post("/site/own-values/", sent | typed).status_code == 302
    own = hatchery(site).own_values[name]
    assert (own.value, own.low, own.high, own.confidence) == (0.4, 0.2, 0.6, "own")
    wrong = typed | {"own-0-low": "0.9"}
    again = typed_as_shown(said(client.get("/site/own-values/")))
    shown = client.post("/site/own-values/", again | wrong)
    assert shown.status_code == 200
    assert 'role="alert"' in said(shown)


def test_a_new_zone_sets_the_clock_of_the_site(client_of, manager, site):
    client = client_of(manager)
    sent = typed_as_shown(said(client.get("/site/change/where/")))
    client.post("/site/change/where/", sent | {"zone": "Atlantic/Azores"})
    site.refresh_from_db()
    assert site.zone == "Atlantic/Azores"


def test_a_hatchery_without_waterworks_is_asked_to_describe_them(client_of, manager, site):
    from protoconch.hatchery.reading import demo_text

    describe(manager, demo_text())
    page = said(client_of(manager).get("/site/"))
    assert "is not described yet" in page
    assert "/site/waterworks/" in page
    assert client_of(manager).get("/site/water-system/").status_code == 302
