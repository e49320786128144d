"""The closing sheet's account as text on the screen: the same records that are printed, in the same order."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import partial
from typing import Any

from kivy.metrics import mm

from checklists.account import parts
from mobileapp import look
from mobileapp.screens.form_parts import Stack, key_row
from mobileapp.widgets.signature_pad import SHAPE, SignatureField
from mobileapp.widgets.text import Body, Heading, Small
from mobileapp.widgets.text import Words as Text

#: A table shows no more rows than this; the sheet has them all.
MOST_ROWS = 40

Look = Callable[[str], Any]


def shown(block: parts.Block, look_at: Look) -> Iterator[Any]:
    """The widgets of one block; `look_at` is called with the hash of a photo that is tapped."""
    if isinstance(block, parts.Words):
        yield Body(text=block.text, ink=look.YELLOW if block.loud else look.PALE)
    elif isinstance(block, parts.Heading):
        yield Stack(Heading(text=block.title), *([Small(text=block.note)] if block.note else []), gap_mm=1)
    elif isinstance(block, parts.Pairs):
        yield Stack(*(_pair(name, value) for name, value in block.rows), gap_mm=2)
    elif isinstance(block, parts.Table):
        yield from _table(block)
    elif isinstance(block, parts.Pictures):
        yield from (_picture(picture, look_at) for picture in block.pictures)
    else:
        yield _signature(block)


def _pair(name: str, value: str) -> Stack:
    return Stack(Small(text=name), Body(text=value), gap_mm=0.5)


def _table(table: parts.Table) -> Iterator[Any]:
    rows = [_row(table.heads, row) for row in table.rows[:MOST_ROWS]]
    if rows:
        yield Stack(*rows, gap_mm=3)
    if (more := len(table.rows) - MOST_ROWS) > 0:
        yield Small(text=f"{more} more rows stand on the sheet.")


def _row(heads: tuple[str, ...], row: tuple[parts.Cell, ...]) -> Stack:
    first, *others = [_cell(cell) for cell in row]
    lines = [f"{head}: {text}" for head, text in zip(heads[1:], others, strict=False) if text]
    return Stack(Text(text=first, bold=True), *([Small(text="\n".join(lines))] if lines else []), gap_mm=0.5)


def _cell(cell: parts.Cell) -> str:
    text = cell if isinstance(cell, str) else f"{cell.out} out, {cell.away} still away"
    return text.replace("\n", ", ")


def _picture(picture: parts.Picture, look_at: Look) -> Any:
    if not picture.kept:
        return Small(text=f"Photo {picture.number}: {picture.title}. It never was kept.")
    note = "\n".join(picture.lines)
    return key_row(f"Photo {picture.number}: {picture.title}", partial(look_at, picture.sha), note, "look")


def _signature(signature: parts.Signature) -> Stack:
    whose = ", ".join(filter(None, (signature.name, signature.role, signature.at)))
    made: list[Any] = [Body(text=signature.statement), Small(text=whose)]
    if signature.strokes:
        field = SignatureField(disabled=True, strokes=[list(stroke) for stroke in signature.strokes])
        field.bind(width=lambda field, width: setattr(field, "height", width * SHAPE))
        field.height = mm(20)
        made.append(field)
    else:
        made.append(Small(text="Signed by name; no signature was drawn."))
    return Stack(*made, gap_mm=1)
