"""Takes pictures of every page, on a phone and on a desk: python docs/remake_page_pictures.py.

Starts the program over records of its own, with the invented hatchery and half a season logged,
looks at it with Chromium, and writes small files into pictures/pages/, those of a phone in Spanish
too. Names as arguments take only those pages, such as:
python docs/remake_page_pictures.py site people.
"""

import io
import os
import shutil
import sys
import tempfile
import threading
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import click

HERE = Path(__file__).resolve().parent / "pictures" / "pages"
WIDTHS = {"phone": (390, 844), "desk": (1280, 900)}
COLOURS = 40
MOST_PX = 1700
FLAGS = ["--no-sandbox", "--disable-gpu", "--disable-quic", "--disable-background-networking",
         "--disable-component-update", "--disable-sync", "--no-first-run"]  # fmt: skip
NIGHT = ("today", "season", "site")
"""Pages that are shown dark as well."""


def main() -> None:
    """Fill records, serve them, look."""
    from protoconch.operations.opening import open_records

    os.environ["PROTOCONCH_ADDRESS"] = "http://hatchery.example:8311"  # that of no real machine
    with tempfile.TemporaryDirectory(prefix="protoconch-pictures-") as folder:
        open_records(Path(folder))
        from django.conf import settings

        settings.ALLOWED_HOSTS = ["127.0.0.1"]
        with_browser(sys.argv[1:])


def with_browser(wanted: list[str]) -> None:
    """Take the first start before anybody is known, then all else."""
    from playwright.sync_api import sync_playwright

    os.environ["DJANGO_ALLOW_ASYNC_UNSAFE"] = "true"
    url = served()
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(
            executable_path=shutil.which("chromium"), args=FLAGS
        )  # fmt: skip
        take(browser, f"{url}/welcome/", "welcome-code", wanted, {})
        cookie = newcomer()
        for key in ("where", "water", "tanks", "permit", "manager"):
            take(browser, f"{url}/welcome/{key}/", f"welcome-{key}", wanted, cookie)
        cookie = filled()
        for name, address in pages():
            take(browser, url + address, name, wanted, cookie)
        take(browser, f"{url}/sign-in/", "sign-in", wanted, {})
        browser.close()


def served() -> str:
    """The program's address."""
    from waitress.server import create_server

    from protoconch.web.wsgi import application

    server: Any = create_server(application, host="127.0.0.1", port=0, threads=4)
    threading.Thread(target=server.run, daemon=True).start()
    return f"http://127.0.0.1:{server.effective_port}"


def filled() -> dict[str, str]:
    """The invented hatchery with half a season logged; the cookie of its manager."""
    from django.test import Client
    from django.utils import timezone

    from protoconch.operations.demonstration import begin_demonstration
    from protoconch.operations.outlook import make_outlooks
    from protoconch.operations.people.invitations import invite, new_person
    from protoconch.records.models import Person, Role

    now = timezone.now()
    sign_in = begin_demonstration(now, click.echo)
    manager = Person.objects.get(name=sign_in.name)
    new_person(manager.site, "advisor", None, Role.VIEWER)
    invite(manager.site, Role.CREW, "crew C", now)
    while make_outlooks(now):
        click.echo("Looking ahead from the log ...")
    client = Client()
    client.force_login(manager)
    return cookie_of(client)


def newcomer() -> dict[str, str]:
    """The cookie of somebody who has given the first code."""
    from django.test import Client

    from protoconch.operations.starting import first_code

    client = Client()
    client.post("/welcome/", {"code": first_code()}, HTTP_HOST="127.0.0.1")
    return cookie_of(client)


def cookie_of(client: Any) -> dict[str, str]:
    """The cookie of a test client's session."""
    from django.conf import settings

    name = settings.SESSION_COOKIE_NAME
    return {"name": name, "value": client.cookies[name].value}


def pages() -> Iterator[tuple[str, str]]:
    """Every page in the row of pages, and those behind them that have no page of their own."""
    from django.urls import NoReverseMatch, reverse
    from django.utils import timezone

    from protoconch.web.shell.surroundings import PLACES

    behind = (
        ("me", "people:me"), ("people", "people:people"), ("invite", "people:invite"),
        ("tablet", "people:tablet"), ("site-water-system", "site:water-system"),
        ("site-text", "site:text"), ("site-history", "site:history"),
        ("site-own-values", "site:own-values"), ("site-learned", "site:learned"),
        ("site-units", "site:units"), ("paper", "paper:paper"), ("how-to", "how_to:cards"),
        ("trust", "trust:trust"), ("exchange", "exchange:exchange"),
        ("exchange-import", "exchange:bring"), ("log-add", "log:kinds"),
    )  # fmt: skip
    for name, address in (*((place.app, place.address) for place in PLACES), *behind):
        try:
            yield name, reverse(address)
        except NoReverseMatch:
            click.echo(f"There is no page {name} yet.")
    for part in ("tanks", "algae", "permit", "target"):
        yield f"site-change-{part}", reverse("site:change", args=[part])
    yield "batch", reverse("batches:batch", args=[first_batch()])
    yield "how-to-card", reverse("how_to:card", args=["count"])
    yield "log-add-count", reverse("log:add", args=["counted"])
    yield "paper-typed", reverse("paper:typed", args=[timezone.localdate()])
    yield "not-found", "/nothing/here/"


def first_batch() -> str:
    """The code of the batch that the log knew first."""
    from protoconch.records.models import Site
    from protoconch.records.queries.log import state

    return min(state(Site.objects.get()).batches)


def take(
    browser: Any, url: str, name: str, wanted: list[str], cookie: dict[str, str]
) -> None:  # fmt: skip
    """Pictures of one page at both widths, in Spanish, and dark where that is wanted."""
    if wanted and not any(name.startswith(word) for word in wanted):
        return
    ways = [(width, "light", "en") for width in WIDTHS] + [("phone", "light", "es")]
    ways += [(width, "dark", "en") for width in WIDTHS if name in NIGHT]
    for width, scheme, language in ways:
        wide, high = WIDTHS[width]
        context = browser.new_context(
            viewport={"width": wide, "height": high}, color_scheme=scheme, locale=language
        )
        if cookie:
            context.add_cookies([{**cookie, "url": url}])
        page = context.new_page()
        page.goto(url)
        page.wait_for_load_state("networkidle")
        tall = min(MOST_PX, int(page.evaluate("document.documentElement.scrollHeight")))
        page.set_viewport_size({"width": wide, "height": max(high, tall)})
        other = "-night" if scheme == "dark" else "-es" if language == "es" else ""
        keep(page.screenshot(), HERE / f"{name}-{width}{other}.png")
        context.close()


def keep(picture: bytes, path: Path) -> None:
    """Write a picture with few colours, so that it stays small."""
    from PIL import Image

    path.parent.mkdir(parents=True, exist_ok=True)
    few = Image.open(io.BytesIO(picture)).convert("RGB").quantize(COLOURS, dither=Image.Dither.NONE)
    few.save(path, optimize=True)
    click.echo(f"{path.name}: {path.stat().st_size / 1000:.0f} kB")


if __name__ == "__main__":
    main()
