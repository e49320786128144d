"""Photos, finds and looks inside a teardown, as frozen facts; `facts` names them with the rest."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from checklists.movement import Move


@dataclass(frozen=True, slots=True)
class FindLogged:
    """A foreign object is discovered. `where` names a space, or is empty for an extra item found elsewhere.

    `opening` is the one through which it was seen, where that is known.
    """

    kind: ClassVar[str] = "find logged"
    find: str
    what: str
    where: str
    photo: str
    size: str = ""
    opening: str = ""


@dataclass(frozen=True, slots=True)
class FindMatched:
    """A find is one of ours: its movement takes the item out of missing to where the find lies or is kept."""

    kind: ClassVar[str] = "find matched"
    find: str
    moves: tuple[Move, ...]


@dataclass(frozen=True, slots=True)
class Photographed:
    """A photo is kept. `photo` is the SHA-256 of its bytes, by which other facts name it.

    `about` says what it belongs to ("opening:inlet-1", "closure:...", "find:...", "line:...", "handover:", "teardown:")
    and `moment` when in the work it was taken. `taken` is the camera's own time as it wrote it, with its offset where
    it had one, or empty; `received` is this phone's time when it first had the photo, which may be long before the
    entry's own where nobody came back for it, and `received_by` says by what that is known (`receipt.KINDS`). Sizes in
    pixels and bytes.
    """

    kind: ClassVar[str] = "photographed"
    photo: str
    about: str
    moment: str
    name: str
    media: str
    taken: str
    received: str
    width: int
    height: int
    size: int
    received_by: str = ""


@dataclass(frozen=True, slots=True)
class FindRemoved:
    """A find was taken out: how, photographed after, and where it is kept."""

    kind: ClassVar[str] = "find removed"
    find: str
    how: str
    photo: str
    kept: str


@dataclass(frozen=True, slots=True)
class Looked:
    """Closeout inspection of one opening: somebody looked inside, photographed it and said what was seen."""

    kind: ClassVar[str] = "looked inside"
    opening: str
    clear: bool
    seen: str
    photo: str
