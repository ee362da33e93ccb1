"""Several texts as one."""

from collections.abc import Iterable, Sequence

from protoconch.words.reader import Reader
from protoconch.words.said import Said, Spoken, phrase, say

BETWEEN, LAST = phrase("{first}, {next}"), phrase("{first} and {last}")


def joined(parts: Iterable[str], between: str = " ") -> str:
    """Texts one after the other, as str.join, each still in its reader's words."""
    held = list(parts)
    if not any(isinstance(part, Spoken) for part in (*held, between)):
        return between.join(held)
    values = {f"part{place}": part for place, part in enumerate(held)}
    if isinstance(between, Spoken):
        holes = "{between}".join("{" + name + "}" for name in values)
        return Said.of(holes, {**values, "between": between})
    apart = between.replace("{", "{{").replace("}", "}}")
    return Said.of(apart.join("{" + name + "}" for name in values), values)


def listed(parts: Sequence[str]) -> str:
    """Texts as a list in words: "a, b and c"."""
    if len(parts) < 2:
        return parts[0] if parts else ""
    first: str = parts[0]
    for part in parts[1:-1]:
        first = say(BETWEEN, first=first, next=part)
    return say(LAST, first=first, last=parts[-1])


class _Begun(Spoken):
    """A text with a capital at its beginning."""

    __slots__ = ("of",)
    of: Spoken

    def spoken(self, reader: Reader) -> str:
        words = self.of.spoken(reader)
        return words[:1].upper() + words[1:]

    def __reduce__(self) -> tuple[object, ...]:
        return (begun, (self.of,))


def begun(text: str) -> str:
    """The text as it begins a sentence: its first letter a capital."""
    if not isinstance(text, Spoken):
        return text[:1].upper() + text[1:]
    made = _Begun(text.english[:1].upper() + text.english[1:])
    made.of = text
    return made
