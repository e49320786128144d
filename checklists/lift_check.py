"""The lift check: why a closure may not come off yet."""

from __future__ import annotations

from collections.abc import Iterator

from checklists import baseline, places
from checklists.reason_making import cautions, items_at, of_items
from checklists.reasons import Reason
from checklists.state import IN_PLACE, Teardown
from checklists.words import within

Reasons = tuple[Reason, ...]


def why_not_lift(teardown: Teardown, closure: str) -> Reasons:
    """The lift check: photographed as found, fasteners off, nothing loose on it, nothing over it, cautions read."""
    if teardown.closure_states[closure].stage not in IN_PLACE:
        name = within(teardown.closures[closure].name)
        return (Reason("already off", f"The {name} is off already.", "Carry on with its openings.", closure=closure),)
    return tuple(_why_not_lift(teardown, closure))


def _why_not_lift(t: Teardown, closure: str) -> Iterator[Reason]:
    yield from cautions(t)
    yield from baseline.why_not(t)
    home = places.fitted(closure)
    for line in t.lines_of(closure):
        left = t.quantity(line, home)
        if left and t.lines[line].kind == "fastener":
            words = f"{t.say(line, left)} still in the {within(t.closures[closure].name)}."
            yield of_items(t, "still fitted", line, left, home, words, "Count them out.", closure=closure)
    for above in t.sheet.closures:
        if closure in above.lies_over and t.closure_states[above.id].stage in IN_PLACE:
            words = f"The {within(above.name)} lies over the {within(t.closures[closure].name)} and is still on."
            yield Reason("lies over", words, f"Lift the {within(above.name)} first.", closure=above.id)
    for line, place, quantity in items_at(t, lambda p: p in (places.ENGINE, places.lying_on(closure))):
        words = f"{t.say(line, quantity)} {t.say_place(place)}: it could fall in when the closure comes up."
        yield of_items(t, "lying loose", line, quantity, place, words, "Take it away and count it.", closure=closure)
