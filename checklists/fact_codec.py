"""Facts to plain data and back: dictionaries of text, whole numbers, true and false, lists. No floats."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import fields
from typing import Any

from checklists.facts import FACT_TYPES, Fact, Move, Person, Seen
from checklists.facts_measured import Gauge
from checklists.sheet import Line
from checklists.sheet_plain import sheet_from_plain, sheet_to_plain, size_from_plain, size_to_plain

Plain = dict[str, Any]


class UnreadableFact(Exception):
    """A stored fact is not one this version understands."""


def _rows(record: Callable[..., Any]) -> Callable[[Any], Any]:
    return lambda rows: tuple([record(*row) for row in rows])


def _moves(rows: Any) -> tuple[Move, ...]:
    # Most entries move one thing; this is the inner loop of opening a long journal.
    return (Move._make(rows[0]),) if len(rows) == 1 else tuple(map(Move._make, rows))


def _line(name: str, words: str, kind: str, quantity: int, home: str, shape: Plain | None = None) -> Line:
    return Line(name, words, kind, quantity, home, size_from_plain(shape) if shape else None)


def _line_row(line: Line) -> list[Any]:
    row: list[Any] = [line.id, line.name, line.kind, line.quantity, line.home]
    return row if line.shape is None else [*row, size_to_plain(line.shape)]


_READ: dict[str, Callable[[Any], Any]] = {
    "moves": _moves,
    "people": _rows(Person),
    "entries": _rows(Seen),
    "lines": lambda rows: tuple([_line(*row) for row in rows]),
    "person": lambda row: Person(*row),
    "gauge": lambda row: Gauge(*row),
    "photos": tuple,
    "places": tuple,
    "tally": tuple,
    "over": lambda pairs: tuple(map(tuple, pairs)),
    "signature": lambda strokes: tuple(map(tuple, strokes)),
    "sheet": sheet_from_plain,
    "part": sheet_from_plain,
}


def _list(value: Any) -> Any:
    return [list(row) for row in value]


_WRITE: dict[str, Callable[[Any], Any]] = {
    "moves": _list,
    "people": _list,
    "entries": _list,
    "lines": lambda lines: [_line_row(line) for line in lines],
    "person": list,
    "gauge": list,
    "photos": list,
    "places": list,
    "tally": list,
    "over": _list,
    "signature": _list,
    "sheet": sheet_to_plain,
    "part": sheet_to_plain,
}


def _readers(kind: str) -> tuple[tuple[str, Callable[[Any], Any]], ...]:
    names = [f.name for f in fields(FACT_TYPES[kind])]
    return tuple((name, reader) for name in names if (reader := _reader(kind, name)))


def _reader(kind: str, name: str) -> Callable[[Any], Any] | None:
    if kind == "checked" and name == "seen":
        return lambda row: Seen(*row)
    return _READ.get(name)


# Worked out once, so that reading a long journal costs little per entry.
_READERS = {kind: _readers(kind) for kind in FACT_TYPES}
_FIELDS = {kind: tuple(f.name for f in fields(cls)) for kind, cls in FACT_TYPES.items()}


def fact_to_plain(fact: Fact) -> Plain:
    """The body of a fact, ready for canonical JSON. Its kind is kept beside it, not in it."""
    body: Plain = {}
    for name in _FIELDS[fact.kind]:
        value = getattr(fact, name)
        if isinstance(value, Seen):
            value = list(value)
        elif writer := _WRITE.get(name):
            value = writer(value)
        body[name] = value
    return body


def fact_from_plain(kind: str, body: Mapping[str, Any]) -> Fact:
    """The fact a body describes. Raises UnreadableFact with the kind and what is wrong with it."""
    fact_type = FACT_TYPES.get(kind)
    if fact_type is None:
        raise UnreadableFact(f"no rule knows the kind of entry {kind!r}; was it made by a newer Countback?")
    try:
        values = dict(body)
        for name, reader in _READERS[kind]:
            if name in values:  # a key that came later than the entry has a default
                values[name] = reader(values[name])
        return fact_type(**values)
    except (TypeError, KeyError, ValueError, AttributeError) as fault:
        raise UnreadableFact(f"the entry {kind!r} cannot be read: {fault}") from fault
