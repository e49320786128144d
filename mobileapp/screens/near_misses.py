"""Near misses: what fell or went missing on every teardown of this phone, where, and how long it took to find."""

from __future__ import annotations

from functools import partial
from typing import Any

from checklists.near_misses import NearMiss, near_miss_words
from checklists.times import duration_words
from checklists.words import how_many
from mobileapp.journal.errors import JournalError
from mobileapp.near_miss_reading import read_near_misses
from mobileapp.screens.aside import in_steps, work_aside
from mobileapp.screens.base import BaseScreen
from mobileapp.screens.form_parts import CHUNK, Stack, key_row
from mobileapp.screens.stamps import when
from mobileapp.widgets.plate import Plate
from mobileapp.widgets.text import Small, Words


class NearMissesScreen(BaseScreen):
    """Read off the drawing path; shown when it is there."""

    def build(self, **_: Any) -> None:
        """A word first; then the list."""
        self.title = "Near misses"
        self.left = False
        self.waiting = Words(text="Reading the journal…")
        self.add_widget(self.waiting)
        try:
            known = [card.teardown for card in self.desk.journal.teardowns()]
        except JournalError as fault:
            self.waiting.text = str(fault)
            return
        work_aside(partial(_read, self.desk.journal.path, known), self._show)

    def leave(self) -> None:
        """What is still being read is not shown any more."""
        super().leave()
        self.left = True

    def _show(self, lost: tuple[NearMiss, ...] | str) -> None:
        if self.left:
            return
        self.clear_body()
        if isinstance(lost, str):
            self.add_widget(Plate(tone="yellow", shape="refused", text=lost))
            return
        for words in near_miss_words(lost):
            self.add_widget(Words(text=words, bold=True))
        self._list(lost, 0)

    def _list(self, lost: tuple[NearMiss, ...], start: int) -> None:
        now, end = self.desk.clock(), start + CHUNK
        in_steps([partial(self.add_widget, _row(each, now)) for each in lost[start:end]])
        if len(lost) > end:
            more = key_row(f"{len(lost) - end} more", lambda: self._more(more, lost, end), shape="more")
            in_steps([partial(self.add_widget, more)], at_once=0)

    def _more(self, key: Any, lost: tuple[NearMiss, ...], start: int) -> None:
        self.body.remove_widget(key)
        self._list(lost, start)


def _read(path: Any, known: list[str]) -> tuple[NearMiss, ...] | str:
    try:
        return read_near_misses(path, known)
    except Exception as fault:  # on a thread: whatever it is, it is said on the screen
        return f"The journal could not be read: {fault}. Prove it with the command line."


def _row(lost: NearMiss, now: str) -> Stack:
    """One loss: what and where, on which machine, and how it ended."""
    near = f", {lost.near}" if lost.near else ""
    into = f", into {lost.space}" if lost.space else ""
    head = f"{how_many(lost.quantity, lost.name)}: {lost.how}{into}{near}"
    if lost.seconds is None:
        end = "not found"
    else:
        where = f": {lost.found_where}," if lost.found_where else ""
        end = f"found{where} after {duration_words(lost.seconds)}"
    at = f"last {lost.last_place}; {lost.machine}, {when(lost.lost_at, now)}"
    return Stack(Words(text=head, bold=True), Words(text=end), Small(text=at), gap_mm=0.8)
