"""Shell length of a batch along time."""

from dataclasses import replace
from datetime import timedelta

import numpy as np

from protoconch.pictures.lengths import batch_lengths, lengths_meaning
from protoconch.pictures.lettering import collisions
from tests.pictures.invented import season
from tests.pictures.markup import parsed

PLAN = season(3)
BATCH, DAILY = PLAN.batches[0], PLAN.forecast.batches[0]


def _drawn(batch=BATCH, daily=DAILY):
    return batch_lengths(batch, daily, PLAN.forecast, PLAN.target, "lengths")


def test_small_middle_and_large_are_named_and_the_length_asked_is_marked():
    drawn = _drawn()
    words = [label.words for label in drawn.labels]
    assert {"small", "middle", "large", "asked 80 mm"} <= set(words)
    assert collisions(drawn.labels) == []
    parsed(drawn.svg)


def test_the_sentence_says_when_half_have_the_length_asked():
    sentence = lengths_meaning(BATCH, DAILY, PLAN.target)
    assert "Half of batch A reach 80 mm by 22 June 2028" in sentence
    assert "below 63 mm" in sentence


def test_a_batch_that_is_ready_after_its_release_says_so():
    late = replace(BATCH.dates, ready=BATCH.dates.release + timedelta(days=30))
    sentence = lengths_meaning(replace(BATCH, dates=late), DAILY, PLAN.target)
    assert "only by" in sentence
    assert "after the release" in sentence


def test_a_batch_without_animals_says_so():
    none = np.zeros_like(DAILY.length_p50)
    empty = replace(DAILY, length_p10=none, length_p50=none, length_p90=none)
    drawn = _drawn(daily=empty)
    assert "nothing to measure" in [label.words for label in drawn.labels]
    assert "nothing to measure" in drawn.meaning
