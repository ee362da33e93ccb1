"""A hatchery file made up for the tests, and what it becomes when something else is typed."""

from pathlib import Path

import pytest

from protoconch.errors import BadFile
from protoconch.hatchery.reading import read_hatchery

DEMO = Path(__file__).with_name("made_up.toml").read_text(encoding="utf-8")
MADE_UP = read_hatchery(DEMO, "mine.toml")
TEMPERATURES = next(line for line in DEMO.splitlines() if line.startswith("temperature"))
OWN = '\n[own."veliger.survival"]\nvalue = 0.4\nlow = 0.2\nhigh = 0.6\nunit = "1"\n'


def changed(*changes):
    text = DEMO
    for old, new in changes:
        assert text.count(old) >= 1, old
        text = text.replace(old, new, 1)
    return text


def line_of(words, text=DEMO):
    return next(at for at, line in enumerate(text.splitlines(), 1) if words in line)


def hatchery_of(*changes):
    return read_hatchery(changed(*changes), "mine.toml")


def faults(text):
    with pytest.raises(BadFile) as refusal:
        read_hatchery(text, "mine.toml")
    return [(problem.line, problem.sentence) for problem in refusal.value.problems]
