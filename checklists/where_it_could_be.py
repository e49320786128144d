"""Where a missing item of a teardown could be, ranked, and where it cannot be and why: for a search, and on record."""

from __future__ import annotations

from checklists.exposure import A_MOMENT, UNCOVERED
from checklists.sheet import ItemSize
from checklists.state import SHORT_AT_START, MissingItem, Teardown
from checklists.ways_in import lay_in
from checklists.whereabouts.items import ItemShape, body_of
from checklists.whereabouts.passing import CANNOT_PASS, verdict
from checklists.words import within

#: So many spaces are named in a sentence; the rest are counted.
_NAMED = 3


def shape_of_line(teardown: Teardown, line: str) -> ItemShape | None:
    """The body of a line's items; None where nobody measured it and its specification does not settle it."""
    size: ItemSize | None = teardown.lines[line].shape
    return None if size is None else body_of(size)


def exposed_seconds(teardown: Teardown, item: MissingItem) -> dict[str, float]:
    """For each opening uncovered since the item was last seen: for how many seconds, up to when it was missed.

    0 for one that was uncovered only after that. The spaces it was last known to lie in are among them, as `lay_in`.
    """
    seen = teardown.history[item.seen_n - 1].at if item.seen_n else ""
    opened = teardown.exposure.seconds_between((item.seen_n, seen), (item.mark.n, item.mark.at))
    return {**dict.fromkeys(map(lay_in, sorted(item.inside)), A_MOMENT), **opened}


def seen_to_fall(item: MissingItem) -> bool:
    """Whether the fall itself was seen, so that only what stood open at that moment counts."""
    return item.cause == "dropped" and item.seen_n >= item.mark.n


def shut_since_seen(teardown: Teardown, line: str, source: str) -> list[str]:
    """The openings that stood uncovered since an item was last seen at `source`, and are covered or sealed by now.

    What fell before it was logged may have gone in there; what falls just now cannot. The last covered comes first.
    """
    states = teardown.opening_states
    opened = teardown.exposure.openings_since(teardown.last_seen(line, source))
    shut = [o for o in opened if states[o].state != UNCOVERED]
    return sorted(shut, key=lambda opening: -states[opening].spans[-1][1])


def where_words(teardown: Teardown, item: MissingItem, most: int = _NAMED) -> str:
    """In one sentence, the likeliest first: It could be in inlet port 2 or cylinder 2.

    Spaces that stood uncovered only after it was missed come last, and are said to be so. So many are named, the rest
    counted.
    """
    if item.cause == SHORT_AT_START:
        return "It may have been inside all along, in any space."
    found = teardown.ways.for_shape(teardown.lines[item.line].shape).candidates(exposed_seconds(teardown, item))
    inside, later = (
        _either_of([within(teardown.spaces[each.space].name) for each in found if bool(each.exposed) == then], most)
        for then in (True, False)
    )
    if not inside and not later:
        return "It cannot have gone into any space of the sheet: search round about."
    only = f"uncovered only after it {'fell' if seen_to_fall(item) else 'was missed'}"
    if not inside:
        return f"It could be in {later}, {only}."
    return f"It could be in {inside}{f'; last of all in {later}, {only}' if later else ''}."


def _either_of(names: list[str], most: int) -> str:
    more = f"{len(names) - most} other spaces" if len(names) > most + 1 else ""
    return _either([*names[:most], more] if more else names) if names else ""


def not_in_words(teardown: Teardown, item: MissingItem, closure: str) -> str:
    """Why a missing item cannot be in a closure's spaces; empty where it could be."""
    could_hold, spaces = teardown.could_hold(item), teardown.spaces_of(closure)
    if could_hold is None or not could_hold.isdisjoint(spaces):
        return ""
    said = f"{teardown.say(item.line, item.quantity)} {item.cause}, but not in here"
    opened = teardown.exposure.openings_since(item.seen_n)
    led = [teardown.openings[o] for o in opened if not teardown.ways.from_opening[o].isdisjoint(spaces)]
    size = teardown.lines[item.line].shape
    if not led or size is None:
        since = "as it fell or after" if seen_to_fall(item) else "since it was last seen"
        return f"{said}: no way in stood uncovered {since}."
    tight = [each for each in led if verdict(body_of(size), each.clear) == CANNOT_PASS]
    holes = [f"{within(each.name)} ({each.clear})" for each in tight]
    if not holes:
        return f"{said}: {size}, it cannot pass the inner ways on to here."
    more = f"{len(holes) - _NAMED} more" if len(holes) > _NAMED else ""
    onward = ", nor the inner ways from elsewhere" if len(tight) < len(led) else ""
    return f"{said}: {size}, it cannot pass {_either([*holes[:_NAMED], *filter(None, [more])])}{onward}."


def _either(names: list[str]) -> str:
    return names[0] if len(names) == 1 else ", ".join(names[:-1]) + " or " + names[-1]
