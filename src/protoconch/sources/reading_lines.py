"""Finds the line on which each table and key of a TOML text stands.

The standard reader of TOML keeps no line numbers; a person who typed a file needs them.
"""

from collections.abc import Iterator
from dataclasses import dataclass, field

Path = tuple[str | int, ...]
"""Where something stands: names of tables and keys, with the index (from 0) inside an array of
tables, as in ("larval_tanks", 0, "litres")."""

BARE = frozenset("ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789_-")
ESCAPES = {"b": "\b", "t": "\t", "n": "\n", "f": "\f", "r": "\r", '"': '"', "\\": "\\"}


@dataclass(slots=True)
class Lines:
    """The line (from 1) of every header and key of one text."""

    at: dict[Path, int] = field(default_factory=dict)

    def line(self, path: Path) -> int:
        """The line of that path, or of the nearest thing around it; 1 where nothing is known."""
        for length in range(len(path), 0, -1):
            found = self.at.get(path[:length])
            if found is not None:
                return found
        return 1


def lines_of(text: str) -> Lines:
    """The lines of a text that the TOML reader has accepted.

    text: the whole file. Keys inside inline tables are found too.
    """
    lines = Lines()
    _Walk(text.replace("\r\n", "\n"), lines).document()
    return lines


@dataclass(slots=True)
class _Walk:
    """One pass over the text, from its first character to its last."""

    text: str
    lines: Lines
    place: int = 0
    line: int = 1
    arrays: dict[Path, int] = field(default_factory=dict)

    def document(self) -> None:
        """Visit every header and every key with its value."""
        table: Path = ()
        while self._to_statement():
            if self._peek() == "[":
                table = self._header()
            else:
                self._pair(table)

    def _peek(self, length: int = 1) -> str:
        return self.text[self.place : self.place + length]

    def _take(self, length: int = 1) -> str:
        taken = self._peek(length)
        self.line += taken.count("\n")
        self.place += length
        return taken

    def _skip(self, characters: str) -> None:
        while (here := self._peek()) and here in characters:
            self._take()

    def _comment(self) -> None:
        while (here := self._peek()) and here != "\n":
            self._take()

    def _to_statement(self) -> bool:
        """Skip white space and comments; False at the end of the text."""
        self._skip(" \t\n")
        while self._peek() == "#":
            self._comment()
            self._skip(" \t\n")
        return bool(self._peek())

    def _header(self) -> Path:
        here, array = self.line, self._peek(2) == "[["
        self._take(2 if array else 1)
        names = tuple(self._names())
        self._take(2 if array else 1)
        parent = self._with_indices(names[:-1])
        path = (*parent, names[-1])
        if array:
            index = self.arrays.get(path, -1) + 1
            self.arrays[path] = index
            self.lines.at.setdefault(path, here)
            path = (*path, index)
        self._note(path, here)
        return path

    def _with_indices(self, names: tuple[str, ...]) -> Path:
        """The path of a table, with the newest index wherever it runs through an array."""
        path: Path = ()
        for name in names:
            path = (*path, name)
            if path in self.arrays:
                path = (*path, self.arrays[path])
        return path

    def _note(self, path: Path, line: int) -> None:
        for length in range(1, len(path) + 1):
            self.lines.at.setdefault(path[:length], line)
        self.lines.at[path] = line

    def _pair(self, table: Path) -> None:
        here = self.line
        path = (*table, *self._names())
        self._take()  # the equals sign, which ends the names
        self._skip(" \t")
        self._note(path, here)
        self._value(path)

    def _names(self) -> Iterator[str]:
        """The parts of a dotted key, up to the sign that ends it."""
        while True:
            self._skip(" \t")
            quote = self._peek()
            if quote in ('"', "'"):
                yield self._string()
            else:
                start = self.place
                while (here := self._peek()) and here in BARE:
                    self._take()
                yield self.text[start : self.place]
            self._skip(" \t")
            if self._peek() != ".":
                return
            self._take()

    def _string(self) -> str:
        quote = self._peek()
        if self._peek(3) == quote * 3:
            return self._long_string(quote)
        self._take()
        parts: list[str] = []
        while (here := self._peek()) and here != quote:
            parts.append(self._escape() if here == "\\" and quote == '"' else self._take())
        self._take()
        return "".join(parts)

    def _escape(self) -> str:
        sign = self._take(2)[1:]
        if sign in ("u", "U"):
            return chr(int(self._take(4 if sign == "u" else 8), 16))
        return ESCAPES.get(sign, "")

    def _long_string(self, quote: str) -> str:
        self._take(3)
        while (here := self._peek()) and self._peek(3) != quote * 3:
            self._take(2 if here == "\\" and quote == '"' else 1)
        self._take(3)
        self._skip(quote)  # up to two quotes may stand before the closing three
        return ""

    def _value(self, path: Path) -> None:
        here = self._peek()
        if here in ('"', "'"):
            self._string()
        elif here == "[":
            self._array(path)
        elif here == "{":
            self._inline_table(path)
        else:
            while (here := self._peek()) and here not in ",]}#\n":
                self._take()

    def _array(self, path: Path) -> None:
        self._take()
        index = 0
        while self._to_statement() and self._peek() != "]":
            if self._peek() == ",":
                self._take()
                continue
            self._note((*path, index), self.line)
            self._value((*path, index))
            index += 1
        self._take()

    def _inline_table(self, path: Path) -> None:
        self._take()
        while self._to_statement() and self._peek() != "}":
            if self._peek() == ",":
                self._take()
                continue
            self._pair(path)
        self._take()
