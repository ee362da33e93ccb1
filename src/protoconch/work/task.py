"""A task of a day, and the working behind its amount."""

import ast
import math
import operator
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any, NamedTuple

from protoconch.errors import BadInput
from protoconch.sources.values import SourcedValue
from protoconch.units import text
from protoconch.words import phrase, say

ROUNDS = (phrase("morning"), phrase("midday"), phrase("evening"))
THE_PLAN = say("the plan")

OPERATORS: dict[type[ast.operator], Callable[[Any, Any], Any]] = {
    ast.Add: operator.add,
    ast.Sub: operator.sub,
    ast.Mult: operator.mul,
    ast.Div: operator.truediv,
    ast.Pow: operator.pow,
}
FUNCTIONS: dict[str, Callable[..., Any]] = {"floor": math.floor, "min": min, "max": max}


class Given(NamedTuple):
    """One input of a formula: its name there, its value [unit], and who says so.

    source: id in references.toml, "the plan", or the hatchery's own log.
    """

    name: str
    value: float
    unit: str
    source: str


@dataclass(frozen=True, slots=True)
class Working:
    """How an amount was worked out: the formula itself, its inputs, and what it gives [unit]."""

    formula: str
    inputs: tuple[Given, ...]
    result: float
    unit: str


@dataclass(frozen=True, slots=True)
class Task:
    """One thing to do on a day.

    round: "morning", "midday" or "evening". kind: the sort of work, e.g. "feed".
    what, where, amount, why: what the crew reads. batch: its code. minutes: time it takes [min].
    working: behind the first number of the amount; also: behind the further ones.
    cautions: where someone can be hurt or the law asks first. steps: how to, in order.
    """

    day: date
    round: str
    kind: str
    what: str
    where: str
    amount: str
    why: str
    batch: str
    minutes: float
    working: Working | None
    cautions: tuple[str, ...]
    steps: tuple[str, ...]
    also: tuple[Working, ...] = ()

    @property
    def key(self) -> str:
        """What an entry of the log calls the line by that it settles; no other line of the day's.

        What is done is part of it, since several media are made at one bench.
        """
        # str.join takes the English of texts: the key is the same for every reader
        parts = (self.day.isoformat(), self.kind, self.where, self.batch, self.what)
        return "/".join(parts)


def given(name: str, value: SourcedValue) -> Given:
    """A sourced number as the input of a formula."""
    return Given(name, value.number, value.unit, value.source)


def planned(name: str, value: float, unit: str) -> Given:
    """A number of the plan as the input of a formula."""
    return Given(name, float(value), unit, THE_PLAN)


def about(value: float, digits: int = 3, unit: str = "1") -> str:
    """A number that is only expected, in so many digits, and its unit: "35,100"."""
    return text(float(f"{value:.{digits}g}"), unit, digits)


def worked(formula: str, inputs: Sequence[Given], unit: str) -> Working:
    """The formula with its inputs and the number it gives [unit].

    formula: arithmetic in the names of the inputs, with + - * / ** and floor, min, max.
    Raises: BadInput, for a name that is not among the inputs or arithmetic of another kind.
    """
    names = {entry.name: entry.value for entry in inputs}
    result = float(_value(ast.parse(formula, mode="eval").body, names))
    return Working(formula, tuple(inputs), result, unit)


def _value(node: ast.expr, names: Mapping[str, float]) -> float:
    match node:
        case ast.Constant(value=int() | float() as number):
            return number
        case ast.Name(id=name) if name in names:
            return names[name]
        case ast.BinOp(left=left, op=op, right=right) if type(op) in OPERATORS:
            return float(OPERATORS[type(op)](_value(left, names), _value(right, names)))
        case ast.Call(func=ast.Name(id=name), args=args) if name in FUNCTIONS:
            return float(FUNCTIONS[name](*(_value(part, names) for part in args)))
    raise BadInput(
        say(
            "A formula cannot hold {part}: it takes its inputs and arithmetic.",
            part=ast.unparse(node),
        )
    )
