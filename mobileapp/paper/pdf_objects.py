"""A PDF file taken apart without leaving anything over: every object, and nothing between, before or behind them.

Readers forgive much, and two of them may forgive it differently: what one skips, another shows. So a file is only read
here if it is laid out as our press lays it out: objects one after another, one table of them that is right, one end.
"""

from __future__ import annotations

import re
import zlib
from dataclasses import dataclass
from decimal import Decimal
from typing import Any, NamedTuple

_START = re.compile(rb"(%PDF-1\.\d)\n%[\x80-\xff]{4}\n")
_OBJECT = re.compile(rb"([1-9]\d{0,9}) 0 obj\n")
_STREAM = re.compile(rb"\s*stream\n")
_STREAM_END = re.compile(rb"\nendstream\nendobj\n")
_END = re.compile(rb"\s*endobj\n")
_TABLE = re.compile(rb"xref\n0 (\d{1,9})\n0000000000 65535 f \n")
_ENTRY = re.compile(rb"(\d{10}) 00000 n \n")
_TRAILER = re.compile(rb"trailer\n")
_LAST = re.compile(rb"\s*startxref\n(\d{1,12})\n%%EOF\n?")
_TOKEN = re.compile(
    rb"[\x00\t\n\f\r ]*(?:"
    rb"(?P<mark><<|>>|[\[\]])"
    rb"|(?P<ref>\d{1,10} 0 R(?![\w.]))"
    rb"|(?P<number>[+-]?(?:\d+\.?\d*|\.\d+))(?=[\x00\t\n\f\r \[\]<>/(]|$)"
    rb"|/(?P<name>[^\x00\t\n\f\r ()<>\[\]{}/%]*)"
    rb"|\((?P<text>(?:\\.|[^\\()\r])*)\)"
    rb"|<(?P<hex>[0-9A-Fa-f\s]*)>"
    rb"|(?P<word>[A-Za-z'\"][A-Za-z0-9*]*)"
    rb")",
    re.DOTALL,
)
_BLANK = re.compile(rb"[\x00\t\n\f\r ]*\Z")
_ESCAPED = re.compile(rb"\\(.)", re.DOTALL)
_ESCAPES = {b"r": b"\r", b"n": b"\n", b"t": b"\t", b"b": b"\b", b"f": b"\f"}
#: No page, table or font of a sheet is larger, unpacked.
_LARGEST = 64 * 1024 * 1024
_DEEPEST = 20


class NotAPdf(Exception):
    """The file is not laid out as our press does it; the message says what is odd."""


@dataclass(frozen=True, slots=True)
class Name:
    """A name, as /Type."""

    name: str


@dataclass(frozen=True, slots=True)
class Ref:
    """Where another object is meant, by its number."""

    number: int


@dataclass(frozen=True, slots=True)
class Word:
    """An operator of a drawing, or true, false, null."""

    word: bytes


class PdfObject(NamedTuple):
    """An object: its value, and its stream as it lies in the file, if it has one."""

    value: Any
    stream: bytes | None

    def unpacked(self) -> bytes:
        """The stream, decompressed. Raises NotAPdf."""
        if self.stream is None:
            raise NotAPdf("A part of it is missing.")
        return _inflated(self.stream) if self.value.get("Filter") == Name("FlateDecode") else self.stream


class PdfFile(NamedTuple):
    """A file: its first line, its objects by number, and the trailer that says where to begin."""

    version: bytes
    objects: dict[int, PdfObject]
    trailer: dict[str, Any]

    def at(self, value: Any) -> Any:
        """The value, or what stands where it leads to. Raises NotAPdf."""
        return self.object(value).value if isinstance(value, Ref) else value

    def object(self, ref: Any) -> PdfObject:
        """The object that is meant. Raises NotAPdf."""
        if not isinstance(ref, Ref) or ref.number not in self.objects:
            raise NotAPdf("A part of it is missing.")
        return self.objects[ref.number]


def read_pdf(data: bytes) -> PdfFile:
    """Take a file apart. Raises NotAPdf."""
    if not data.startswith(b"%PDF-"):
        raise NotAPdf("This is not a PDF file.")
    start = _must(_START, data, 0)
    objects: dict[int, PdfObject] = {}
    places: dict[int, int] = {}
    at = start.end()
    while match := _OBJECT.match(data, at):
        number = int(match[1])
        if number in objects:
            raise NotAPdf(f"It holds two objects with the number {number}: readers may show either.")
        places[number] = at
        objects[number], at = _object(data, match.end())
    table = at
    at = _table(data, at, places)
    trailer, at = _value(data, _must(_TRAILER, data, at).end())
    last = _must(_LAST, data, at)
    if int(last[1]) != table:
        raise NotAPdf("Its end does not lead to its table of objects.")
    if last.end() != len(data):
        raise NotAPdf(f"{len(data) - last.end()} bytes were added behind its end: readers may show those instead.")
    return PdfFile(start[1], objects, _dictionary(trailer))


def tokens(drawing: bytes) -> list[Any]:
    """The steps of a drawing, one after another. Raises NotAPdf where something is none."""
    found = []
    at = 0
    while not _BLANK.match(drawing, at):
        match = _must(_TOKEN, drawing, at)
        found.append(Word(match["mark"]) if match["mark"] else _plain(match))
        at = match.end()
    return found


def _object(data: bytes, at: int) -> tuple[PdfObject, int]:
    value, at = _value(data, at)
    stream = _STREAM.match(data, at)
    if stream is None:
        return PdfObject(value, None), _must(_END, data, at).end()
    length = _dictionary(value).get("Length")
    if not isinstance(length, Decimal) or length < 0 or length != int(length):
        raise _odd(at)
    end = stream.end() + int(length)
    return PdfObject(value, data[stream.end() : end]), _must(_STREAM_END, data, end).end()


def _table(data: bytes, at: int, places: dict[int, int]) -> int:
    """The table of objects must lead to each of them: a reader goes by it."""
    table = _must(_TABLE, data, at)
    at = table.end()
    if sorted(places) != list(range(1, int(table[1]))):
        raise NotAPdf("Its table of objects does not count those that it holds.")
    for number in range(1, int(table[1])):
        entry = _must(_ENTRY, data, at)
        if int(entry[1]) != places[number]:
            raise NotAPdf(f"Its table of objects does not lead to object {number}.")
        at = entry.end()
    return at


def _value(data: bytes, at: int, depth: int = 0) -> tuple[Any, int]:
    match = _must(_TOKEN, data, at)
    if match["mark"] is None:
        return _plain(match), match.end()
    closing = {b"<<": b">>", b"[": b"]"}.get(match["mark"])
    if closing is None or depth > _DEEPEST:
        raise _odd(at)
    values: list[Any] = []
    at = match.end()
    while True:
        ahead = _must(_TOKEN, data, at)
        if ahead["mark"] == closing:
            return (_paired(values, at) if closing == b">>" else values), ahead.end()
        value, at = _value(data, at, depth + 1)
        values.append(value)


def _plain(match: re.Match[bytes]) -> Any:
    if match["ref"]:
        return Ref(int(match["ref"].split()[0]))
    if match["number"]:
        return Decimal(match["number"].decode())
    if match["name"] is not None:
        return Name(match["name"].decode("latin-1"))
    if match["text"] is not None:
        return _ESCAPED.sub(_meant, match["text"])
    if match["hex"] is not None:
        digits = b"".join(match["hex"].split()).decode()
        return bytes.fromhex(digits + "0" * (len(digits) % 2))
    return Word(match["word"])


def _meant(match: re.Match[bytes]) -> bytes:
    if match[1] in b"01234567\r\n":
        raise NotAPdf("A text in it is written as our press does not write it.")
    return _ESCAPES.get(match[1], match[1])


def _paired(values: list[Any], at: int) -> dict[str, Any]:
    keys = values[::2]
    if len(values) % 2 or not all(isinstance(key, Name) for key in keys) or len(set(keys)) != len(keys):
        raise _odd(at)
    return {key.name: value for key, value in zip(keys, values[1::2], strict=True)}


def _dictionary(value: Any) -> dict[str, Any]:
    if not isinstance(value, dict):
        raise NotAPdf("A part of it is missing.")
    return value


def _inflated(packed: bytes) -> bytes:
    machine = zlib.decompressobj()
    try:
        plain = machine.decompress(packed, _LARGEST)
    except zlib.error as fault:
        raise NotAPdf(f"A part of it cannot be unpacked ({fault}).") from fault
    if not machine.eof or machine.unused_data:
        raise NotAPdf("A part of it does not end where it should.")
    return plain


def _must(pattern: re.Pattern[bytes], data: bytes, at: int) -> re.Match[bytes]:
    match = pattern.match(data, at)
    if match is None:
        raise _odd(at)
    return match


def _odd(at: int) -> NotAPdf:
    return NotAPdf(f"From byte {at} on it is not laid out as Countback does it.")
