"""Whether a fact read from elsewhere holds the kinds of values it says it holds.

The codec trusts the journal that it wrote itself. What comes from another phone is looked at to the last field.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import fields, is_dataclass
from functools import cache
from types import UnionType
from typing import Any, Union, get_args, get_origin, get_type_hints

Test = Callable[[Any], bool]


def first_wrong(fact: Any) -> str:
    """The name of the first field that holds another kind of value than belongs there; empty where all are right."""
    for name, test in _tests(type(fact)):
        if not test(getattr(fact, name)):
            return name
    return ""


@cache
def _tests(record: type) -> tuple[tuple[str, Test], ...]:
    hints = get_type_hints(record)
    names = getattr(record, "_fields", None) or [field.name for field in fields(record)]
    return tuple((name, _test(hints[name])) for name in names)


@cache
def _test(hint: Any) -> Test:
    origin, inside = get_origin(hint), get_args(hint)
    if origin in (Union, UnionType):
        options = [_test(option) for option in inside]
        return lambda value: any(option(value) for option in options)
    if origin is tuple:
        return _row_test(inside)
    if is_dataclass(hint) or hasattr(hint, "_fields"):
        return lambda value: type(value) is hint and not first_wrong(value)
    return lambda value: type(value) is hint


def _row_test(inside: tuple[Any, ...]) -> Test:
    if inside[-1] is Ellipsis:
        each = _test(inside[0])
        return lambda value: type(value) is tuple and all(each(one) for one in value)
    tests = [_test(one) for one in inside]
    return lambda value: (
        type(value) is tuple
        and len(value) == len(tests)
        and all(test(one) for test, one in zip(tests, value, strict=True))
    )
