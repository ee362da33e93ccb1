"""A site that prefers US units reads and types them; what is kept stays metric."""

from protoconch.records.models import Entry


def test_a_manager_chooses_the_units(site, manager, client_of):
    client = client_of(manager)
    chosen = {"volume": "us", "flow": "metric", "temperature": "us", "mass": "metric"}
    answer = client.post("/site/units/", chosen, follow=True)
    assert "US gallons, L/min, °F and grams" in answer.content.decode()
    site.refresh_from_db()
    assert site.us_units == "volume temperature"
    assert "US gal" in client.get("/site/").content.decode()


def test_a_bare_number_is_read_in_them_and_kept_in_metric(site, manager, client_of):
    site.us_units = "volume temperature"
    site.save()
    client = client_of(manager)
    page = client.get("/log/add/read/").content.decode()
    assert page
    sent = {
        "id": "0b9f2f5e-6f4e-4d6c-9d0b-5f2d6d1c9a10", "where": "reservoir",
        "payload.source": "sea", "payload.litres": "100",
    }  # fmt: skip
    client.post("/log/add/pumped", sent)
    kept = Entry.objects.get()
    assert abs(kept.payload["litres"] - 378.5) < 0.1
    told = client.get(f"/log/{kept.uuid}").content.decode()
    assert "US gal" in told
