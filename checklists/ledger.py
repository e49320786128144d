"""Double entry for bolts: balances of every line at every place, moved only by movements.

Each movement takes from one place what it puts into another, so the sum of a line over all places,
`origin` among them, is always zero: what came onto the tally is somewhere, or in `missing`.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from checklists import places
from checklists.facts import Move
from checklists.sheet import Sheet

Balances = dict[tuple[str, str], int]


def post(balances: Balances, moves: Iterable[Move]) -> tuple[Move, ...]:
    """Put movements through the balances, in place, one after another; returns those that could not be put through.

    A movement whose source holds too little is left out, so that no place but `origin` goes below zero. On one phone
    that never happens; entries of two phones can each take the last one. Places that come to nothing are dropped.
    """
    short: tuple[Move, ...] = ()
    for move in moves:
        line, quantity, source, target = move
        taken, put = (line, source), (line, target)
        left = balances.get(taken, 0) - quantity
        if left > 0 or source == places.ORIGIN:
            balances[taken] = left
        elif left == 0:
            balances.pop(taken, None)
        else:
            short += (move,)
            continue
        held = balances.get(put, 0) + quantity
        if held:
            balances[put] = held
        else:
            balances.pop(put, None)
    return short


def possible(balances: Mapping[tuple[str, str], int], moves: Iterable[Move]) -> tuple[Move, ...]:
    """Those of these movements that `post` would put through."""
    trial = dict(balances)
    return tuple(move for move in moves if not post(trial, (move,)))


def opening_moves(sheet: Sheet) -> tuple[Move, ...]:
    """The movements that bring every line of a sheet onto the tally, each in its home place."""
    return tuple(Move(line.id, line.quantity, places.ORIGIN, line.home) for line in sheet.lines if line.quantity)


def first_short(balances: Mapping[tuple[str, str], int], moves: Iterable[Move]) -> tuple[Move, int] | None:
    """The first movement whose source holds too little, with what it holds; None when all can be made."""
    trial: Balances = {}
    for move in moves:
        source, target = (move.line, move.source), (move.line, move.target)
        held = trial.get(source, balances.get(source, 0))
        if held < move.quantity and move.source != places.ORIGIN:
            return move, held
        trial[source] = held - move.quantity
        trial[target] = trial.get(target, balances.get(target, 0)) + move.quantity
    return None


def turned_round(moves: Iterable[Move]) -> tuple[Move, ...]:
    """The movements that take these back, last one first."""
    return tuple(Move(m.line, m.quantity, m.target, m.source) for m in reversed(tuple(moves)))


def total(balances: Mapping[tuple[str, str], int], line: str) -> int:
    """How many of a line ever came onto the tally."""
    return -balances.get((line, places.ORIGIN), 0)


def faults(balances: Mapping[tuple[str, str], int]) -> list[str]:
    """What is impossible in these balances, in words: a place below zero, a line that does not sum to zero."""
    sums: dict[str, int] = {}
    found = []
    for (line, place), quantity in sorted(balances.items()):
        sums[line] = sums.get(line, 0) + quantity
        if quantity < 0 and place != places.ORIGIN:
            found.append(f"{line}: {quantity} at {place}, below zero")
    found += [f"{line}: {left} more or fewer than came onto the tally" for line, left in sums.items() if left]
    return found
