"""A story: a teardown written down step by step, with what is expected of each step. Played by `mobileapp.rehearsal`.

The written form (TOML) is described in `stories/README.md` and read by `story_reading`.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import NamedTuple

from checklists.facts import Person
from checklists.sheet import Sheet

#: A story that starts from nothing names this as its sheet.
BLANK_SHEET = "blank"


class Verb(NamedTuple):
    """What a step's `do` needs said with it, and what else may be said."""

    needs: tuple[str, ...] = ()
    takes: tuple[str, ...] = ()


_COUNT = ("quantity", "at_once")

VERBS: dict[str, Verb] = {
    "acknowledge": Verb(takes=("caution",)),
    "count out": Verb(("line",), (*_COUNT, "to")),
    "count back": Verb(("line",), (*_COUNT, "from")),
    "put in the engine": Verb(("line",), (*_COUNT, "space", "from")),
    "take out of the engine": Verb(("line",), (*_COUNT, "space", "to")),
    "move": Verb(("line", "from", "to"), _COUNT),
    "photograph": Verb(("photo",), ("opening", "closure", "line")),
    "lift": Verb(("closure", "photo")),
    "cover": Verb(("opening", "line"), ("from",)),
    "uncover": Verb(("opening",), ("to",)),
    "drop": Verb(("line", "near"), ("quantity", "from", "space", "earlier")),
    "say missing": Verb(("line", "from"), ("quantity", "words")),
    "found": Verb(("line", "where"), ("quantity", "to")),
    "short at the start": Verb(("line", "photo"), ("quantity",)),
    "tear": Verb(("line", "into", "from"), ("quantity", "words")),
    "break": Verb(("line", "into", "from"), ("quantity", "words")),
    "open the pack": Verb(("line", "into", "from"), ("quantity", "words")),
    "convert": Verb(("line", "into", "from"), ("quantity", "words")),
    "renew": Verb(("line", "from"), ("quantity", "words")),
    "add": Verb(("line", "to"), ("quantity", "words")),
    "grow": Verb(("sheet",)),
    "check": Verb(("line", "at"), ("quantity",)),
    "undo": Verb(takes=("words",)),
    "log find": Verb(("find", "words", "photo"), ("space", "opening", "size")),
    "remove find": Verb(("find", "words", "photo", "kept")),
    "look": Verb(("opening", "words", "photo"), ("clear",)),
    "second count": Verb(("closure",), ("counted",)),
    "work done": Verb(takes=("words",)),
    "clear": Verb(("closure",)),
    "set down": Verb(("closure",)),
    "sign": Verb(("closure",), ("torque",)),
    "turn by hand": Verb(("words",)),
    "close": Verb(),
    "release": Verb(("words",), ("search",)),
    "take back": Verb(("line", "at", "words")),
    "join": Verb(("name", "role")),
    "leave": Verb(("name",)),
    "secure": Verb(("words",)),
    "hand over": Verb(("name", "words")),
    "take over": Verb(("words",), ("counted",)),
    "match find": Verb(("find", "line")),
    "wait": Verb(("after",)),
    "search": Verb(("line", "method", "words"), ("space", "where", "photo", "found", "quantity", "to", "reached")),
    "part broken": Verb(
        ("line", "mass", "likeness", "smallest", "basis"),
        ("before", "another", "length", "length_within", "instrument", "reads_to", "error"),
    ),
    "weigh piece": Verb(
        ("line", "name", "mass", "instrument", "reads_to", "photo"), ("error", "length", "length_within")
    ),
    "weigh count": Verb(
        ("line", "at", "quantity", "gross", "tare", "sample", "pieces", "scatter", "instrument", "reads_to"), ("error",)
    ),
    "measure": Verb(("closure", "limit", "reading", "instrument", "reads_to"), ("error",)),
    "tighten": Verb(("closure",), ("number", "percent")),
    "why not lift": Verb(("closure",)),
    "why not": Verb(("closure",)),
    "why not close": Verb(),
}

#: Steps that bring something back: without one of them a later closure must be refused. A search can, too.
COUNTS_BACK = frozenset({"count back", "take out of the engine", "uncover", "found"})
#: Steps at which a closure or the whole teardown is closed, or it is asked why not.
CLOSES = frozenset({"clear", "set down", "sign", "close"})


class Piece(NamedTuple):
    """What something became: `quantity` of a new line."""

    id: str
    name: str
    kind: str
    quantity: int


class Figure(NamedTuple):
    """What a second counter says: `quantity` of `line` at a place, in words."""

    line: str
    at: str
    quantity: int


@dataclass(frozen=True, slots=True)
class Expected:
    """What must hold after a step. `refused` holds reason codes; empty means that it must happen."""

    refused: tuple[str, ...] = ()
    only: bool = False
    says: tuple[str, ...] = ()
    tally: tuple[tuple[str, int], ...] = ()
    stage: tuple[tuple[str, str], ...] = ()
    opening_state: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True)
class Step:
    """One step: what is done, with what, by whom, and how many seconds after the step before it.

    `source` and `target` (`from` and `to` in the file) and `at` are places in words. `path` names the step in reports.
    """

    number: int
    do: str
    who: str
    after: float | None = None
    label: str = ""
    line: str = ""
    quantity: int = 1
    at_once: bool = False
    closure: str = ""
    opening: str = ""
    space: str = ""
    source: str = ""
    target: str = ""
    at: str = ""
    photo: str = ""
    words: str = ""
    find: str = ""
    size: str = ""
    caution: str = ""
    name: str = ""
    role: str = ""
    near: str = ""
    where: str = ""
    kept: str = ""
    search: str = ""
    torque: str = ""
    clear: bool = True
    into: tuple[Piece, ...] = ()
    counted: tuple[Figure, ...] = ()
    sheet: Sheet | None = None
    method: str = ""
    found: bool = False
    reached: bool = True
    before: bool = False
    earlier: bool = False
    another: bool = False
    basis: str = ""
    mass: str = ""
    likeness: str = ""
    smallest: str = ""
    length: str = ""
    length_within: str = ""
    instrument: str = ""
    reads_to: str = ""
    error: str = ""
    gross: str = ""
    tare: str = ""
    sample: str = ""
    pieces: int = 0
    scatter: str = ""
    limit: str = ""
    reading: str = ""
    number_on_map: int = 0
    percent: int = 0
    expected: Expected = Expected()

    @property
    def path(self) -> str:
        """The step's place in its file, as faults name it."""
        return f"step[{self.number - 1}]"


@dataclass(frozen=True)
class Story:
    """A whole story. `sheet` is the short name of a shipped sheet, a path beside the story, or "blank"."""

    source: str
    sheet: str
    machine: str
    reason: str
    found: str
    people: tuple[Person, ...]
    starts: str
    steps: tuple[Step, ...]

    @property
    def labels(self) -> tuple[str, ...]:
        """The labels of its steps, in their order."""
        return tuple(step.label for step in self.steps if step.label)

    def until(self, label: str) -> Story:
        """The story up to the step with that label, itself included. Raises KeyError where there is none."""
        for number, step in enumerate(self.steps, start=1):
            if step.label == label:
                return replace(self, steps=self.steps[:number])
        raise KeyError(label)

    def without(self, number: int) -> Story:
        """The story with one step left out, as it happens to people."""
        return replace(self, steps=tuple(step for step in self.steps if step.number != number))

    def doubled(self, number: int) -> Story:
        """The story with one step done twice over."""
        steps = [again for step in self.steps for again in ([step, step] if step.number == number else [step])]
        return replace(self, steps=tuple(steps))
