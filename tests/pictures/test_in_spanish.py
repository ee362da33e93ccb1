"""Pictures are drawn in the words of whoever looks at them, and their words still fit."""

import gettext
from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest

import protoconch
from protoconch.pictures.drawing import Picture
from protoconch.pictures.futures import chance_curve, futures_dots
from protoconch.pictures.lengths import batch_lengths
from protoconch.pictures.lettering import collisions, room_for
from protoconch.pictures.ribbon import batches_by_code
from protoconch.pictures.ribbons import season_ribbons
from protoconch.pictures.ribbons_phone import phone_key, phone_ribbons, phone_room
from protoconch.words import ENGLISH, Reader, read_by, say
from tests.pictures.invented import season

TODAY = date(2027, 6, 20)
WORDS = gettext.translation("django", Path(protoconch.__file__).parent / "locale", ["es"])


@pytest.fixture
def spanish() -> Iterator[Reader]:
    reader = Reader(
        lambda template: WORDS.gettext(template) if template else "",
        lambda one, many, number: WORDS.ngettext(one, many, 1 if number == 1 else 2),
    )
    read_by(lambda: reader)
    yield reader
    read_by(lambda: ENGLISH)


def drawn() -> list[Picture]:
    plan = season(12)
    curves = batches_by_code(plan.forecast.batches)
    return [
        season_ribbons(plan, TODAY), phone_key(plan), *phone_ribbons(plan, TODAY),
        phone_room(plan, TODAY), futures_dots(plan), chance_curve(plan),
        *(batch_lengths(batch, curves[batch.code], plan.forecast, plan.target, f"length-{i}")
          for i, batch in enumerate(plan.batches)),
    ]  # fmt: skip


def test_the_words_fit_where_they_are_longer(spanish: Reader) -> None:
    for picture in drawn():
        assert collisions(picture.labels) == []
        for label in picture.labels:
            left, _, right, _ = label.box
            assert left >= -1
            assert right <= picture.width + 1, (picture.title, label)


def test_a_picture_speaks_the_language_of_whoever_drew_it(spanish: Reader) -> None:
    picture = season_ribbons(season(3), TODAY)
    words = " ".join(label.words for label in picture.labels)
    assert "Todos los lotes" in words
    assert "Batch" not in words
    assert "<title" in picture.svg
    assert str(picture.title) in picture.svg
    read_by(lambda: ENGLISH)
    assert str(picture.title) == (
        "The season: number alive in each batch, and what is in use in the room"
    )


def test_room_is_measured_in_the_words_that_are_drawn(spanish: Reader) -> None:
    said = say("All batches")
    assert room_for(said) == room_for(str(said)) != room_for("All batches")
