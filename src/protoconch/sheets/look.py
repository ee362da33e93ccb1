"""A page as text: markup that escapes what people typed, tables that fold on a phone, the frame."""

from collections.abc import Iterable, Sequence
from html import escape
from importlib.resources import files

from protoconch.pictures.drawing import Picture
from protoconch.pictures.face import stylesheet
from protoconch.words import phrase, say

LANGUAGE = phrase("en")
"""The code of the language that a page is in: a translator writes that of theirs."""


class Html(str):
    """Text that is markup already; every other text is escaped when it enters a tag."""

    __slots__ = ()


def safe(words: str) -> Html:
    """Markup as it is, any other text escaped."""
    return words if isinstance(words, Html) else Html(escape(words))


def joined(parts: Iterable[str]) -> Html:
    """Several parts one after another, each made safe."""
    return Html("".join(safe(part) for part in parts))


def tag(name: str, /, *parts: str, **attributes: str) -> Html:
    """One element; parts that are not markup are escaped, and so are attribute values.

    attributes: "class_" becomes class, "data_label" becomes data-label.
    """
    written = "".join(
        f' {key.strip("_").replace("_", "-")}="{escape(value)}"'
        for key, value in attributes.items()
        if value
    )
    return Html(f"<{name}{written}>{joined(parts)}</{name}>")


def paragraph(*parts: str, class_: str = "") -> Html:
    """A paragraph."""
    return tag("p", *parts, class_=class_)


def bullets(items: Iterable[str]) -> Html:
    """A list."""
    return tag("ul", *(tag("li", item) for item in items))


def section(heading: str, *parts: str, id_: str, class_: str = "card") -> Html:
    """A part of the page with its heading, named for readers that jump between parts."""
    head = tag("h2", heading, id=f"h-{id_}")
    return tag("section", head, *parts, class_=class_, id=id_, aria_labelledby=f"h-{id_}")


def folded(summary: str, *parts: str, class_: str = "") -> Html:
    """A part that opens when its summary is touched.

    class_: "printed" for one that is open on paper, "long" for one that is left out if closed.
    """
    return tag("details", tag("summary", summary), *parts, class_=class_)


def table(
    caption: str, heads: Sequence[str], rows: Iterable[Sequence[str]], *, numeric: int = 0
) -> Html:
    """A table whose rows fold into blocks on a narrow screen, each cell with its heading.

    rows: the first cell of each names the row. numeric: so many last columns hold numbers.
    """
    first_number = len(heads) - numeric
    columns = [
        tag("th", head, scope="col", role="columnheader", class_=_kind(i, first_number))
        for i, head in enumerate(heads)
    ]
    body = [
        tag(
            "tr",
            tag("th", row[0], scope="row", role="rowheader"),
            *(
                tag("td", cell, role="cell", data_label=heads[i], class_=_kind(i, first_number))
                for i, cell in enumerate(row[1:], start=1)
            ),
            role="row",
        )
        for row in rows
    ]
    return tag(
        "table",
        tag("caption", caption),
        tag("thead", tag("tr", *columns, role="row"), role="rowgroup"),
        tag("tbody", *body, role="rowgroup"),
        role="table",
    )


def _kind(column: int, first_number: int) -> str:
    return "number" if column >= first_number else ""


def figure(picture: Picture, class_: str = "") -> Html:
    """A picture with the sentence that says what it means."""
    caption = tag("figcaption", tag("b", say("What it says:")), " ", picture.meaning)
    return tag("figure", Html(picture.svg), caption, class_=class_)


def style() -> str:
    """The style sheet of pages and pictures."""
    return stylesheet() + files("protoconch.sheets").joinpath("look.css").read_text("utf-8")


def page(title: str, *parts: str) -> str:
    """A whole page that needs nothing from outside itself.

    Returns: HTML text from doctype to end.
    """
    head = tag(
        "head",
        Html('<meta charset="utf-8">'),
        Html('<meta name="viewport" content="width=device-width,initial-scale=1">'),
        Html('<meta name="color-scheme" content="light dark">'),
        tag("title", title),
        Html(f"<style>{style()}</style>"),
    )
    body = tag("body", tag("main", *parts))
    return f"<!doctype html>\n{tag('html', head, body, lang=str(say(LANGUAGE)))}\n"
