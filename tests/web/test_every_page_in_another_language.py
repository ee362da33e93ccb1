"""No page says anything that could not be translated."""

import re
import tomllib
from collections.abc import Iterator
from importlib.resources import files

import pytest

from protoconch.algae.species import alga, known_algae
from protoconch.hatchery.reading import whole_demo_text
from protoconch.records.models import Person
from protoconch.sources.references import NO_PUBLICATION
from tests.web.pages.today.season_begun import logged, stop_the_clock
from tests.words.left_behind import WORD, left, marked

START = ("/", "/season", "/batches", "/algae", "/water", "/log", "/site/", "/reports", "/paper",
         "/how-to", "/people/", "/me/", "/exchange", "/log/add")  # fmt: skip
MOST_OF_A_KIND = 2
NOT_PAGES = re.compile(r"/static/|sign-out|\.(pdf|css|svg|ics|xlsx|csv|json|zip|toml)\b|/api/")
OURS = (  # names and signs that are the same in every language
    "manager crew viewer hatchery practice invented Nowhere Cay Protoconch Español English TOML"
    " kPa mJ MPa cm² umol kWh floor max min cells mol org com html json toml CSV XLSX JSON API ZIP"
    " haliotis film UTC assumption web antigua baldock timmons ebeling Aliger gigas without double"
    " enero febrero marzo abril mayo junio julio agosto septiembre octubre noviembre diciembre"
    " ene feb mar abr may jun jul ago sep oct nov dic"  # dates come in Django's own Spanish
    " lunes martes miércoles jueves viernes sábado domingo"
    " polypropylene quartz Neubauer Fuchs Rosenthal Bürker Sedgewick Rafter silicate"
    " Nicaragua http testserver api serve host own certificate"
    " entries readings plan batches animals cultures last stores now"  # files of the tables out
)
KEY = re.compile(
    r"⟦\w+\.$"  # a word cut short at the head of a narrow column
    r"|\b[A-Z]\w+/[A-Z][\w /-]+"  # a time zone
    r"|\b[a-z0-9]+_\w+|[a-z_0-9]*(?:\.+[a-z_0-9]*)+\b|\[[a-z ]+\]$"  # the key of a number
    r"|\b[a-z]+(?:-[a-z]+)*-(?:19|20)\d\d[a-z]?\b"  # and of a source
)
"""Keys of numbers and of sources, which stand in a hatchery's file as they are."""


@pytest.fixture
def own() -> set[str]:
    """Words of the invented hatchery's own file."""
    species = [f"{key} {alga(key).name}" for key in known_algae()]
    names = " ".join([whole_demo_text(), *species])
    return set(WORD.findall(names)) | set(OURS.split())


def sources() -> set[str]:
    """All citations, addresses, and where in a source a number stands: as they were published."""
    found = set()
    for file in files("protoconch.sources").joinpath("").rglob("*.toml"):
        content = tomllib.loads(file.read_text())
        found |= {said for key, said in strings(content)
                  if key in ("citation", "address", "place", "doi", "note")}  # fmt: skip
    return found - set(NO_PUBLICATION)


def strings(value, key="") -> Iterator[tuple[str, str]]:
    """Every text of a data file with its key."""
    if isinstance(value, dict):
        for name, inner in value.items():
            yield from strings(inner, name)
    elif isinstance(value, list):
        for inner in value:
            yield from strings(inner, key)
    elif isinstance(value, str) and value:
        yield key, value


def walked(client) -> Iterator[tuple[str, str]]:
    """Every page that links lead to, a few of each kind, with what it says."""
    todo, seen, kinds = list(START), set(), {}
    while todo:
        address = todo.pop(0)
        kind = re.sub(r"[0-9a-f]{8}-[0-9a-f-]+|\d[\d-]*", "#", address.split("?")[0])
        if address in seen or kinds.get(kind, 0) >= MOST_OF_A_KIND or NOT_PAGES.search(address):
            continue
        seen.add(address)
        kinds[kind] = kinds.get(kind, 0) + 1
        answer = client.get(address)
        if answer.status_code in (301, 302):
            todo.append(answer.headers["Location"])
            continue
        assert answer.status_code == 200, address
        if "html" in answer.headers["Content-Type"]:
            page = answer.content.decode()
            yield address, page
            todo += [found.replace("&amp;", "&")
                     for found in re.findall(r'<a[^>]* href="(/[^"#]*)', page)]  # fmt: skip


def test_no_page_says_what_cannot_be_translated(
    planned_site, manager, crew, client_of, own, monkeypatch, tmp_path
):
    stop_the_clock(monkeypatch)
    logged(crew)
    for _page in walked(client_of(manager)):
        pass  # what is kept for who read it first is not for who reads it next
    Person.objects.filter(pk=manager.pk).update(language="es-ni")
    manager.refresh_from_db()
    found: dict[str, str] = {}
    published = sorted(sources(), key=len, reverse=True)
    with marked(tmp_path):
        pages = 0
        for address, page in walked(client_of(manager)):
            pages += 1
            for words in left(page, own, published):
                rest = KEY.sub("", words)
                if [word for word in WORD.findall(rest) if word not in own]:
                    found.setdefault(rest, address)
    assert pages > 60
    assert not found, "\n".join(f"{address}: {words}" for words, address in found.items())
