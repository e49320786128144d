"""What somebody does who does the next act, in trouble as well as on the straight way."""

from __future__ import annotations

from careful_worker import CarefulWorker

from checklists import builders
from checklists.facts import Fact, FindRemoved
from checklists.next_act import Act
from checklists.state import Teardown


class Standing(CarefulWorker):
    """The careful worker, called to a teardown that somebody else began."""

    def __init__(self, teardown: Teardown) -> None:
        self.teardown = teardown


def facts_of(t: Teardown, act: Act) -> list[Fact]:
    """The facts of an act; none for one that has to be waited for or that needs an answer from the person."""
    if act.do in ("wait", "ended", "grow", "add cover"):
        return []
    if act.do == "search":
        return [builders.find_again(t, act.line, act.quantity, "where it was")]
    if act.do == "add":
        return [builders.add(act.line, act.quantity, act.target, "in place of the old one")]
    if act.do == "settle":
        return [builders.check(act.line, act.place, t.quantity(act.line, act.place))]
    if act.do == "remove find":
        return [FindRemoved(act.find, "with the magnet", "photos/after.jpg", "bag 1")]
    return Standing(t).facts(act)
