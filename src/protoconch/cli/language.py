"""In which language the commands answer: as asked for, or that of the machine."""

import gettext
import os
from functools import cache
from pathlib import Path

from protoconch.errors import BadInput
from protoconch.words import ENGLISH, Reader, listed, read_by, say

FOLDER = Path(__file__).resolve().parents[1] / "locale"
DOMAIN = "django"
"""The name of the files that hold the words: they are shared with the pages."""
ASKED = "PROTOCONCH_LANGUAGE"
MACHINE = ("LANGUAGE", "LC_ALL", "LC_MESSAGES", "LANG")
"""Variables that name the machine's language, as gettext reads them: the first that is set."""

_machine: dict[str, str | None] = {}
"""LANGUAGE as it was before a language was asked for, as long as it is another one."""


def spoken() -> tuple[str, ...]:
    """Codes of the languages that the program speaks, English first."""
    made = FOLDER.glob(f"*/LC_MESSAGES/{DOMAIN}.mo")
    return ("en", *sorted(file.parents[1].name for file in made))


def speak(asked: str | None = None) -> None:
    """Let everything that is said from now on be in a language.

    asked: its code, "es" or "es-DO"; None takes that of the environment.
    Raises: BadInput, where a language is asked for that the program does not speak.
    """
    if "LANGUAGE" in _machine:
        _put(_machine.pop("LANGUAGE"))
    asked = asked or os.environ.get(ASKED)
    code = _short(asked) if asked else _of_machine()
    if code != "en" and code not in spoken():
        if asked:
            raise BadInput(
                say(
                    "The program does not speak {asked!r}; give one of {codes}.",
                    asked=asked, codes=listed(spoken()),
                )
            )  # fmt: skip
        code = "en"
    read_by(lambda: _reader(code))
    if code != _of_machine():
        _machine["LANGUAGE"] = os.environ.get("LANGUAGE")
        _put(code)
    if code != "en":  # what the library of the command line says comes from the same words
        gettext.bindtextdomain(DOMAIN, str(FOLDER))
        gettext.textdomain(DOMAIN)


def _of_machine() -> str:
    named = next((os.environ[name] for name in MACHINE if os.environ.get(name)), "en")
    codes = [_short(code) for code in named.split(":")]
    return next((code for code in codes if code in ("en", "c", "posix") or code in spoken()), "en")


def _short(code: str) -> str:
    """The language of a code: "es" of "es_DO.UTF-8"."""
    short = code.strip().lower().replace("-", "_").split(".")[0].split("_")[0]
    return "en" if short in ("c", "posix") else short


def _put(value: str | None) -> None:
    if value is None:
        os.environ.pop("LANGUAGE", None)
    else:
        os.environ["LANGUAGE"] = value


@cache
def _reader(code: str) -> Reader:
    if code == "en":
        return ENGLISH
    return Reader(
        lambda template: _words(code).gettext(template) if template else "",
        # a share of a thing is told as several; gettext counts whole things only
        lambda one, many, number: _words(code).ngettext(one, many, 1 if number == 1 else 2),
    )


@cache
def _words(code: str) -> gettext.NullTranslations:
    """The words of a language, read when the first of them is asked for."""
    return gettext.translation(DOMAIN, FOLDER, [code])
