"""The text of a file that a person wrote."""

from pathlib import Path

from protoconch.errors import BadFile, BadInput, MissingInput, Problem


def file_text(path: Path | str) -> str:
    """The text of a file in UTF-8, without a byte order mark.

    Raises: MissingInput, where there is no such file; BadInput, where it cannot be read; BadFile
    with the line, where it is not in UTF-8.
    """
    try:
        data = Path(path).read_bytes()
    except FileNotFoundError:
        raise MissingInput(f"There is no file {path}.") from None
    except OSError as error:
        reason = error.strerror or "it cannot be opened"
        raise BadInput(f"The file {path} cannot be read: {reason.lower()}.") from None
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data[: error.start].count(b"\n") + 1
        fault = Problem(line, "The file is not in UTF-8; save it as UTF-8 text.")
        raise BadFile(str(path), (fault,)) from None
