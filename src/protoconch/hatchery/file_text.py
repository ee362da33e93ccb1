"""The text of a file that a person wrote."""

import re
from collections.abc import Collection
from pathlib import Path

from protoconch.errors import BadFile, BadInput, MissingInput, Problem
from protoconch.words import say

HEADER = re.compile(r"\s*\[{1,2}\s*\"?(?P<name>[\w-]+)\"?\s*[\].][^,]*(?:#.*)?$")


def file_text(path: Path | str) -> str:
    """The text of a file in UTF-8, without a byte order mark.

    Raises: MissingInput, where there is no such file; BadInput, where it cannot be read; BadFile
    with the line, where it is not in UTF-8.
    """
    try:
        data = Path(path).read_bytes()
    except FileNotFoundError:
        raise MissingInput(say("There is no file {path}.", path=path)) from None
    except OSError as error:
        reason = error.strerror or say("it cannot be opened")
        raise BadInput(
            say("The file {path} cannot be read: {reason}.", path=path, reason=reason.lower())
        ) from None
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data[: error.start].count(b"\n") + 1
        fault = Problem(line, say("The file is not in UTF-8; save it as UTF-8 text."))
        raise BadFile(str(path), (fault,)) from None


def lines_of(text: str, sections: Collection[str]) -> str:
    """The lines of a TOML file that belong to these sections, as they were written.

    A header line begins or ends a section; comments right above a header go with it.
    """
    kept: list[str] = []
    above: list[str] = []
    inside = False
    for line in text.splitlines():
        header = HEADER.match(line)
        if header:
            inside = header["name"] in sections
        elif not line.strip() or line.lstrip().startswith("#"):
            above.append(line)
            continue
        if inside:
            kept += [*above, line]
        above = []
    return "\n".join(kept).strip("\n")
