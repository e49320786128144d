"""Two closing sheets' files held against each other, piece by piece: the one at hand, and the one made again here.

Both are walked from their trailers at once. What is not the same is named; a photo or a font in other bytes, which
another version of a library may well write, is a doubt instead, unless it plainly shows something else.
"""

from __future__ import annotations

import io
import re
from collections.abc import Iterator
from itertools import zip_longest
from typing import Any, NamedTuple

from mobileapp.paper.pdf_objects import Name, NotAPdf, PdfFile, PdfObject, Ref, tokens

#: A photo encoded by another version: by so much of 255 levels on average,
_ALIKE = 4.0
#: and by so much anywhere, seen through a blur of this many pixels: coarser grain is left out, a patch is not.
_PATCH, _BLUR = 20, 3
_MADE_WITH = re.compile(rb"(?<=&made-with=)(?:[a-z0-9]+:(?:\d[\w.+-]{0,30}|unknown)(?:,|\Z)){3,12}\Z")
_CREATOR = re.compile(rb"Countback (?:\d[\w.+-]{0,30}|unknown)")


class Odd(NamedTuple):
    """A piece that is not the same. `sure`: no other version of a library writes it so."""

    where: str
    what: str
    sure: bool = True


class _Step(NamedTuple):
    where: str
    key: str
    theirs: Any
    again: Any


def compare_files(theirs: PdfFile, again: PdfFile) -> Iterator[Odd]:
    """Every piece that is not the same but for the words about the versions of program and libraries."""
    if theirs.version != again.version:
        yield Odd("the file", f"It says it is {theirs.version[1:].decode()}, not {again.version[1:].decode()}.")
    yield from _Walk(_with_our_versions(theirs, again), again).differences()


def _with_our_versions(theirs: PdfFile, again: PdfFile) -> PdfFile:
    """Their file with what it says about versions replaced by what ours says: only that may be otherwise."""
    ref, ours = theirs.trailer["Info"], again.at(again.trailer["Info"])
    info = dict(theirs.at(ref))
    if _CREATOR.fullmatch(info.get("Creator", b"")):
        info["Creator"] = ours["Creator"]
    if (match := _MADE_WITH.search(ours["Keywords"])) and isinstance(info.get("Keywords"), bytes):
        info["Keywords"] = _MADE_WITH.sub(match[0].replace(b"\\", b"\\\\"), info["Keywords"])
    return theirs._replace(objects={**theirs.objects, ref.number: PdfObject(info, theirs.object(ref).stream)})


class _Walk:
    """One walk over both files at once. An object of the one stands for one of the other, always the same."""

    def __init__(self, theirs: PdfFile, again: PdfFile) -> None:
        self._theirs, self._again = theirs, again
        self._pairs: dict[int, int] = {}
        self._back: dict[int, int] = {}
        self._steps = [_Step("the file", "", theirs.trailer, again.trailer)]

    def differences(self) -> Iterator[Odd]:
        """What is not the same, page by page, and last what no page has to do with."""
        while self._steps:
            yield from self._look(self._steps.pop())
        if extra := len(self._theirs.objects.keys() - self._pairs.keys()):
            yield Odd("the file", f"It holds {extra} objects that the journal's sheet has not.")

    def _look(self, step: _Step) -> Iterator[Odd]:
        where, key, one, other = step
        if type(one) is not type(other):
            yield _otherwise(where, key)
        elif isinstance(one, Ref):
            yield from self._follow(where, key, one, other)
        elif isinstance(one, dict):
            yield from self._entries(step)
        elif isinstance(one, list):
            if len(one) != len(other):
                yield _otherwise(where, key)
            places = [f"page {at}" if key == "Kids" else where for at in range(1, len(one) + 1)]
            self._steps += reversed([_Step(*each) for each in zip(places, [key] * len(one), one, other, strict=False)])
        elif one != other:
            yield _otherwise(where, key)

    def _entries(self, step: _Step) -> Iterator[Odd]:
        where, _, one, other = step
        for key in sorted(one.keys() ^ other.keys()):
            yield _otherwise(where, key)
        # The pages first, so that what stands on them is told of them.
        keys = sorted(one.keys() & other.keys(), key=lambda key: (key not in ("Root", "Pages"), key), reverse=True)
        self._steps += [_Step(where, key, one[key], other[key]) for key in keys]

    def _follow(self, where: str, key: str, one: Ref, other: Ref) -> Iterator[Odd]:
        known, back = self._pairs.get(one.number), self._back.get(other.number)
        if known is not None or back is not None:
            if known != other.number or back != one.number:
                yield _otherwise(where, key)
            return
        self._pairs[one.number], self._back[other.number] = other.number, one.number
        mine, its = self._theirs.object(one), self._again.object(other)
        if (mine.stream is None) != (its.stream is None):
            yield _otherwise(where, key)
        elif mine.stream is not None:
            yield from _streams(where, key, mine, its)
            mine, its = _but_length(mine), _but_length(its)
        self._steps.append(_Step(where, key, mine.value, its.value))


def _but_length(one: PdfObject) -> PdfObject:
    """How many bytes it is packed into, the reading of the file has held against it already."""
    return one._replace(value={key: value for key, value in one.value.items() if key != "Length"})


def _otherwise(where: str, key: str) -> Odd:
    return Odd(where, f"{_PARTS.get(key, f'A part that is called {key}' if key else 'It')} is not as the journal's.")


_PARTS = {
    "Kids": "The row of pages",
    "Count": "The number of pages or bookmarks",
    "MediaBox": "The size of the paper",
    "Contents": "The drawing",
    "Keywords": "What the file says about itself",
    "Creator": "What made it",
    "Title": "A title",
    "Info": "What the file says about itself",
    "Root": "The beginning",
}


# --- streams


def _streams(where: str, key: str, one: PdfObject, other: PdfObject) -> Iterator[Odd]:
    if one.stream == other.stream:
        return
    if other.value.get("Subtype") == Name("Image"):
        yield _photo(where, one.stream or b"", other.stream or b"")
        return
    try:
        theirs, ours = one.unpacked(), other.unpacked()
    except NotAPdf as fault:
        yield Odd(where, str(fault))
        return
    if theirs == ours:
        return
    if key == "Contents":
        yield from _drawing(where, theirs, ours)
    elif key == "FontFile2":
        yield _letters(where, theirs, ours)
    else:
        yield _otherwise(where, key)


def _drawing(where: str, theirs: bytes, ours: bytes) -> Iterator[Odd]:
    try:
        steps = tokens(theirs)
    except NotAPdf:
        yield Odd(where, "Something is drawn on it that Countback never draws.")
        return
    for at, (one, other) in enumerate(zip_longest(steps, again := tokens(ours)), 1):
        if type(one) is type(other) and one == other:
            continue
        if other is None:
            what = f"{len(steps) - len(again)} words were added to its drawing: something may be painted over."
        elif one is None:
            what = f"{len(again) - len(steps)} words of its drawing are left out at the end."
        else:
            what = f"Its lines, boxes or letters are drawn otherwise, from word {at} of {len(again)} of its drawing on."
        yield Odd(where, what)
        return


def _photo(where: str, one: bytes, other: bytes) -> Odd:
    if _alike(one, other):
        what = "A photo on it looks the same but is in other bytes, which another program may write or a retouch leave."
        return Odd(where, what, sure=False)
    return Odd(where, "A photo on it is another one, or was retouched.")


def _alike(one: bytes, other: bytes) -> bool:
    """Whether two JPEGs look the same, though not byte by byte."""
    from PIL import Image, ImageChops, ImageFilter, ImageStat

    try:
        with Image.open(io.BytesIO(one)) as first, Image.open(io.BytesIO(other)) as second:
            if (first.format, first.size, first.mode) != (second.format, second.size, second.mode):
                return False
            blur = ImageFilter.BoxBlur(_BLUR)
            if max(ImageStat.Stat(ImageChops.difference(first, second)).mean) > _ALIKE:
                return False
            blurred = ImageChops.difference(first.filter(blur), second.filter(blur))
            return max(high for _, high in ImageStat.Stat(blurred).extrema) <= _PATCH
    except Exception:  # a damaged picture makes Pillow's readers raise nearly anything
        return False


def _letters(where: str, theirs: bytes, ours: bytes) -> Odd:
    if _outlines(theirs) == _outlines(ours):
        what = "Its letters have the same outlines but are in other bytes, which another version may write."
        return Odd(where, what, sure=False)
    return Odd(where, "The shapes of its letters are others.")


def _outlines(font: bytes) -> list[Any] | None:
    """The outline of every letter in a font; None where it cannot be read."""
    from fontTools.ttLib import TTFont

    try:
        with TTFont(io.BytesIO(font), lazy=True) as opened:
            table = opened["glyf"]
            return [[list(part) for part in table[name].getCoordinates(table)] for name in opened.getGlyphOrder()]
    except Exception:  # a damaged font makes its reader raise nearly anything
        return None
