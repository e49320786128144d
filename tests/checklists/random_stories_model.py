"""Random stories on the small workboat job: whole stretches of work with something that comes between."""

from __future__ import annotations

import json
from collections.abc import Callable

import rfc8785
from counting_model import BENEATH, FASTENERS, IN_PLACE, OPENINGS, PARTS, SPACES_OF
from hypothesis import event
from hypothesis import strategies as st
from hypothesis.stateful import invariant, rule
from kept_photos import but_for_photos
from next_acts_model import facts_of
from story_closures_model import Closures
from story_ground_model import CLOSURES, closures
from workboat_model import HEAD, INES, TOMAS, plain

from checklists import builders
from checklists.fact_codec import fact_from_plain, fact_to_plain
from checklists.judge import judge
from checklists.ledger import faults
from checklists.next_act import next_act
from checklists.teardown import fold
from checklists.times import seconds_after

SPOILERS = [
    "nothing", "something inside", "something in and out", "something somewhere", "something on it", "a tool taken out",
    "a cover", "a drop", "a drop logged late", "a loss", "a loss from stores", "one short", "a find", "a find outside",
    "a glint", "a differing count", "a differing second count", "a closure beneath", "a bolt beneath", "one more bolt",
    "the deckhand", "a pause", "an undo",
]  # fmt: skip


class Stories(Closures):
    """Stories that get somewhere: opened, spoiled, put right, closed. Each history is cut in places at the end."""

    @rule(closure=closures)
    def open_up(self, closure: str) -> None:
        for line in FASTENERS[closure]:
            if held := self.book.holds(line, f"fitted/{closure}"):
                self.count(line, held, f"fitted/{closure}", "tray")
        self.lift(closure)

    @rule()
    def open_up_everything(self) -> None:
        for closure in ("crossover", "manifold", "nozzle"):
            self.open_up(closure)

    @rule(closure=closures, times=st.integers(1, 3))
    def get_on_with_it(self, closure: str, times: int) -> None:
        """The careful worker's next stretch of work on a closure, whatever state it is in."""
        for _ in range(times):
            stage = self.book.stage[closure]
            if stage in ("fitted", "loosened", "recalled"):
                self.open_up(closure)
            elif stage == "lifted":
                self.tidy_up()
                self.make_ready(closure)
            else:
                self.close_up(closure)

    @rule(closure=closures)
    def get_on_until_it_is_signed(self, closure: str) -> None:
        for below in [*BENEATH[closure], closure]:
            self.get_on_with_it(below, 4 if self.book.stage[below] != "signed" else 0)

    @rule(closure=closures, spoil=st.sampled_from(SPOILERS), after=st.sampled_from(SPOILERS), data=st.data())
    def almost(self, closure: str, spoil: str, after: str, data: st.DataObject) -> None:
        """All is made ready for a closure, something comes between, and the closing is tried all the same."""
        for above in reversed(BENEATH):
            if closure in BENEATH[above] and self.book.stage[above] in IN_PLACE:
                self.open_up(above)
        if self.book.stage[closure] in IN_PLACE:
            self.open_up(closure)
        self.tidy_up()
        self.look_and_count(closure)
        self.spoil(spoil, closure, data)
        self.clear(closure)
        self.spoil(after, closure, data)
        self.close_up(closure)

    def spoil(self, how: str, closure: str, data: st.DataObject) -> None:
        """One of the things that come between."""
        space = data.draw(st.sampled_from(sorted(SPACES_OF[closure])))
        opening = data.draw(st.sampled_from([o for o, (_, over) in sorted(OPENINGS.items()) if over == closure]))
        line = FASTENERS[closure][0]
        spoilers: dict[str, Callable[[], object]] = {
            "nothing": lambda: None,
            "something inside": lambda: self.count("wrench", 1, "stores", f"engine/{space}"),
            "something in and out": lambda: (
                self.count("wrench", 1, "stores", f"engine/{space}"),
                self.count("wrench", 1, f"engine/{space}", "stores"),
            ),
            "something somewhere": lambda: self.count("glasses", 1, "stores", "engine"),
            "something on it": lambda: self.count("wrench", 1, "stores", f"on/{closure}"),
            "a tool taken out": lambda: self.count("wrench", 1, "stores", "bench", TOMAS),
            "a cover": lambda: self.cover(data, opening, "cap"),
            "a drop": lambda: self.lose(line, "tray", dropped=True),
            "a drop logged late": lambda: self.lose(line, "tray", dropped=True, earlier=True),
            "a loss": lambda: self.lose(line, "tray"),
            "a loss from stores": lambda: self.lose("rag", "stores"),
            "one short": lambda: [self.short_at_the_start(c) for c in CLOSURES if c not in self.book.off_once][:1],
            "a find": lambda: self.log_a_find(space),
            "a find outside": lambda: self.log_a_find(""),
            "a glint": lambda: self.look(opening, False),
            "a differing count": lambda: self.seen_otherwise("rag", "stores"),
            "a differing second count": lambda: self.count_again(closure, TOMAS, 1),
            "a closure beneath": lambda: [self.open_up(below) for below in BENEATH[closure]],
            "a bolt beneath": lambda: [
                self.count(FASTENERS[below][0], 1, f"fitted/{below}", "tray") for below in BENEATH[closure]
            ],
            "one more bolt": lambda: self.add(line, 1, "tray"),
            "the deckhand": self.the_deckhand_goes_or_comes,
            "a pause": lambda: self.wait(12),
            "an undo": lambda: self.undo(data),
        }
        assert sorted(spoilers) == sorted(SPOILERS)
        spoilers[how]()

    def lose(self, line: str, place: str, *, dropped: bool = False, earlier: bool = False) -> None:
        movement = (line, 1, place, "missing")
        make = (
            builders.drop(self.t, line, 1, "here", place, earlier=earlier)
            if dropped
            else builders.miss(self.t, line, 1, place)
        )
        may = self.book.may_move([movement])
        self.attempt(make, may, lambda when: self.book.lose(movement, when, just_now=dropped and not earlier))

    def seen_otherwise(self, line: str, place: str) -> None:
        number = self.book.holds(line, place) + 1
        self.attempt(builders.check(line, place, number), True, lambda when: self.book.saw(line, place, number, when))

    @rule()
    def close_up_everything(self) -> None:
        for closure in ("nozzle", "manifold", "crossover"):
            if self.book.stage[closure] not in ("fitted", "signed"):
                self.get_on_with_it(closure, 3)

    @rule()
    def tidy_up(self) -> None:
        """Everything out of the engine and found again; every find settled, every difference counted again."""
        for opening in sorted(OPENINGS):
            if self.book.opening[opening] == "covered":
                self.uncover(opening)
        for (line, place), held in sorted(self.book.at.items()):
            family = place.partition("/")[0]
            home = "tray" if line in self.book.belong else "stores"
            if held and place == "missing":
                self.find_again(line, held, home)
            elif held and (family in ("engine", "on") or (family in ("tray", "bench") and place != home)):
                self.count(line, held, place, home)
        for name in sorted(self.book.finds):
            self.remove_a_find(int(name.partition("-")[2]))
        for line, place in sorted(self.book.differs):
            number = self.book.holds(line, place)
            fact = builders.check(line, place, number)
            self.attempt(fact, True, lambda when, seen=(line, place, number): self.book.saw(*seen, when))

    @rule(closure=closures)
    def make_ready(self, closure: str) -> None:
        """Look into every opening, then count again, by whoever may."""
        self.look_and_count(closure)
        self.clear(closure)

    def look_and_count(self, closure: str) -> None:
        for opening, (_, over) in OPENINGS.items():
            if over == closure:
                self.look(opening, True)
        if len(self.book.people) == 1:
            self.now = seconds_after(self.now, 600)
        for who in (TOMAS, INES):
            if self.book.may_count_again(closure, self.now, who) and who in self.book.people:
                self.count_again(closure, who, 0)
                break

    @rule(closure=closures)
    def close_up(self, closure: str) -> None:
        self.set_down(closure)
        for line in FASTENERS[closure] + PARTS[closure]:
            due = self.book.belong[line] - self.book.holds(line, f"fitted/{closure}")
            if due > 0:
                self.count(line, due, "tray", f"fitted/{closure}")
            if spare := self.book.holds(line, "tray"):
                self.count(line, spare, "tray", f"fitted/{closure}")
        self.sign(closure)

    # --- always

    @invariant()
    def the_next_act_is_never_refused(self) -> None:
        if self.t.history and not self.t.ended:
            act = next_act(self.t, self.now)
            for fact in facts_of(self.t, act)[:1]:
                reasons = judge(self.t, fact, self.now, act.who or self.book.people[0])
                against = [reason.words for reason in but_for_photos(reasons)]  # its photo is taken when it is done
                assert not against, f"{act.words}: {against}"

    def teardown(self) -> None:
        if not self.steps:
            return
        may = self.book.may_close()
        event(f"closing {'granted' if may else 'refused'}")
        before = len(self.t.history)
        self.attempt(builders.close(self.t, HEAD), may, lambda when: None)
        self.any_prefix_is_a_valid_state()
        for entry in self.t.history[:before]:
            text = rfc8785.dumps(fact_to_plain(entry.fact))
            assert fact_from_plain(entry.fact.kind, json.loads(text)) == entry.fact

    def any_prefix_is_a_valid_state(self) -> None:
        """Cut the history anywhere: it folds to the very state that stood there, and nothing is below zero."""
        length = len(self.t.history)
        for cut in sorted({1, length // 3, length // 2, length - 1, length} - {0}):
            state = fold(self.t.history[:cut])
            assert faults(state.balances) == []
            assert plain(state) == self.steps[cut - 1]
