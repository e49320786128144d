"""Faults of a sheet as data, and the words in which they are told to the person who wrote it."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from difflib import get_close_matches
from itertools import islice

LONGEST_SHOWN = 60
#: Comparing words is slow; a sheet written by a person has far fewer than this.
MOST_COMPARED = 300


COUNTED = "Entries are counted from 1: [2] is the second of its kind."
_PLACE = re.compile(r"\[(\d+)\]")


def spoken_path(path: str) -> str:
    """A key's path as it is told: entries of a list are counted from 1, as a person counts them down the file."""
    return _PLACE.sub(lambda place: f"[{int(place[1]) + 1}]", path)


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing wrong with a sheet: in which source, at which key, what it is and what to do about it.

    `path` counts entries of a list from 0, as programs do; told to a person they count from 1.
    """

    source: str
    path: str
    message: str

    def __str__(self) -> str:
        return f"{spoken_path(self.path)}: {self.message}" if self.path else self.message


def report(faults: Sequence[Fault]) -> str:
    """Every fault in one text for a person, under the name of its source; empty when there is none."""
    blocks = []
    for source in dict.fromkeys(fault.source for fault in faults):
        own = [fault for fault in faults if fault.source == source]
        heading = _heading(source, len(own), in_lists=any("[" in fault.path for fault in own))
        blocks.append("\n".join([heading, *(f"  {fault}" for fault in own)]))
    return "\n".join(blocks)


def _heading(source: str, count: int, in_lists: bool) -> str:
    faults = "1 fault" if count == 1 else f"{count} faults"
    counted = f" {COUNTED}" if in_lists else ""
    return f"{source or 'This sheet'}: {faults} to put right before it can be used.{counted}"


def near_miss(word: str, known: Iterable[str]) -> str:
    """'; did you mean ...?' where `word` is close to a known one, else nothing."""
    if not 0 < len(word) <= LONGEST_SHOWN:
        return ""
    close = get_close_matches(word, list(islice(known, MOST_COMPARED)), n=1)
    return f"; did you mean {shown(close[0])}?" if close else ""


def shown(word: str) -> str:
    """A word as a person typed it, in quotes, with what cannot be printed spelt out and cut where too long."""
    if len(word) > LONGEST_SHOWN:
        word = word[: LONGEST_SHOWN - 3] + "..."
    return "'" + "".join(c if c.isprintable() else ascii(c)[1:-1] for c in word) + "'"


def choices(words: Iterable[str]) -> str:
    """'circle, slot or oval'."""
    *most, last = words
    return f"{', '.join(most)} or {last}" if most else last
