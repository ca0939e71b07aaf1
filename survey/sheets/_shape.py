"""Whether plain JSON is what a type of ours says, with every fault told by its path."""

from __future__ import annotations

import functools
import types
import typing
from collections.abc import Iterator, Mapping
from typing import Any, Literal

_MOST_FAULTS = 20
_NAMES = {str: "a text", bool: "true or false", int: "a whole number", float: "a number",
          type(None): "null"}  # fmt: skip


def faults(value: object, kind: Any) -> tuple[str, ...]:
    """What is wrong with a value as a ``TypedDict``, a list, a table or a plain type.

    Keys that the type does not know are left alone. The first twenty faults are told.

    >>> faults({"a": [1, "2"]}, dict[str, list[int]])
    ('a[2]: expected a whole number',)
    """
    found = []
    for fault in _faults(value, kind, ""):
        found.append(fault)
        if len(found) == _MOST_FAULTS:
            break
    return tuple(found)


def _faults(value: object, kind: Any, path: str) -> Iterator[str]:
    fields = _fields(kind) if isinstance(kind, type) else None
    if fields is not None:
        if not isinstance(value, dict):
            yield f"{path or 'it'}: expected a table"
            return
        for key, (inner, required) in fields.items():
            place = f"{path}.{key}" if path else key
            if key in value:
                yield from _faults(value[key], inner, place)
            elif required:
                yield f"{place}: missing"
        return
    origin, inside = typing.get_origin(kind), typing.get_args(kind)
    if origin is list:
        if not isinstance(value, list):
            yield f"{path or 'it'}: expected a list"
            return
        for number, one in enumerate(value, start=1):
            yield from _faults(one, inside[0], f"{path}[{number}]")
    elif origin is dict:
        if not isinstance(value, dict):
            yield f"{path or 'it'}: expected a table"
            return
        for key, one in value.items():
            yield from _faults(one, inside[1], f"{path}.{key}" if path else key)
    elif origin in (types.UnionType, typing.Union):
        if all(next(_faults(value, one, path), None) is not None for one in inside):
            yield f"{path or 'it'}: expected {' or '.join(dict.fromkeys(map(_name, inside)))}"
    elif origin is Literal:
        if not any(value == one and type(value) is type(one) for one in inside):
            yield f"{path or 'it'}: expected {' or '.join(map(repr, inside))}"
    elif type(value) is not kind and not (kind is float and type(value) is int):
        yield f"{path or 'it'}: expected {_name(kind)}"


def _name(kind: Any) -> str:
    if typing.get_origin(kind) is list:
        return "a list"
    return _NAMES.get(kind, "a table")


@functools.cache
def _fields(kind: type) -> Mapping[str, tuple[Any, bool]] | None:
    """The keys of a ``TypedDict`` with their types, and whether each must be there."""
    required = getattr(kind, "__required_keys__", None)
    if required is None:
        return None
    return {key: (inner, key in required) for key, inner in typing.get_type_hints(kind).items()}
