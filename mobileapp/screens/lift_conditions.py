"""The lift check as a list of conditions, each met or not, with the way to where it is put right. Pure, no widgets."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from checklists import gate, places
from checklists.reasons import Reason
from checklists.state import IN_PLACE, Teardown
from checklists.words import how_many, out_of

#: Words by which a caution of the sheet speaks of what can hurt the moment a closure comes up.
_HURTS = ("pressure", "hot", "heat", "coolant", "fuel", "spring", "steam", "spark", "acid", "weigh")


@dataclass(frozen=True, slots=True)
class Condition:
    """One condition in words. Not met: `reason` says why, what to do, and so where."""

    words: str
    reason: Reason | None = None

    @property
    def met(self) -> bool:
        """Whether it is met."""
        return self.reason is None


def conditions(t: Teardown, closure: str) -> list[Condition]:
    """Everything the lift check looks at, in the order of the work; the photo apart."""
    reasons = list(gate.why_not_lift(t, closure))
    listed = [*_fasteners(t, closure, reasons), *_loose(reasons), *_above(t, closure, reasons), *_cautions(t, reasons)]
    shown = [condition.reason for condition in listed]
    return listed + [Condition(reason.words, reason) for reason in reasons if reason not in shown]


def _fasteners(t: Teardown, closure: str, reasons: list[Reason]) -> Iterator[Condition]:
    home = places.fitted(closure)
    for line in t.lines_of(closure):
        if t.lines[line].kind == "fastener":
            belong, left = t.required[line], t.quantity(line, home)
            missing = sum(item.quantity for item in t.missing if item.line == line and item.source == home)
            words = f"{belong - missing - left} of {how_many(belong - missing, t.lines[line].name)} out"
            yield Condition(words, next((r for r in reasons if r.code == "still fitted" and r.line == line), None))


def _loose(reasons: list[Reason]) -> Iterator[Condition]:
    lying = [reason for reason in reasons if reason.code == "lying loose"]
    if not lying:
        yield Condition("Nothing on the tally lies loose on it")
    for reason in lying:
        yield Condition(reason.words, reason)


def _above(t: Teardown, closure: str, reasons: list[Reason]) -> Iterator[Condition]:
    for above in t.sheet.closures:
        if closure in above.lies_over:
            on = t.closure_states[above.id].stage in IN_PLACE
            reason = next((r for r in reasons if r.code == "lies over" and r.closure == above.id), None)
            yield Condition(f"{above.name}, which lies over it, is {'still on' if on else 'off'}", reason)


def _cautions(t: Teardown, reasons: list[Reason]) -> Iterator[Condition]:
    number = len(t.sheet.cautions)
    read = sum(1 for caution in t.sheet.cautions if caution.id in t.acknowledged)
    if number:
        words = f"{out_of(read, number, 'caution')} read and acknowledged"
        yield Condition(words, next((r for r in reasons if r.code == "caution unread"), None))


def what_can_hurt(t: Teardown) -> list[str]:
    """The cautions to be seen again now: of stored pressure, heat, fuel; all of them where none speaks of that."""
    texts = [caution.text for caution in t.sheet.cautions]
    hurting = [text for text in texts if any(word in text.lower() for word in _HURTS)]
    return hurting or texts
