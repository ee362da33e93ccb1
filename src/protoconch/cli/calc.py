"""`protoconch calc`: one calculation of the trade, from what is typed to its answer."""

import json
from collections.abc import Iterable
from dataclasses import asdict

import click

from protoconch.calculations import Answer, Calculation, Input, calculation, known, run
from protoconch.calculations.declaration import Needed
from protoconch.cli.telling import as_json, command, echo, option
from protoconch.errors import BadInput, MissingInput
from protoconch.units import text
from protoconch.words import listed, say


@command(
    say("One calculation of the trade, alone."),
    say(
        "A value may carry its unit; lists are parted by commas. With a name alone it says what "
        "the calculation needs."
    ),
    examples=(
        "protoconch calc --list",
        'protoconch calc ration tank="130 US gal" wanted=20000 culture=4e6',
        'protoconch calc aliquot-count counts=18,22,20,25,15 aliquot="1 mL" volume="10 L" --json',
    ),
)
@click.argument("name", required=False)
@click.argument("inputs", nargs=-1, metavar="KEY=VALUE ...")
@option("--list", "listed", is_flag=True, help=say("All calculations with their inputs."))
@as_json()
def calc(name: str | None, inputs: tuple[str, ...], listed: bool, as_json: bool) -> None:
    """One calculation of the trade, alone."""
    if listed or name is None:
        _print_list(as_json)
        return
    asked = calculation(name)
    if not inputs:
        needed = [one.key for one in asked.inputs if isinstance(one.default, Needed)]
        if not as_json:
            echo(_described(asked))
        raise MissingInput(
            say("{name} needs {keys}; write them as KEY=VALUE.", name=name, keys=", ".join(needed))
        )
    answer = run(name, _typed(inputs))
    echo(_as_json(asdict(answer)) if as_json else _told(asked, answer))


def _typed(inputs: Iterable[str]) -> dict[str, str]:
    """What stands before and after the "=" of each input."""
    typed: dict[str, str] = {}
    for word in inputs:
        key, equals, value = word.partition("=")
        key = key.strip().replace("-", "_")
        if not equals or not key:
            raise BadInput(
                say("{word!r} is not an input; write KEY=VALUE, for example tank=500.", word=word)
            )
        if key in typed:
            raise BadInput(
                say("{key} is given twice; give it once, a list parted by commas.", key=key)
            )
        typed[key] = value
    return typed


def _print_list(as_json: bool) -> None:
    if as_json:
        echo(_as_json([_as_data(one) for one in known().values()]))
        return
    width = max((len(name) for name in known()), default=0)
    for name, one in known().items():
        echo(f"{name:{width}}  {one.purpose}")
        echo(f"{'':{width}}  {', '.join(_input_in_short(given) for given in one.inputs)}")


def _as_data(one: Calculation) -> dict[str, object]:
    """A calculation as it is listed for programs."""
    return {
        "calculation": one.name,
        "purpose": one.purpose,
        "inputs": [
            {
                "key": given.key,
                "kind": given.kind,
                "unit": given.unit,
                "sentence": given.sentence,
                "needed": isinstance(given.default, Needed),
                "default": None if isinstance(given.default, Needed) else given.default,
                "default_says": given.default_says,
                "choices": given.choices,
            }
            for given in one.inputs
        ],
        "results": [asdict(result) for result in one.results],
        "source": one.sources,
        "cautions": one.cautions,
    }


def _input_in_short(one: Input) -> str:
    unit = listed([say(unit) for unit in one.units if unit not in {"", "1"}])
    default = "" if isinstance(one.default, Needed) else one.default_says or _plain(one.default)
    parts = "; ".join(str(part) for part in (unit, "|".join(one.choices), default) if part)
    return f"{one.key} ({parts})" if parts else one.key


def _described(one: Calculation) -> str:
    """What a calculation takes and gives, for people."""
    lines = [f"{one.name}: {one.purpose}", "", str(say("Inputs (unit of a bare number; default)"))]
    width = max(len(_input_in_short(given)) for given in one.inputs)
    lines += [f"  {_input_in_short(given):{width}}  {given.sentence}" for given in one.inputs]
    lines += ["", str(say("Results"))]
    lines += [
        f"  {f'{result.key} ({say(result.unit)})':{width}}  {result.sentence}"
        for result in one.results
    ]
    return "\n".join([*lines, "", *_small_print(one.sources, one.cautions)])


def _told(asked: Calculation, answer: Answer) -> str:
    """An answer for people."""
    said = {result.key: result.sentence for result in asked.results}
    shown = {
        key: str(say("never") if value is None else text(value, answer.units[key]))
        for key, value in answer.result.items()
    }
    keys, values = max(map(len, shown)), max(map(len, shown.values()))
    lines = [f"{key:{keys}}  {shown[key]:>{values}}  {said.get(key, '')}".rstrip() for key in shown]
    return "\n".join([*lines, "", *_small_print(answer.source, answer.cautions)])


def _small_print(sources: Iterable[str], cautions: Iterable[str]) -> list[str]:
    told = [say("Source: {source}.", source=source) for source in sources]
    told += [say("Mind: {caution}", caution=caution) for caution in cautions]
    return [str(line) for line in told]


def _plain(default: object) -> str:
    if default is None:
        return say("may be left out")
    return f"{default:g}" if isinstance(default, float | int) else str(default)


def _as_json(data: object) -> str:
    return json.dumps(data, ensure_ascii=False, indent=2, allow_nan=False)
