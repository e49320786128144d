"""Reading back a closing sheet's PDF: what it says about itself, and the words and photos on each page.

A small reader for files as our press writes them, so that proving needs no further library. A file that another program
has saved anew may be laid out otherwise; then it says so, and the file is no longer the one that was made.
"""

from __future__ import annotations

import re
import unicodedata
import zlib
from typing import NamedTuple
from urllib.parse import parse_qs

from mobileapp.right_to_left import typed

_OBJECT = re.compile(rb"(?:^|\n)(\d+) 0 obj\s")
_LENGTH = re.compile(rb"/Length (\d+)")
_INFO = re.compile(rb"/Info (\d+) 0 R")
_KEYWORDS = re.compile(rb"/Keywords \(([^()]*)\)")
_DATE = re.compile(rb"/CreationDate \(([^()]*)\)")
_KIDS = re.compile(rb"/Kids \[([^\]]*)\]")
_NUMBERED = re.compile(rb"(\d+) 0 R")
_NAMED = re.compile(rb"/([A-Z]+\d+) (\d+) 0 R")
_INKS = re.compile(rb"/(F\d+) [\d.]+ Tf|\(((?:\\.|[^\\()])*)\) Tj|/(I\d+) Do|\b(ET)\b", re.DOTALL)
_MAPPED = re.compile(rb"<([0-9A-F]{4})> <([0-9A-F]+)>")
_ESCAPED = re.compile(rb"\\(.)", re.DOTALL)
_SAID = ("teardown", "state", "paper", "account", "made-with")


class NotASheet(Exception):
    """The file is no closing sheet that can be read; the message says why."""


class PageRead(NamedTuple):
    """The words on one page, in the order they were printed, and its photos as they lie in the file."""

    texts: tuple[str, ...]
    photos: tuple[bytes, ...]


class SheetRead(NamedTuple):
    """What a closing sheet says about itself, and its pages."""

    teardown: str
    state: str
    paper: str
    heads: dict[str, str]
    account: str
    made_with: str
    date: str
    pages: tuple[PageRead, ...]


def read_sheet_file(data: bytes) -> SheetRead:
    """Read a closing sheet back. Raises NotASheet."""
    if not data.startswith(b"%PDF-"):
        raise NotASheet("This is not a PDF file.")
    try:
        objects = _objects(data)
        info = _info(data, objects)
        said = {name: values[-1] for name, values in parse_qs(info.decode("ascii")).items()}
        if "countback-sheet" not in said:
            raise NotASheet("This PDF is no closing sheet of Countback, or another program has saved it anew.")
        pairs = (pair.rpartition(":") for pair in said.get("heads", "").split(",") if pair)
        heads = {device: head for device, _, head in pairs}
        teardown, state, paper, account, made_with = (said.get(name, "") for name in _SAID)
        return SheetRead(teardown, state, paper, heads, account, made_with, _date(objects), _pages(objects))
    except (ValueError, LookupError, zlib.error, AttributeError, TypeError) as fault:
        raise NotASheet(f"This file is damaged, or another program has saved it anew ({fault}).") from fault


def _objects(data: bytes) -> dict[int, tuple[bytes, bytes]]:
    """Every object as its dictionary and its stream; of several with one number the last counts, as in any reader."""
    objects: dict[int, tuple[bytes, bytes]] = {}
    at = 0
    while match := _OBJECT.search(data, at):
        end = data.index(b"endobj", match.end())
        stream = data.find(b"stream\n", match.end(), end)
        body = b""
        head = data[match.end() : end]
        if stream >= 0 and (length := _LENGTH.search(data, match.end(), stream)):
            head = data[match.end() : stream]
            start = stream + len(b"stream\n")
            body = data[start : start + int(length[1])]
            end = data.index(b"endobj", start + len(body))
        objects[int(match[1])] = head, body
        at = end
    return objects


def _info(data: bytes, objects: dict[int, tuple[bytes, bytes]]) -> bytes:
    number = _INFO.findall(data)
    if not number:
        raise NotASheet("This PDF says nothing about itself: another program has saved it anew.")
    match = _KEYWORDS.search(objects[int(number[-1])][0])
    return match[1] if match else b""


def _date(objects: dict[int, tuple[bytes, bytes]]) -> str:
    return next((m[1].decode("ascii", "replace") for head, _ in objects.values() if (m := _DATE.search(head))), "")


def _pages(objects: dict[int, tuple[bytes, bytes]]) -> tuple[PageRead, ...]:
    tree = next(head for head, _ in objects.values() if b"/Type /Pages" in head)
    fonts: dict[int, dict[int, str]] = {}
    kids = _KIDS.search(tree)
    numbers = [int(number) for number in _NUMBERED.findall(kids[1])] if kids else []
    return tuple(_page(objects, objects[number][0], fonts) for number in numbers)


def _page(objects: dict[int, tuple[bytes, bytes]], head: bytes, fonts: dict[int, dict[int, str]]) -> PageRead:
    named = {name.decode(): int(number) for name, number in _NAMED.findall(objects[_number(head, b"Resources")][0])}
    letters: dict[int, str] = {}
    texts, photos, text = [], [], ""
    for font, shown, image, ends in _INKS.findall(_unpacked(objects[_number(head, b"Contents")])):
        if font:
            letters = _letters(objects, named[font.decode()], fonts)
        elif image:
            photos.append(objects[named[image.decode()]][1])
        elif shown:
            text += _said(shown, letters)
        elif ends and text:
            texts.append(typed(unicodedata.normalize("NFC", text)))
            text = ""
    return PageRead(tuple(texts), tuple(photos))


def _number(head: bytes, name: bytes) -> int:
    match = re.search(rb"/" + name + rb" (\d+) 0 R", head)
    if match is None:
        raise ValueError(f"a page without {name.decode()}")
    return int(match[1])


def _unpacked(one: tuple[bytes, bytes]) -> bytes:
    head, body = one
    return zlib.decompress(body) if b"/FlateDecode" in head else body


def _letters(objects: dict[int, tuple[bytes, bytes]], font: int, known: dict[int, dict[int, str]]) -> dict[int, str]:
    """From a font's codes to letters."""
    if font not in known:
        table = _unpacked(objects[_number(objects[font][0], b"ToUnicode")])
        known[font] = {int(code, 16): bytes.fromhex(letter.decode()).decode("utf-16-be")
                       for code, letter in _MAPPED.findall(table)}  # fmt: skip
    return known[font]


def _said(shown: bytes, letters: dict[int, str]) -> str:
    codes = _ESCAPED.sub(lambda m: {b"r": b"\r", b"n": b"\n"}.get(m[1], m[1]), shown)
    pairs = zip(codes[::2], codes[1::2], strict=False)
    return "".join(letters.get(high << 8 | low, "\N{REPLACEMENT CHARACTER}") for high, low in pairs)
