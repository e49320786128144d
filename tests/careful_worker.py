"""A careful worker who does nothing but what `next_act` names. Used by stories that follow it to the end."""

from __future__ import annotations

from kept_photos import drawn, photo, photo_first

from checklists import baseline, builders, second_count
from checklists.facts import (
    Acknowledged,
    Entry,
    Fact,
    HandTurned,
    Lifted,
    Looked,
    Person,
    Refitted,
    WorkDone,
)
from checklists.facts_measured import Gauge, Measured, Tightened
from checklists.judge import judge
from checklists.next_act import Act, next_act
from checklists.sheet import Sheet
from checklists.state import Teardown
from checklists.teardown import apply
from checklists.times import seconds_after
from checklists.workshop.units import read_figure

START = "2026-03-02T08:00:00.000+01:00"


class CarefulWorker:
    """Runs a teardown in memory, with a clock that steps one second an act."""

    def __init__(self, sheet: Sheet, people: tuple[Person, ...], device: str = "bench-phone") -> None:
        self.teardown = Teardown()
        self.now = START
        self.device = device
        self.acts: list[Act] = []
        self.record(builders.start(sheet, "trial machine", people, "to see inside", ""), people[0].name)

    def record(self, fact: Fact, who: str) -> None:
        reasons = judge(self.teardown, fact, self.now, who)
        assert not reasons, f"{fact.kind} refused: {[reason.words for reason in reasons]}"
        number = len(self.teardown.history) + 1
        apply(self.teardown, Entry(fact, self.now, who, self.device, number, number))
        self.now = seconds_after(self.now, 1)

    def work(self, most: int = 500) -> None:
        """Follow the next act until the teardown has ended."""
        for _ in range(most):
            act = next_act(self.teardown, self.now)
            self.acts.append(act)
            if act.do == "ended":
                return
            self.do(act)
        raise AssertionError(f"not finished after {most} acts; the last was {act}")

    def do(self, act: Act) -> None:
        if act.do == "wait":
            assert act.until, f"stuck: {act.words}"
            self.now = act.until
            return
        who = act.who or self.teardown.people[0].name
        for fact in self.facts(act):
            for one in self.with_photo(fact):
                self.record(one, who)

    def with_photo(self, fact: Fact) -> tuple[Fact, ...]:
        """The photo that an act names, then the act."""
        return photo_first(self.teardown, fact, self.now)

    def _measured(self, act: Act) -> Fact:
        """Read in the middle of the limits, with a gauge fine enough."""
        (limit,) = [limit for limit in self.teardown.closures[act.closure].limits if limit.id == act.limit]
        least, most = (read_figure(text, "length") for text in (limit.least, limit.most))
        middle = f"{float((least.number + most.number) / 2):.4f} {least.unit.name}"
        return Measured(act.closure, act.limit, middle, Gauge("depth gauge", "0.0001 in", "0.0002 in"))

    def facts(self, act: Act) -> list[Fact]:
        t = self.teardown
        if act.do in ("count out", "count back", "take out"):
            one = builders.move(act.line, 1, act.place, act.target)
            return [one] * act.quantity
        simple = {
            "acknowledge": lambda: Acknowledged(act.caution),
            "photograph": lambda: photo(f"as found, number {len(t.history)}", baseline.WHOLE, baseline.MOMENT),
            "lift": lambda: Lifted(act.closure, "photos/lift-check.jpg"),
            "cover": lambda: builders.cover(t, act.opening, act.line),
            "work done": lambda: WorkDone("seen what we came to see"),
            "uncover": lambda: builders.uncover(t, act.opening),
            "look": lambda: Looked(act.opening, True, "clean and dry", "photos/inside.jpg"),
            "second count": lambda: builders.second_counted(
                t, act.closure, [t.quantity(*pair) for pair in second_count.count_list(t, act.closure)]
            ),
            "clear": lambda: builders.clear_to_refit(t, act.closure, ""),
            "set down": lambda: Refitted(act.closure),
            "tighten": lambda: Tightened(act.closure, act.number, act.percent),
            "measure": lambda: self._measured(act),
            "sign": lambda: builders.sign(t, act.closure, t.closures[act.closure].torque, ""),
            "turn by hand": lambda: HandTurned("two turns, free all the way"),
            "close": lambda: builders.close(t, ""),
        }
        return [drawn(simple[act.do]())]
