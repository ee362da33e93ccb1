"""Finds what a page says in no translated text.

Every text of the program is "translated" into itself between two marks; what stands on a page
outside the marks is either a person's own (names, notes), a number, a unit, a source, or a text
that nobody could translate.
"""

import re
import sys
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from html.parser import HTMLParser
from pathlib import Path

from babel.messages import Catalog
from django.test.utils import override_settings
from django.utils import translation
from django.utils.translation import trans_real

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))
import catalogue

OPEN, CLOSE = "⟦", "⟧"
WORD = re.compile(r"[^\W\d_]{3,}")
SPOKEN = {"aria-label", "alt", "title", "placeholder", "data-words"}
APART = {"p", "li", "td", "th", "h1", "h2", "h3", "div", "dt", "dd", "option", "text", "a", "b",
         "label", "button"}  # fmt: skip
"""Elements after which another piece begins."""
SILENT = {"script", "style", "code", "kbd", "samp", "textarea", "cite"}
"""Elements whose text is no sentence of the program; cite holds sources as they were published."""


@contextmanager
def marked(folder: Path) -> Iterator[None]:
    """Within it, Spanish of Nicaragua, which no other test speaks, is English between marks."""
    made = Catalog(locale="es", fuzzy=False)
    for text in catalogue.texts():
        if isinstance(text, tuple):
            one, many = (OPEN + form + CLOSE for form in text)
            made.add(text, (one, many, many))  # Spanish has a form of its own for millions
        else:
            made.add(text, text if text in KEPT else OPEN + text + CLOSE)
    place = folder / "es_NI" / "LC_MESSAGES"
    place.mkdir(parents=True, exist_ok=True)
    (place / "django.mo").write_bytes(catalogue.loaded({"all": made}, "es"))
    with override_settings(
        LOCALE_PATHS=[str(folder)], LANGUAGES=[("en", "English"), ("es-ni", "Español")]
    ):
        _forget()
        with translation.override("es-ni"):
            yield
    _forget()


KEPT = {"1,234.5", "j F Y", "j F", "j M", "l j F"}
"""Texts that are forms and no words."""


def _forget() -> None:
    trans_real._translations.clear()
    trans_real.get_languages.cache_clear()


class _Page(HTMLParser):
    def __init__(self) -> None:
        super().__init__()
        self.parts: list[str] = []
        self.silent = 0

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = dict(attrs)
        if tag in SILENT or given.get("translate") == "no":
            self.silent += tag not in ("input", "img", "br", "meta", "link")
            self.tag = tag
        for name, value in attrs:
            if value and (name in SPOKEN or (name == "value" and given.get("type") == "submit")):
                self.parts.append(f"\n{value}\n")

    def handle_endtag(self, tag: str) -> None:
        if self.silent and tag == self.tag:
            self.silent -= 1
        if tag in APART:
            self.parts.append("\n")

    def handle_data(self, data: str) -> None:
        if not self.silent:
            self.parts.append(data)


def left(html: str, own: Iterable[str] = (), published: Iterable[str] = ()) -> list[str]:
    """The pieces of a page that stand in no translated text.

    published: sources, which stay in the language they appeared in.

    own: words that are people's own, or anything else that is not translated.
    """
    page = _Page()
    page.feed(html)
    text = "".join(page.parts)
    for source in published:
        text = text.replace(source, " ")
    return left_in_text(text, own)


def left_in_text(text: str, own: Iterable[str] = ()) -> list[str]:
    """As `left`, of plain text."""
    own = {word.lower() for word in own}
    inside = re.compile(f"{OPEN}[^{OPEN}{CLOSE}]*{CLOSE}")
    before = ""
    while before != text:
        before, text = text, inside.sub(" ", text)
    found = []
    for line in text.splitlines():
        words = [word for word in WORD.findall(line) if word.lower() not in own]
        if words:
            found.append(" ".join(line.split()))
    return found
