"""May this tick of the tightening be taken back? It stays on record with its reversal; the fastener is due again."""

from __future__ import annotations

from checklists.facts import Reversed
from checklists.facts_measured import Tightened
from checklists.refusing import PASSED, Reasons, no
from checklists.state import IN_PLACE, SIGNED, Teardown
from checklists.words import within


def tick_taken_back(t: Teardown, fact: Reversed, tick: Tightened) -> Reasons:
    """A tick that stands, on a closure not yet signed, with no higher pass of that fastener ticked on top of it."""
    name, state = within(t.closures[tick.closure].name), t.closure_states[tick.closure]
    step = f"Number {tick.number} of the {name} at {tick.percent} %"
    if (fact.device, fact.seq) in t.reversed:
        return no("undone already", f"{step} was taken back already.", "Look at the plan.", closure=tick.closure)
    if fact.moves:
        return no("not its movements", "A tick moved nothing.", "Take it back as it was made.", closure=tick.closure)
    if state.stage not in IN_PLACE or state.stage == SIGNED:
        return no(
            "not to be tightened",
            f"The {name} is {state.stage}.",
            "Count a fastener of it out and home again: then every one is tightened anew.",
            closure=tick.closure,
        )
    done = t.tightened.get(tick.closure, {})
    stands = done.get((tick.number, tick.percent))
    last = t.history[stands.n - 1] if stands else None
    if last is None or (last.device, last.seq) != (fact.device, fact.seq):
        words = f"{step} does not stand any more: a fastener came out since, or it was ticked anew."
        return no("not ticked", words, "Look at the plan.", closure=tick.closure)
    if above := [percent for number, percent in done if number == tick.number and percent > tick.percent]:
        words = f"Number {tick.number} is ticked at {min(above)} % too."
        return no("pass left out", words, "Take that tick back first.", closure=tick.closure)
    return PASSED
