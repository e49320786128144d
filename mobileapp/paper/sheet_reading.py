"""Reading back a closing sheet's PDF: what it says about itself, and the words and photos on each page.

For naming what differs; whether all of a file is the same is `sheet_structure`'s affair. A file that another program
has saved anew may be laid out otherwise; then it says so, and the file is no longer the one that was made.
"""

from __future__ import annotations

import re
import unicodedata
from typing import Any, NamedTuple
from urllib.parse import parse_qs

from mobileapp.paper.pdf_objects import NotAPdf, PdfFile, read_pdf
from mobileapp.right_to_left import typed

_INKS = re.compile(rb"/(F\d+) [\d.]+ Tf|\(((?:\\.|[^\\()])*)\) Tj|/(I\d+) Do|\b(ET)\b", re.DOTALL)
_MAPPED = re.compile(rb"<([0-9A-F]{4})> <([0-9A-F]+)>")
_ESCAPED = re.compile(rb"\\(.)", re.DOTALL)
_ABOUT = ("Keywords", "Creator", "CreationDate")
_SAID = ("teardown", "state", "paper", "account", "made-with")


class NotASheet(Exception):
    """The file is no closing sheet that can be read; the message says why."""


class PageRead(NamedTuple):
    """The words on one page, in the order they were printed, and its photos as they lie in the file."""

    texts: tuple[str, ...]
    photos: tuple[bytes, ...]


class SheetRead(NamedTuple):
    """What a closing sheet says about itself, its pages, and the whole file as it lies there."""

    teardown: str
    state: str
    paper: str
    heads: dict[str, str]
    account: str
    made_with: str
    creator: str
    date: str
    pages: tuple[PageRead, ...]
    file: PdfFile


def read_sheet_file(data: bytes) -> SheetRead:
    """Read a closing sheet back. Raises NotASheet."""
    try:
        file = read_pdf(data)
        info = file.object(file.trailer.get("Info")).value
        keywords, creator, date = (info.get(key, b"").decode("ascii") for key in _ABOUT)
        said = {name: values[-1] for name, values in parse_qs(keywords).items()}
        if "countback-sheet" not in said:
            raise NotASheet("This PDF is no closing sheet of Countback, or another program has saved it anew.")
        pairs = (pair.rpartition(":") for pair in said.get("heads", "").split(",") if pair)
        heads = {device: head for device, _, head in pairs}
        teardown, state, paper, account, made_with = (said.get(name, "") for name in _SAID)
        return SheetRead(teardown, state, paper, heads, account, made_with, creator, date, _pages(file), file)
    except NotAPdf as fault:
        raise NotASheet(_strange(data, str(fault))) from fault
    except (ValueError, LookupError, AttributeError, TypeError) as fault:
        raise NotASheet(_strange(data, f"({fault})")) from fault


def _strange(data: bytes, why: str) -> str:
    if not data.startswith(b"%PDF-"):
        return why
    return f"This file is damaged, was changed after it was made, or another program has saved it anew. {why}"


def _pages(file: PdfFile) -> tuple[PageRead, ...]:
    """The pages that a reader shows: those that the beginning of the file leads to."""
    tree = file.at(file.at(file.trailer["Root"])["Pages"])
    fonts: dict[int, dict[int, str]] = {}
    return tuple(_page(file, file.at(kid), fonts) for kid in file.at(tree["Kids"]))


def _page(file: PdfFile, page: dict[str, Any], fonts: dict[int, dict[int, str]]) -> PageRead:
    resources = file.at(page["Resources"])
    fonts_named, named = (file.at(resources.get(key, {})) for key in ("Font", "XObject"))
    letters: dict[int, str] = {}
    texts, photos, text = [], [], ""
    for font, shown, image, ends in _INKS.findall(file.object(page["Contents"]).unpacked()):
        if font:
            letters = _letters(file, fonts_named[font.decode()].number, fonts)
        elif image:
            photos.append(file.object(named[image.decode()]).stream or b"")
        elif shown:
            text += _said(shown, letters)
        elif ends and text:
            texts.append(typed(unicodedata.normalize("NFC", text)))
            text = ""
    return PageRead(tuple(texts), tuple(photos))


def _letters(file: PdfFile, font: int, known: dict[int, dict[int, str]]) -> dict[int, str]:
    """From a font's codes to letters."""
    if font not in known:
        table = file.object(file.objects[font].value["ToUnicode"]).unpacked()
        known[font] = {int(code, 16): bytes.fromhex(letter.decode()).decode("utf-16-be")
                       for code, letter in _MAPPED.findall(table)}  # fmt: skip
    return known[font]


def _said(shown: bytes, letters: dict[int, str]) -> str:
    codes = _ESCAPED.sub(lambda m: {b"r": b"\r", b"n": b"\n"}.get(m[1], m[1]), shown)
    pairs = zip(codes[::2], codes[1::2], strict=False)
    return "".join(letters.get(high << 8 | low, "\N{REPLACEMENT CHARACTER}") for high, low in pairs)
