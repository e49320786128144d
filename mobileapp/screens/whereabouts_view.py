"""The answer to where an item could be: the map, the places ranked with their reasons, and those that are ruled out."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import partial
from typing import Any

from checklists.sheet import Sheet
from checklists.whereabouts.items import ItemShape
from checklists.whereabouts.migration import Candidate, Ways
from checklists.whereabouts.plan import Plan
from checklists.whereabouts.together import Window, together
from checklists.words import sentence
from mobileapp.screens.form_parts import CHUNK, Stack, key_row
from mobileapp.widgets.plate import Plate, QuietButton
from mobileapp.widgets.space_map import SpaceMap, Stop, stops
from mobileapp.widgets.text import Heading, Small, Words

KEY = "Full disc: it passes. Ring: it might pass. Look first at 1."
INSIDE_ALL_ALONG = "It may have been inside all along, in any space: it was short at the start."
ONE_ALL_ALONG = "{} of them may have been inside all along, in any space: short at the start."
ONE_NOWHERE = "{} of them cannot have gone into any space of the sheet: search round about as well."


@dataclass(frozen=True, slots=True)
class Answer:
    """Everything there is to show, worked out off the drawing path."""

    found: tuple[Candidate, ...]
    reasons: tuple[str, ...]
    excluded: tuple[tuple[str, str], ...]
    lines: tuple[Stop, ...]
    names: Mapping[str, str]


def answer(sheet: Sheet, item: ItemShape | None, windows: Sequence[Window]) -> Answer:
    """Where the item could be by what stood open to each that was lost, and where not and why."""
    names = {space.id: space.name for space in sheet.spaces}
    placed, out = together(Ways(Plan(sheet), item), list(names), windows)
    found = tuple(each.candidate for each in placed)
    return Answer(found, tuple(each.why(sheet) for each in placed),
                  tuple((names[each.space], sentence(each.why)) for each in out),
                  tuple(stops(found[:CHUNK], names)), names)  # fmt: skip


class CandidateRow(QuietButton):
    """One place to look, by its rank."""


def parts_of(
    answer: Answer, status: Callable[[str], tuple[str, str]], tapped: Callable[[int], None], chosen: int = 1
) -> list[Callable[[], Any]]:
    """The parts of the answer, each made when it is asked for. `status` gives a place's words and shape."""
    if not answer.found:
        words = "It cannot have gone into any space of the sheet: search round about."
        made: list[Callable[[], Any]] = [partial(Plate, tone="sky", shape="gate", text=words)]
    else:
        made = [partial(_map, answer, chosen)]
        made += [partial(_row, answer, rank, status, tapped) for rank in range(1, len(answer.found) + 1)[:CHUNK]]
    if answer.excluded:
        made.append(partial(Heading, text="Ruled out"))
        made += [partial(_excluded, name, why) for name, why in answer.excluded[:CHUNK]]
        if len(answer.excluded) > CHUNK:
            made.append(partial(Small, text=f"and {len(answer.excluded) - CHUNK} spaces more"))
    return made


def _map(answer: Answer, chosen: int) -> Stack:
    parts: list[Any] = [Small(text=KEY), SpaceMap(answer.lines, chosen)]
    if len(answer.found) > CHUNK:
        parts.append(Small(text=f"The likeliest {CHUNK} of {len(answer.found)} spaces are shown."))
    return Stack(*parts, gap_mm=2)


def _row(
    answer: Answer, rank: int, status: Callable[[str], tuple[str, str]], tapped: Callable[[int], None]
) -> QuietButton:
    candidate = answer.found[rank - 1]
    words, shape = status(candidate.space)
    note = f"{answer.reasons[rank - 1]}{' ' + words if words else ''}"
    return key_row(f"{rank}  {answer.names[candidate.space]}", partial(tapped, rank), note, shape)


def _excluded(name: str, why: str) -> Stack:
    return Stack(Words(text=name, bold=True), Small(text=f"{why}."), gap_mm=0.5)
