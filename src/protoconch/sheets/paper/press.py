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

    About 15 % of it may be stained and it is still read (level M of ISO/IEC 18004).
    """
    import segno

    drawn = BytesIO()
    segno.make(address, error="m", micro=False).save(drawn, kind="svg", border=2, xmldecl=False)
    return drawn.getvalue().decode()


def pressed(form: str, words: Mapping[str, Any], *, paper: str = "letter") -> bytes:
    """A PDF of one of the forms, with fonts inside and tags for screen readers.

    form: name of a file in forms/, without its ending. words: what the form shows; anything that
    JSON can hold. Equal words give equal bytes.
    """
    import typst

    said = json.dumps({**words, "paper": PAPERS[paper]}, ensure_ascii=False)
    with as_file(files(__package__)) as root:
        pdf = typst.compile(  # type: ignore[call-overload]
            str(root / "forms" / f"{form}.typ"), root=str(root), format="pdf",
            font_paths=[root / "fonts"], ignore_system_fonts=True,
            sys_inputs={"words": said}, timestamp=0,
        )  # fmt: skip
    return bytes(pdf)
