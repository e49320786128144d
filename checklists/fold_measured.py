"""What searches, broken parts, weighing, measuring and tightening do to the state."""

from __future__ import annotations

from checklists import places
from checklists.facts import Seen
from checklists.facts_measured import Measured, PartBroken, PieceWeighed, Searched, Tightened, WeighCounted
from checklists.fold_moves import doubt, note_seen
from checklists.fold_standing import recall, withdraw
from checklists.state import CLEARED, SIGNED, BrokenPart, Mark, Teardown

#: Nobody sees a part there.
_UNSEEN = frozenset({places.ORIGIN, places.CONVERTED, places.MISSING})


def searched(t: Teardown, fact: Searched, mark: Mark) -> None:
    t.searches.append((fact, mark))


def part_broken(t: Teardown, fact: PartBroken, mark: Mark) -> None:
    """Its pieces could be in whatever stood open since it was last seen whole: what was signed there falls."""
    known = t.broken.get(fact.line)
    seen_n = known.seen_n if known else _seen_whole(t, fact)
    t.broken[fact.line] = BrokenPart(fact, mark, seen_n, known.pieces if known else {})
    if known is None:
        name = t.lines[fact.line].name if fact.line in t.lines else fact.line
        spaces = None if fact.before else t.exposure.exposed_since(seen_n)
        doubt(t, spaces, mark, f"the {name} broke, and a piece could be in its spaces")


def _seen_whole(t: Teardown, fact: PartBroken) -> int:
    seen = [mark.n for (line, place), mark in t.sighted.items() if line == fact.line and place not in _UNSEEN]
    return 0 if fact.before else max(seen, default=0)


def piece_weighed(t: Teardown, fact: PieceWeighed, mark: Mark) -> None:
    if fact.line in t.broken:
        t.broken[fact.line].pieces[fact.piece] = (fact, mark)


def weigh_counted(t: Teardown, fact: WeighCounted, mark: Mark) -> None:
    t.weigh_counts.append((fact, mark))
    note_seen(t, Seen(fact.line, fact.place, fact.number), mark)


def measured(t: Teardown, fact: Measured, mark: Mark) -> None:
    """Measured again and no longer inside: what was signed on the strength of it falls."""
    from checklists.measured_limits import judge_limit  # the workshop is needed only where something is measured

    t.measured[fact.closure, fact.limit] = (fact, mark)
    judged, state = judge_limit(t, fact.closure, fact.limit), t.closure_states.get(fact.closure)
    if state is None or (judged is not None and judged.verdict == "inside"):
        return
    if state.stage == SIGNED:
        recall(state, mark, "a limit was measured again and is not inside")
    elif state.stage == CLEARED:
        withdraw(state, mark, "a limit was measured again and is not inside")


def measure_afresh(t: Teardown, closure: str) -> None:
    """A closure came off: what was measured under it before may have changed."""
    for key in [key for key in t.measured if key[0] == closure]:
        del t.measured[key]


def tightened(t: Teardown, fact: Tightened, mark: Mark) -> None:
    t.tightened.setdefault(fact.closure, {})[fact.number, fact.percent] = mark
