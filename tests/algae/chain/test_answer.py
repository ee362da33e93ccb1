"""The answer is solved once and kept."""

import pickle
from dataclasses import fields, is_dataclass, replace
from types import MappingProxyType

import numpy as np

from protoconch.algae.chain.loss import after_loss
from protoconch.algae.chain.what_if import largest_culture
from tests.pictures.algae_answer import small_answer


def alike(one, other):
    """Equal in every part, arrays included."""
    if is_dataclass(one):
        return type(one) is type(other) and all(
            alike(getattr(one, f.name), getattr(other, f.name)) for f in fields(one)
        )
    if isinstance(one, np.ndarray):
        return one.dtype == other.dtype and np.array_equal(one, other, equal_nan=True)
    if isinstance(one, tuple | list):
        return len(one) == len(other) and all(map(alike, one, other))
    if isinstance(one, dict | MappingProxyType):
        return one.keys() == other.keys() and all(alike(one[key], other[key]) for key in one)
    return bool(one == other)


def test_an_answer_that_was_kept_as_bytes_is_the_same():
    answer = small_answer()
    kept = pickle.dumps(answer)
    again = pickle.loads(kept)  # noqa: S301 - our own bytes
    assert again is not answer
    assert alike(answer, again)
    fed = answer.plan.fed * 1.01
    sure = replace(answer.sure, plan=replace(answer.plan, fed=fed))
    assert not alike(answer, replace(answer, sure=sure))
    assert len(kept) < 300_000


def test_a_kept_answer_is_planned_on_as_the_first_one():
    answer = small_answer()
    again = pickle.loads(pickle.dumps(answer))  # noqa: S301 - our own bytes
    lost = largest_culture(answer.plan, 30)
    assert largest_culture(again.plan, 30) == lost
    one, other = (after_loss(kept, 30, lost=(lost,)) for kept in (answer, again))
    assert one.sentences == other.sentences
    assert alike(one.replan.plan.lives, other.replan.plan.lives)
