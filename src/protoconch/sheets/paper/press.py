"""Presses a form and its words into a PDF."""

import json
from collections.abc import Mapping
from importlib.resources import as_file, files
from io import BytesIO
from typing import Any

PAPERS = {"letter": "us-letter", "a4": "a4"}
"""Sizes of paper by the names that people use, and typst's names for them."""


def code(address: str) -> str:
    """The address as a square code to scan: SVG text.

    About a quarter of it may be stained and it is still read (level Q of ISO/IEC 18004).
    """
    import segno

    drawn = BytesIO()
    segno.make(address, error="q", micro=False).save(drawn, kind="svg", border=2, xmldecl=False)
    return drawn.getvalue().decode()


def pressed(form: str, words: Mapping[str, Any], *, paper: str = "letter") -> bytes:
    """A PDF of one of the forms, with fonts inside and tags for screen readers.

    form: name of a file in forms/, without its ending. words: what the form shows; anything that
    JSON can hold; texts are pressed in the words of the reader of now. Equal words give equal
    bytes.
    """
    import typst

    said = json.dumps(_plain({**words, "paper": PAPERS[paper]}), ensure_ascii=False)
    with as_file(files(__package__)) as root:
        pdf = typst.compile(  # type: ignore[call-overload]
            str(root / "forms" / f"{form}.typ"), root=str(root), format="pdf",
            font_paths=[root / "fonts"], ignore_system_fonts=True,
            sys_inputs={"words": said}, timestamp=0,
        )  # fmt: skip
    return bytes(pdf)


def _plain(value: Any) -> Any:
    """The same with every text as the reader of now reads it."""
    if isinstance(value, Mapping):
        return {str(name): _plain(part) for name, part in value.items()}
    if isinstance(value, list | tuple):
        return [_plain(part) for part in value]
    return str(value) if isinstance(value, str) else value
