"""Random acts on the openings, finds and closures of the small workboat job, and on its people and its clock."""

from __future__ import annotations

from counting_model import OPENINGS, REACH, When
from hypothesis import event
from hypothesis import strategies as st
from hypothesis.stateful import rule
from story_counts_model import Counts
from story_ground_model import NEW, SPACES, closures, openings, people, photos
from workboat_model import DECKHAND, HEAD, TOMAS

from checklists import builders, second_count
from checklists.blind_walk import stops, walked
from checklists.facts import (
    FindLogged,
    FindRemoved,
    HandTurned,
    Joined,
    Left,
    Lifted,
    Looked,
    Refitted,
    SecondCounted,
    Seen,
    WorkDone,
)
from checklists.times import seconds_after


class Closures(Counts):
    """Single acts, tried in any order."""

    @rule(data=st.data(), anything=openings, line=st.sampled_from(["cap", "cap", "rag", "rag-piece", "wrench"]))
    def cover(self, data: st.DataObject, anything: str, line: str) -> None:
        bare = [opening for opening, state in sorted(self.book.opening.items()) if state == "uncovered"]
        opening = data.draw(st.sampled_from([*bare, anything]))
        movement = (line, 1, "stores", f"cover/{opening}")
        may = self.book.opening[opening] == "uncovered" and line != "wrench" and self.book.may_move([movement])

        def then(when: When) -> None:
            self.book.move([movement], when)
            self.book.protect(opening, "covered", when)

        self.attempt(builders.cover(self.t, opening, line), may, then)

    @rule(opening=openings)
    def uncover(self, opening: str) -> None:
        place = f"cover/{opening}"
        movements = [(line, n, place, "stores") for (line, p), n in self.book.at.items() if p == place and n]
        may = self.book.opening[opening] == "covered"
        self.attempt(builders.uncover(self.t, opening), may, lambda when: self.book.move(movements, when))

    @rule(opening=openings, clear=st.sampled_from([True, True, True, False]), how=photos)
    def look(self, opening: str, clear: bool, how: str = NEW) -> None:
        photo = self.photo(how)

        def then(when: When) -> None:
            self.book.looked[opening] = (when.n, clear)
            if not clear:
                self.book.touch(REACH[OPENINGS[opening][0]], when)
            self.book.name(photo, "look" if clear else "look, not clear")

        may = self.book.opening[opening] == "uncovered" and self.book.may_name(photo)
        self.attempt(Looked(opening, clear, "what there is", photo), may, then)

    @rule(where=st.sampled_from(["", *SPACES]), how=photos)
    def log_a_find(self, where: str, how: str = NEW) -> None:
        self.log_what_is_on(self.photo(how), where)

    @rule(where=st.sampled_from(["", *SPACES]))
    def log_what_a_look_has_shown(self, where: str) -> None:
        """With the photo of a look that was not clear, if there is one."""
        for photo in sorted(photo for photo, act in self.book.named.items() if act == "look, not clear")[:1]:
            self.log_what_is_on(photo, where)

    def log_what_is_on(self, photo: str, where: str) -> None:
        self.finds += 1
        name = f"find-{self.finds}"

        def then(when: When) -> None:
            self.book.finds[name] = where
            self.book.touch(REACH.get(where, set()), when)
            self.book.seen_inside(where)
            self.book.doubt(REACH.get(where, set()))
            self.book.name(photo, "find")

        may = self.book.may_name(photo, find=True)
        self.attempt(FindLogged(name, "old washer", where, photo), may, then)

    @rule(number=st.integers(1, 4), how=photos)
    def remove_a_find(self, number: int, how: str = NEW) -> None:
        name, photo = f"find-{number}", self.photo(how)
        fact = FindRemoved(name, "magnet", photo, "bag")
        where = self.book.finds.get(name, "")

        def then(when: When) -> None:
            self.book.finds.pop(name)
            self.book.touch(REACH.get(where, set()), when)
            self.book.name(photo, "find taken out")

        self.attempt(fact, name in self.book.finds and self.book.may_name(photo), then)

    # --- closures

    @rule()
    def photograph_the_machine(self) -> None:
        self.photo(moment="baseline")

    @rule(closure=closures, how=photos)
    def lift(self, closure: str, how: str = NEW) -> None:
        photo = self.photo(how)

        def then(when: When) -> None:
            self.book.lift(closure, when)
            self.book.name(photo, "lift check")

        may = self.book.may_lift(closure) and self.book.may_name(photo)
        self.attempt(Lifted(closure, photo), may, then)

    @rule(closure=closures, who=people, more=st.sampled_from([0, 0, 0, 1]))
    def count_again(self, closure: str, who: str, more: int) -> None:
        pairs = second_count.count_list(self.t, closure)
        entries = [Seen(line, place, self.book.holds(line, place)) for line, place in pairs]
        entries[0] = entries[0]._replace(quantity=entries[0].quantity + more)

        def then(when: When) -> None:
            agreed = [self.book.saw(*seen, when) for seen in entries]
            self.book.counted_again[closure] = (when.n, all(agreed))

        fact = SecondCounted(closure, len(self.book.people) == 1, tuple(entries), walked(stops(self.t)))
        self.attempt(fact, self.book.may_count_again(closure, self.now, who), then, who)

    @rule(closure=closures)
    def clear(self, closure: str) -> None:
        may = self.book.all_is_back(closure)
        event(f"clearance of the {closure} {'granted' if may else 'refused'}")

        def then(when: When) -> None:
            self.book.stage[closure], self.book.cleared[closure] = "cleared", True

        self.attempt(builders.clear_to_refit(self.t, closure, HEAD), may, then)

    @rule(closure=closures)
    def set_down(self, closure: str) -> None:
        may = self.book.stage[closure] == "cleared"
        self.attempt(Refitted(closure), may, lambda when: self.book.set_down(closure, when))

    @rule(closure=closures)
    def sign(self, closure: str) -> None:
        may = self.book.may_sign(closure)
        event(f"signature of the {closure} {'granted' if may else 'refused'}")

        def then(when: When) -> None:
            self.book.stage[closure] = "signed"
            self.book.signed[closure] = when.n

        self.attempt(builders.sign(self.t, closure, "24 N.m", HEAD), may, then)

    # --- people and time

    @rule()
    def the_deckhand_goes_or_comes(self) -> None:
        if TOMAS in self.book.people:
            self.attempt(Left(TOMAS), True, lambda when: self.book.people.remove(TOMAS))
        else:
            self.attempt(Joined(DECKHAND), True, lambda when: self.book.people.append(TOMAS))

    @rule()
    def the_work_is_done(self) -> None:
        self.attempt(WorkDone("seen it"), True, lambda when: None)

    @rule(minutes=st.sampled_from([1, 12, -30]))
    def wait(self, minutes: int) -> None:
        self.now = seconds_after(self.now, 60 * minutes)

    @rule()
    def turn_by_hand(self) -> None:
        self.attempt(HandTurned("free"), self.book.may_turn(), lambda when: setattr(self.book, "turned", when.n))
