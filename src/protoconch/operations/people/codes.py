"""Codes that let somebody in once: six plain words, easy to say aloud and to type."""

import hashlib
import secrets
import unicodedata
from functools import cache
from importlib.resources import files

WORDS_IN_CODE = 6


@cache
def code_words() -> tuple[str, ...]:
    """The 256 words that codes are made of; six of them are one of 2.8e14 codes."""
    listed = files("protoconch.operations.people").joinpath("code_words.txt")
    return tuple(listed.read_text("ascii").split())


def new_code() -> str:
    """A code that nobody can guess: "maple otter window lemon stone raft"."""
    return " ".join(secrets.choice(code_words()) for _ in range(WORDS_IN_CODE))


def code_from(secret: str, purpose: str) -> str:
    """The one code that follows from a secret, for that purpose."""
    digest = hashlib.sha256(f"{purpose}\n{secret}".encode()).digest()
    return " ".join(code_words()[byte] for byte in digest[:WORDS_IN_CODE])


def plain(typed: str) -> str:
    """A code, a name or a sign-in as it is compared: small letters, single spaces."""
    return " ".join(unicodedata.normalize("NFKC", typed).casefold().replace("-", " ").split())


def code_hash(code: str) -> str:
    """What is kept of a code."""
    return hashlib.sha256(plain(code).encode()).hexdigest()
