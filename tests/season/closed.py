"""Beliefs with one number held at a value."""

from dataclasses import replace

from protoconch.season.model.beliefs import Beliefs


def with_survival(known: Beliefs, name: str, value: float) -> Beliefs:
    """The same beliefs with that number known exactly."""
    sure = replace(
        known.uncertain[name], value=value, low=None, high=None, shape="fixed", beta=None
    )
    return replace(known, uncertain={**known.uncertain, name: sure})
