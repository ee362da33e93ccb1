"""The words of each language: gathers what a person may read, and makes what the program loads.

`python3 start.py words` starts it. Every folder of src/protoconch/locale is a language; in it
stands one .po file for each part of the program, and LC_MESSAGES/django.mo is made of them. Texts
that are new come into the .po files with no translation, texts that are gone leave them. Without
further words it then prints what has no translation yet and makes the .mo; `--check` changes
nothing and ends with 1 where a language is not whole.
"""

import ast
import os
import re
import string
import sys
import tomllib
from collections.abc import Iterator
from datetime import UTC, datetime
from io import BytesIO
from pathlib import Path
from typing import Any

from babel.messages import Catalog, Message
from babel.messages.mofile import write_mo
from babel.messages.pofile import read_po, write_po

ROOT = Path(__file__).resolve().parent
PROGRAM = ROOT / "src" / "protoconch"
LOCALE = PROGRAM / "locale"
MARKS: dict[str, tuple[int, ...]] = {  # the call, and which of its parts are texts
    "say": (1,), "phrase": (1,), "counted": (2, 3), "plural": (2, 3), "_": (1,), "gettext": (1,),
    "gettext_lazy": (1,), "gettext_noop": (1,), "ngettext": (1, 2), "ngettext_lazy": (1, 2),
    "positive": (3,), "not_negative": (3,), "OutOfRange": (1,),  # names of quantities
}  # fmt: skip
NAMED = ("given", "planned", "Given")
"""Calls that name an input of a formula, which people read with spaces."""

NUMBERED = ("sources/species/*.toml", "sources/tables/season.toml", "sources/tables/outlook.toml")
"""Data files whose numbers are listed by name: veliger.density.day_4 as "veliger", "density"..."""

DATA: dict[str, tuple[str, ...]] = {
    "sources/tables/*.toml": ("conditions", "missing"),
    "sources/species/*.toml": ("conditions", "missing", "common_name", "size_measure", "notes"),
    "hatchery/*limits.toml": ("conditions",),
    "sources/tables/algae_counting.toml": ("name", "what_to_do"),
    "sources/tables/algae_growth.toml": ("why",),
    "sources/tables/flocculation.toml": ("name", "first", "then", "note"),
    "sources/tables/media.toml": ("name", "how"),
    "sources/tables/storage.toml": ("say",),
    "sources/tables/materials.toml": ("name", "reason", "instead"),
    "sources/tables/outage.toml": ("steps",),
    "sources/tables/uv.toml": ("organism", "kind", "effect"),
    "sources/tables/water_cautions.toml": ("about", "say"),
}
"""Texts in data files: a pattern of files under the program, and the keys whose values are read
by people as they stand."""

CLICK: tuple[str | tuple[str, str], ...] = (
    "Usage:", "Options", "Positional arguments", "Aborted!", "Show this message and exit.",
    "%(prog)s, version %(version)s", "default: {default}", "env var: {var}", "(dynamic)",
    "Missing argument", "Missing option", "Missing parameter", "Missing {param_type}",
    "Missing parameter: {param_name}", "Missing command.", "Invalid value: {message}",
    "Invalid value for {param_hint}: {message}", "No such option {name!r}.",
    "No such command {name!r}.", "Option {name!r} does not take a value.",
    "{value!r} is not a valid {number_type}.", "{value} is not in the range {range}.",
    "{name} {filename!r} is a file.", "{name} {filename!r} is a directory.",
    "{name} {filename!r} does not exist.", "{name} {filename!r} is not readable.",
    "{name} {filename!r} is not writable.", "file", "directory", "path",
    ("Got unexpected extra argument ({args})", "Got unexpected extra arguments ({args})"),
    ("Option {name!r} requires an argument.", "Option {name!r} requires {nargs} arguments."),
    ("Did you mean {possibility}?", "(Did you mean one of: {possibilities}?)"),
)  # fmt: skip
"""What the library of the command line says by itself, in its own words."""

Texts = dict[str | tuple[str, str], set[str]]
"""Each text, or the texts for one and for many, with the files it stands in."""


def area(path: str) -> str:
    """The .po file, by name, that holds the texts of a file: its folder in the program."""
    parts = path.split("/")
    if parts[:2] == ["web", "pages"]:
        return f"pages-{parts[2]}"
    return parts[0].removesuffix(".py")


def texts() -> Texts:
    """All that a person may read in the program."""
    found: Texts = {text: {"cli/telling.py"} for text in CLICK}
    for path in sorted(PROGRAM.rglob("*")):
        name = path.relative_to(PROGRAM).as_posix()
        for text in _texts_of(path, name):
            found.setdefault(text, set()).add(name)
    return found


def _texts_of(path: Path, name: str) -> Iterator[str | tuple[str, str]]:
    if path.suffix == ".py" and "migrations" not in path.parts:
        yield from _texts_of_python(path.read_text())
    elif path.suffix == ".html":
        yield from _texts_of_template(path)
    elif path.suffix == ".toml":
        if any(Path(name).match(pattern) for pattern in NUMBERED):
            yield from _named_numbers(tomllib.loads(path.read_text()))
        for pattern, keys in DATA.items():
            if Path(name).match(pattern):
                yield from _texts_of_data(tomllib.loads(path.read_text()), keys)


def _texts_of_python(code: str) -> Iterator[str | tuple[str, str]]:
    for call in ast.walk(ast.parse(code)):
        if not isinstance(call, ast.Call):
            continue
        name = getattr(call.func, "id", getattr(call.func, "attr", ""))
        if name in NAMED and call.args:
            yield from (text.replace("_", " ") for text in _written(call.args[0]))
        places = MARKS.get(name, ())
        given = [list(_written(call.args[at - 1])) for at in places if at <= len(call.args)]
        if len(places) == 1:
            yield from (text for texts in given for text in texts if text)
        elif len(given) == len(places):
            yield from zip(*given, strict=True)


def _named_numbers(table: dict[str, Any]) -> Iterator[str]:
    for name, inner in table.items():
        if isinstance(inner, dict) and name != "species":
            yield name.replace("_", " ")
            yield from _named_numbers(inner)


def _written(part: ast.expr) -> Iterator[str]:
    """The texts that stand in a part of a call: one, or one for each way of an if."""
    if isinstance(part, ast.Constant) and isinstance(part.value, str):
        yield part.value
    elif isinstance(part, ast.IfExp):
        yield from _written(part.body)
        yield from _written(part.orelse)


def _texts_of_template(path: Path) -> Iterator[str | tuple[str, str]]:
    from django.conf import settings
    from django.utils.translation.template import templatize

    if not settings.configured:
        settings.configure()
    code = templatize(path.read_text())
    for call in re.finditer(r"\b(n?gettext|_)\(", code):
        for end in range(call.end(), len(code)):
            if code[end] != ")":
                continue
            try:
                made = ast.parse(code[call.start() : end + 1], mode="eval").body
            except SyntaxError:
                continue
            given = [part.value for part in made.args if isinstance(part, ast.Constant)]  # type: ignore[attr-defined]
            yield given[0] if call[1] != "ngettext" else (given[0], given[1])
            break


def _texts_of_data(value: Any, keys: tuple[str, ...], key: str = "") -> Iterator[str]:
    if isinstance(value, dict):
        for name, inner in value.items():
            yield from _texts_of_data(inner, keys, name)
    elif isinstance(value, list):
        for inner in value:
            yield from _texts_of_data(inner, keys, key)
    elif isinstance(value, str) and key in keys and value:
        yield value


def read(code: str) -> dict[str, Catalog]:
    """The .po files of a language, by area."""
    found = {}
    for path in sorted((LOCALE / code).glob("*.po")):
        with path.open("rb") as file:
            found[path.stem] = read_po(file, locale=code)
    return found


def renewed(code: str, wanted: Texts) -> dict[str, Catalog]:
    """The .po files of a language with exactly the texts of the program."""
    known: dict[Any, tuple[str, Message]] = {}
    for name, one in read(code).items():
        for message in one:
            # a text that has moved may stand in two files: where it has its translation counts
            if message.id and (_whole(message) or message.id not in known):
                known[message.id] = (name, message)
    made: dict[str, Catalog] = {}
    for text in sorted(wanted, key=str):
        places = sorted(wanted[text])
        name, before = known.get(text, (area(places[0]), None))
        if name not in {area(place) for place in places}:
            name = area(places[0])
        into = made.setdefault(name, Catalog(locale=code, fuzzy=False))
        into.add(
            text,
            _every_form(before.string) if before else None,
            locations=[(place, 0) for place in places],
            flags={"fuzzy"} if before and before.fuzzy else (),
        )
    return made


def _every_form(said: Any) -> Any:
    """The forms for one and many, with the last for the rest, as Spanish has one for millions."""
    if not isinstance(said, tuple | list):
        return said
    last = next((form for form in reversed(said) if form), "")
    return tuple(form or last for form in said)


def _whole(message: Message) -> bool:
    return all(message.string) if isinstance(message.string, tuple) else bool(message.string)


def faults(made: dict[str, Catalog]) -> list[str]:
    """What keeps a language from being whole: a sentence for each text."""
    found = []
    for name, one in made.items():
        for message in one:
            if not message.id:
                continue
            ids = message.id if isinstance(message.id, tuple) else (message.id,)
            told = message.string if isinstance(message.string, tuple) else (message.string,)
            if not all(told):
                found.append(f"{name}: no translation: {ids[0]}")
            elif message.fuzzy:
                found.append(f"{name}: to be looked at (fuzzy): {ids[0]}")
            elif any(holes(text) != holes(ids[-1]) for text in told[-1:]):
                found.append(f"{name}: other holes: {ids[0]} | {told[-1]}")
    return found


def holes(text: str) -> list[str]:
    """The places of a text that values go into, with their formats, in order of the alphabet."""
    percent = re.findall(r"%\(\w+\)[sd]", text)
    try:
        braces = [f"{hole}:{form}" for _, hole, form, _ in string.Formatter().parse(text) if hole]
    except ValueError:
        braces = []
    return sorted(set(percent)) + sorted(set(braces))


def loaded(made: dict[str, Catalog], code: str) -> bytes:
    """The .mo of all .po files of a language."""
    never = datetime(2027, 1, 1, tzinfo=UTC)  # a file that changes with its texts alone
    whole = Catalog(
        locale=code, fuzzy=False, charset="utf-8", creation_date=never, revision_date=never
    )
    for one in made.values():
        for message in one:
            if message.id:
                whole.add(message.id, message.string)
    whole.mime_headers = [
        ("Content-Type", "text/plain; charset=utf-8"), ("Plural-Forms", whole.plural_forms),
    ]  # fmt: skip
    file = BytesIO()
    write_mo(file, whole)
    return file.getvalue()


def written(one: Catalog) -> bytes:
    """A .po file: texts in order, with the files they stand in."""
    file = BytesIO()
    write_po(file, one, width=99, omit_header=True, include_lineno=False, sort_output=False)
    return file.getvalue()


def main(words: list[str]) -> int:
    """Renew and make every language, or check it."""
    wanted, status = texts(), 0
    for folder in sorted(path for path in LOCALE.iterdir() if path.is_dir()):
        made = renewed(folder.name, wanted)
        wrong = faults(made)
        status |= bool(wrong)
        if "--check" not in words:
            for stale in folder.glob("*.po"):
                if stale.stem not in made:
                    stale.unlink()
            for name, one in made.items():
                (folder / f"{name}.po").write_bytes(written(one))
            (folder / "LC_MESSAGES").mkdir(exist_ok=True)
            (folder / "LC_MESSAGES" / "django.mo").write_bytes(loaded(made, folder.name))
        for sentence in wrong[: None if "--all" in words else 20]:
            print(sentence)
        print(f"{folder.name}: {len(wanted)} texts, {len(wrong)} faults")
    return status


if __name__ == "__main__":
    os.chdir(ROOT)
    sys.exit(main(sys.argv[1:]))
