"""Answers and states as bytes to keep, and back: JSON, compressed; never code to be run.

A hatchery in them is left out: it is read from its description, which is kept already.
"""

import base64
import json
import zlib
from collections.abc import Callable, Mapping, Set
from datetime import date, datetime
from functools import cache
from typing import Any, TypeVar, cast, get_args, get_origin
from uuid import UUID

import numpy as np
from cattrs import Converter
from cattrs.errors import BaseValidationError

from protoconch.errors import BadInput
from protoconch.hatchery.description import Hatchery
from protoconch.words import from_plain, to_plain

T = TypeVar("T")


def packed(value: object, kind: Any = None) -> bytes:
    """A frozen dataclass of the program as bytes.

    kind: the type it is packed as, its own where None.
    """
    plain = _converter().unstructure(value, unstructure_as=kind or type(value))
    text = json.dumps(plain, separators=(",", ":"), ensure_ascii=False)
    return zlib.compress(text.encode(), 6)


def unpacked(content: bytes | memoryview, kind: type[T]) -> T:
    """What `packed` made bytes of.

    Raises: BadInput, where the bytes hold nothing of that kind, as after a change of the program.
    """
    try:
        plain = json.loads(zlib.decompress(content))
        return _converter().structure(plain, kind)
    except (zlib.error, ValueError, KeyError, TypeError, BaseValidationError) as fault:
        raise BadInput(
            f"What was kept is no {kind.__name__} of this version of the program."
        ) from fault


@cache
def _converter() -> Converter:
    made = Converter(detailed_validation=False, unstruct_collection_overrides={Set: list})
    for moment in (datetime, date):
        made.register_unstructure_hook(moment, lambda value: value.isoformat())
    made.register_structure_hook(datetime, lambda text, _: datetime.fromisoformat(text))
    made.register_structure_hook(date, lambda text, _: date.fromisoformat(text))
    made.register_unstructure_hook(str, to_plain)
    made.register_structure_hook(str, lambda kept, _: from_plain(kept))
    made.register_unstructure_hook(UUID, str)
    made.register_structure_hook(UUID, lambda text, _: UUID(text))
    made.register_unstructure_hook(Hatchery, lambda _: None)
    made.register_structure_hook(Hatchery, lambda _, __: cast("Hatchery", None))
    made.register_unstructure_hook_func(_is_array, _numbers)
    made.register_structure_hook_func(_is_array, lambda kept, _: _array(kept))
    made.register_unstructure_hook_factory(_is_keyed, lambda kind: _pairs(made, kind))
    made.register_structure_hook_factory(_is_keyed, lambda kind: _mapping(made, kind))
    return made


def _is_array(kind: Any) -> bool:
    return kind is np.ndarray or get_origin(kind) is np.ndarray


def _numbers(array: Any) -> dict[str, Any]:
    whole = np.ascontiguousarray(array)
    text = base64.b64encode(whole.tobytes()).decode("ascii")
    return {"dtype": whole.dtype.str, "shape": list(np.shape(array)), "base64": text}


def _array(kept: Mapping[str, Any]) -> Any:
    dtype = np.dtype(kept["dtype"])
    if dtype.hasobject:
        raise ValueError("an array of numbers holds no objects")
    held = np.frombuffer(base64.b64decode(kept["base64"]), dtype=dtype)
    return held.reshape(kept["shape"]).copy()


def _is_keyed(kind: Any) -> bool:
    """Whether it is a mapping whose keys JSON cannot have."""
    origin = get_origin(kind)
    if not (isinstance(origin, type) and issubclass(origin, Mapping)):
        return False
    return get_args(kind)[0] is not str


def _pairs(converter: Converter, kind: Any) -> Callable[[Any], Any]:
    of_key, of_value = get_args(kind)

    def pairs(value: Mapping[Any, Any]) -> list[list[Any]]:
        return [
            [converter.unstructure(key, of_key), converter.unstructure(held, of_value)]
            for key, held in value.items()
        ]

    return pairs


def _mapping(converter: Converter, kind: Any) -> Callable[[Any, Any], Any]:
    of_key, of_value = get_args(kind)

    def mapping(kept: list[list[Any]], _: Any) -> dict[Any, Any]:
        return {
            converter.structure(key, of_key): converter.structure(held, of_value)
            for key, held in kept
        }

    return mapping
