"""What is signed in a teardown, as frozen facts: clearances, closures, the end; `facts` names them with the rest.

Each is bound to the journal's head as it stood, and carries the signature as it was drawn.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

#: A signature drawn with a finger: strokes of x, y, x, y ... in thousandths of the field's width and height.
Strokes = tuple[tuple[int, ...], ...]


@dataclass(frozen=True, slots=True)
class Cleared:
    """Signed: this closure may be refitted. `head` is the journal's head that the signature is bound to."""

    kind: ClassVar[str] = "cleared to refit"
    closure: str
    statement: str
    head: str
    signature: Strokes = ()


@dataclass(frozen=True, slots=True)
class Signed:
    """Signed: this closure is closed, every fastener home. `torque` is the figure used, as typed."""

    kind: ClassVar[str] = "closure signed"
    closure: str
    torque: str
    statement: str
    head: str
    signature: Strokes = ()


@dataclass(frozen=True, slots=True)
class HandTurned:
    """Signed: the engine was turned by hand first, and what was felt."""

    kind: ClassVar[str] = "turned by hand"
    statement: str
    head: str = ""
    signature: Strokes = ()


@dataclass(frozen=True, slots=True)
class Closed:
    """The teardown as a whole is closed."""

    kind: ClassVar[str] = "teardown closed"
    statement: str
    head: str
    signature: Strokes = ()


@dataclass(frozen=True, slots=True)
class Released:
    """Released, not clear: an ending that is not a closure, with its reason and the search that was made."""

    kind: ClassVar[str] = "released, not clear"
    reason: str
    search: str
    head: str
    signature: Strokes = ()
