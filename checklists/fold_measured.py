"""What searches, broken parts, weighing, measuring and tightening do to the state."""

from __future__ import annotations

from checklists import places
from checklists.facts import TO_BE_WEIGHED, Converted, Seen
from checklists.facts_measured import Measured, PartBroken, PieceWeighed, Searched, Tightened, WeighCounted
from checklists.fold_losses import found_again
from checklists.fold_moves import doubt, note_seen
from checklists.fold_standing import recall, withdraw
from checklists.state import CLEARED, SIGNED, BrokenPart, Mark, SearchPass, Teardown, Unaccounted

#: Nobody sees a part there.
_UNSEEN = frozenset({places.ORIGIN, places.CONVERTED, places.MISSING})


def searched(t: Teardown, fact: Searched, mark: Mark) -> None:
    """What was found is on the tally again at once. A search of an older version says so, and moves nothing."""
    t.searches.append(SearchPass(fact, mark, len(t.people) < 2))
    found_again(t, fact.moves, mark, fact.where)


def part_broken(t: Teardown, fact: PartBroken, mark: Mark) -> None:
    """Its pieces could be in whatever stood open since it was last seen whole: what was signed there falls."""
    known, due = t.broken.get(fact.line), _due(t, fact.line)
    another = known is not None and (fact.another or due is not None)
    wholes = (fact,) if known is None else (*(known.wholes if another else known.wholes[:-1]), fact)
    seen_n, inside = (due.seen_n, due.inside) if due else (seen_whole(t, fact.line), frozenset[str]())
    if known:
        seen_n, inside = min(known.seen_n, seen_n), known.inside | inside
    broken = BrokenPart(wholes, mark, seen_n, inside, known.pieces if known else {})
    t.broken[fact.line] = broken
    if known is None or another or broken.before:
        name = t.lines[fact.line].name if fact.line in t.lines else fact.line
        doubt(t, t.could_hold_pieces(broken), mark, f"the {name} broke, and a piece could be in its spaces")


def _due(t: Teardown, part: str) -> Unaccounted | None:
    """The first of those that broke on the tally of which nobody had said what it should weigh; it is due no more."""
    due = t.unaccounted.pop(part, ())
    if due[1:]:
        t.unaccounted[part] = due[1:]
    return due[0] if due else None


def seen_whole(t: Teardown, part: str) -> int:
    """The entry at which a part was last seen whole: where there are several, which one broke is not known."""
    at = [t.last_seen(part, place) for place in t.places_of(part) if place not in _UNSEEN]
    return min(at, default=0)


def broke(t: Teardown, fact: Converted, mark: Mark) -> None:
    """A part was converted as broken: until what it should weigh is said, nobody knows whether its pieces add up."""
    entry = t.history[-1]
    for move in fact.moves:
        if fact.how == TO_BE_WEIGHED and move.target == places.CONVERTED:
            seen_n, inside = t.last_seen(move.line, move.source), t.inside_of(move.source)
            due = Unaccounted(entry.device, entry.seq, mark, seen_n, inside)
            t.unaccounted[move.line] = (*t.unaccounted.get(move.line, ()), *[due] * move.quantity)


def not_broken(t: Teardown, device: str, seq: int) -> None:
    """That conversion was taken back."""
    for part, due in list(t.unaccounted.items()):
        left = tuple(each for each in due if (each.device, each.seq) != (device, seq))
        t.unaccounted.pop(part)
        if left:
            t.unaccounted[part] = left


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


def untightened(t: Teardown, fact: Tightened, mark: Mark) -> None:
    """A tick was taken back: that fastener is due again from its pass on, and what was signed on it falls.

    On one phone nobody takes a tick back under a higher one, or under a signature; two that had not met can.
    """
    done, state = t.tightened.get(fact.closure, {}), t.closure_states[fact.closure]
    for key in [(number, percent) for number, percent in done if number == fact.number and percent >= fact.percent]:
        del done[key]
    if state.stage == SIGNED:
        recall(state, mark, "a tick of its tightening was taken back")
