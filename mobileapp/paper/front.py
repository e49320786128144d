"""The top of the first page: the state in the largest type, machine, people, times, tally, heads and the QR code."""

from __future__ import annotations

from checklists.account.parts import CLOSED, DRAFT, Account, Pairs
from mobileapp.paper.blocks import Setter
from mobileapp.paper.code import CodeSays, code_text, modules
from mobileapp.paper.ink import Bar, Bookmark, Frame, Ink, Slab, Text, moved
from mobileapp.paper.measures import BODY, CAPTION, CELL, LOUD, MACHINE, POINT, STATE
from mobileapp.paper.tally_strokes import strokes

_CODE, _PLATE = 36.0, 30.0


def front_slabs(account: Account, setter: Setter, strangers: list[str]) -> list[Slab]:
    """The slabs that come before the first section."""
    slabs = [_plate(account, setter), _about(account, setter), _tally(account, setter)]
    slabs += setter.block(Pairs(_facts(account)))
    if strangers:
        slabs.append(_note(setter, strangers))
    return slabs


def _plate(account: Account, setter: Setter) -> Slab:
    """State and code side by side. CLOSED stands in a frame, NOT CLEAR on black, a draft in a broken frame."""
    wide = setter.width - _CODE - 6
    inks: list[Ink] = [Bookmark(0, 0, f"Closing sheet: {account.state}")]
    inks.append(Text(0, 3.4, "COUNTBACK CLOSING SHEET", CELL, True))
    shade = 0.0
    if account.state == CLOSED:
        inks.append(Frame(0, 6, wide, _PLATE, 1.2))
    elif account.state == DRAFT:
        inks.append(Frame(0, 6, wide, _PLATE, 1.2, 4.0))
    else:
        inks.append(Bar(0, 6, wide, _PLATE))
        shade = 1.0
    size = min(STATE, STATE * (wide - 8) / setter.letters.width(account.state, STATE, True))
    inks.append(Text(5, 6 + _PLATE / 2 + 0.365 * size * POINT, account.state, size, True, shade))
    inks += _code(account, setter, wide + 6)
    return Slab(_CODE + 7.5, inks)


def _code(account: Account, setter: Setter, x: float) -> list[Ink]:
    squares = modules(code_text(CodeSays(account.teardown, account.state, account.heads)))
    side = _CODE / len(squares)
    inks: list[Ink] = []
    for y, row in enumerate(squares):
        start = None
        for at, dark in enumerate([*row, False]):
            if dark and start is None:
                start = at
            elif not dark and start is not None:
                inks.append(Bar(x + start * side, y * side, (at - start) * side, side))
                start = None
    _, words = setter.text("Teardown, state and head", CAPTION, _CODE, x, _CODE + 3)
    return inks + words


def _about(account: Account, setter: Setter) -> Slab:
    height, inks = setter.text(account.state_words, LOUD, setter.width, bold=True)
    more, words = setter.text(account.machine or "No machine named", MACHINE, setter.width, y=height + 3, bold=True)
    return Slab(height + more + 4.5, inks + words)


def _tally(account: Account, setter: Setter) -> Slab:
    height, inks = strokes(account.tally, setter.width, 1.5, 100)
    if account.tally.out > 100:
        height, inks = 0.0, []
    more, words = setter.text(account.tally_words, BODY, setter.width, y=height, bold=True)
    return Slab(height + more + 2.5, [*(moved(ink, 0.5, 0) for ink in inks), *words])


def _facts(account: Account) -> tuple[tuple[str, str], ...]:
    rows = [("Sheet", account.sheet), ("People", account.people), ("Started", account.started)]
    if account.ended:
        rows.append(("Closed" if account.state == CLOSED else "Released", account.ended))
    rows += [("Teardown", account.teardown), ("Entries", str(account.entries))]
    alone = len(account.heads) == 1
    rows += [("Head of the journal" if alone else f"Head, phone {device}", head) for device, head in account.heads]
    return tuple(rows)


def _note(setter: Setter, strangers: list[str]) -> Slab:
    some = ", ".join(f"U+{ord(letter):04X}" for letter in strangers[:6])
    more = f" and {len(strangers) - 6} more" if len(strangers) > 6 else ""
    text = (
        f"This sheet has no letters for {some}{more}. They are printed by their Unicode numbers in square brackets; "
        "the journal holds them as they were typed."
    )
    height, inks = setter.text(text, BODY, setter.width - 8, 4, 2, bold=True)
    return Slab(height + 6, [Frame(0, 0, setter.width, height + 4, 0.4), *inks])
