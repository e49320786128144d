"""A teardown's history written as a beancount ledger: a line is a commodity, a place an account, a movement a posting.

beancount knows days, not moments, and holds a balance assertion at the start of its day. So entry n stands on day n,
and what is asserted after it stands on day n + 1.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from datetime import date, timedelta

from checklists.facts import (
    Checked,
    Cleared,
    Closed,
    Entry,
    Lifted,
    Move,
    Released,
    SecondCounted,
    Seen,
    Signed,
    moves_of,
)
from checklists.places import ORIGIN
from checklists.state import Teardown
from checklists.teardown import apply

FIRST_DAY = date(2001, 1, 1)
#: At these moments every balance is asserted, not only those that were moved or seen.
MOMENTS = (Lifted, Cleared, Signed, Closed, Released)


class Ledger:
    """The text of a ledger, and the names that lines and places have in it."""

    def __init__(self, history: Iterable[Entry]) -> None:
        self.history = tuple(history)
        moves = [move for entry in self.history for move in moves_of(entry.fact)]
        moves += [Move(s.line, 0, s.place, s.place) for entry in self.history for s in seen_in(entry)]
        lines = sorted({move.line for move in moves})
        places = sorted({place for move in moves for place in (move.source, move.target)} - {ORIGIN})
        self.commodity = {line: f"LINE{n}" for n, line in enumerate(lines)}
        self.account = {place: f"Assets:P{n}-{_component(place)}" for n, place in enumerate(places)}
        self.account[ORIGIN] = "Equity:Origin"

    def opened(self) -> list[str]:
        """The head of the ledger: the guard, every commodity with its line's name, every account."""
        text = ['plugin "never_below_zero"']
        for line, code in self.commodity.items():
            text += [f"{FIRST_DAY} commodity {code}", f'  line: "{line}"']
        return text + [f"{FIRST_DAY} open {account}" for account in self.account.values()]

    def transaction(self, n: int, words: str, moves: Iterable[Move]) -> list[str]:
        """One entry's movements as a transaction on day `n`."""
        text = [f'{day(n)} * "{words}"']
        for line, quantity, source, target in moves:
            code = self.commodity[line]
            text += [f"  {self.account[source]}  {-quantity} {code}", f"  {self.account[target]}  {quantity} {code}"]
        return text

    def assertion(self, n: int, line: str, place: str, quantity: int) -> str:
        """That after entry `n` a place holds so many of a line."""
        return f"{day(n + 1)} balance {self.account[place]}  {quantity} {self.commodity[line]}"

    def text(self, moves_by_entry: dict[int, tuple[Move, ...]] | None = None) -> str:
        """The whole ledger. `moves_by_entry` puts other movements in place of those of some entries."""
        other = moves_by_entry or {}
        state = Teardown()
        text = self.opened()
        for n, entry in enumerate(self.history, 1):
            apply(state, entry)
            if moves := other.get(n, moves_of(entry.fact)):
                text += self.transaction(n, f"entry {n}: {entry.fact.kind}", moves)
            text += self.assertions(n, entry, state)
        return "\n".join(text) + "\n"

    def assertions(self, n: int, entry: Entry, state: Teardown) -> Iterator[str]:
        """What our books say after an entry: of all it moved, at great moments of everything; and what was seen."""
        moved = moves_of(entry.fact)
        keys = {(m.line, place) for m in moved for place in (m.source, m.target)}
        if isinstance(entry.fact, MOMENTS):
            keys = {(line, place) for line in self.commodity for place in self.account}
        for line, place in sorted(keys):
            yield self.assertion(n, line, place, state.quantity(line, place))
        for line, place, number in seen_in(entry):
            if number == state.quantity(line, place):
                yield self.assertion(n, line, place, number)


def seen_in(entry: Entry) -> tuple[Seen, ...]:
    """What somebody counted by eye in an entry."""
    if isinstance(entry.fact, Checked):
        return (entry.fact.seen,)
    return entry.fact.entries if isinstance(entry.fact, SecondCounted) else ()


def day(n: int) -> date:
    """The day that stands for entry `n`."""
    return FIRST_DAY + timedelta(days=n)


def _component(place: str) -> str:
    return "-".join(re.findall("[A-Za-z0-9]+", place)).capitalize()
