"""Random counting, losing and finding on the small workboat job."""

from __future__ import annotations

from counting_model import FASTENERS, PARTS, Movement, When
from hypothesis import strategies as st
from hypothesis.stateful import rule
from story_ground_model import (
    NEW,
    NOT_AT_HAND,
    OPEN,
    PIECE,
    PLACES,
    SPACES,
    Ground,
    closures,
    few,
    lines,
    people,
    photos,
)
from workboat_model import INES

from checklists import builders
from checklists.facts import (
    Counted,
    Fact,
    Move,
)

#: Tried where nothing is left anywhere: it is not there either.
NOWHERE = [("rag", "stores")]


class Counts(Ground):
    """Items go anywhere, at any time, by anybody."""

    def moved(self, fact: Fact, movements: list[Movement], who: str = INES) -> None:
        entry = self.attempt(fact, self.book.may_move(movements), lambda when: self.book.move(movements, when), who)
        if entry:
            self.undoable.append((entry, movements))

    def count(self, line: str, quantity: int, source: str, target: str, who: str = INES) -> None:
        if line in self.t.lines:
            self.moved(builders.move(line, quantity, source, target), [(line, quantity, source, target)], who)

    @rule(line=lines, quantity=few, source=st.sampled_from(PLACES), to=st.sampled_from(PLACES), who=people)
    def count_anything_anywhere(self, line: str, quantity: int, source: str, to: str, who: str) -> None:
        self.count(line, quantity, source, to, who)

    @rule(data=st.data(), to=st.sampled_from(PLACES), who=people)
    def count_something(self, data: st.DataObject, to: str, who: str) -> None:
        line, place = self.somewhere(data)
        self.count(line, data.draw(st.integers(1, self.book.holds(line, place) + 1)), place, to, who)

    def somewhere(self, data: st.DataObject) -> tuple[str, str]:
        held = [key for key, n in self.book.at.items() if n and key[1] in PLACES]
        return data.draw(st.sampled_from(sorted(held) or NOWHERE))

    @rule(line=lines, first=few, second=few, to=st.sampled_from(PLACES))
    def count_twice_at_once(self, line: str, first: int, second: int, to: str) -> None:
        if line in self.t.lines:
            movements = [(line, first, "tray", to), (line, second, "tray", to)]
            self.moved(Counted(tuple(Move(*one) for one in movements)), movements)

    @rule(line=lines, quantity=few, place=st.sampled_from(["tray", "bench", "stores", "fitted/manifold"]))
    def add(self, line: str, quantity: int, place: str) -> None:
        if line not in self.t.lines:
            return
        closure = place.partition("/")[2]
        may = not closure or (line in FASTENERS[closure] + PARTS[closure] and closure not in self.book.off_once)
        movements = [(line, quantity, "origin", place)]

        def then(when: When) -> None:
            if closure:
                self.book.belong[line] += quantity
            self.book.move(movements, when, seen=False)

        if entry := self.attempt(builders.add(line, quantity, place, "more"), may, then):
            self.undoable.append((entry, movements))

    @rule(data=st.data(), anywhere=st.sampled_from([*OPEN, "fitted/manifold", "missing"]))
    def tear_a_rag(self, data: st.DataObject, anywhere: str) -> None:
        held = sorted(p for (line, p), n in self.book.at.items() if line == "rag" and n and p not in NOT_AT_HAND)
        place = data.draw(st.sampled_from([*held, anywhere]))
        fact = builders.convert("rag", 1, place, [(PIECE, 2)], "torn")
        movements = [("rag", 1, place, "converted"), ("rag-piece", 2, "origin", place)]
        may = place not in NOT_AT_HAND and self.book.may_move(movements)
        if entry := self.attempt(fact, may, lambda when: self.book.tear(movements, when)):
            self.undoable.append((entry, movements))

    @rule(line=lines, place=st.sampled_from(["tray", "bench", "stores"]))
    def renew(self, line: str, place: str) -> None:
        if line in self.t.lines:
            movements = [(line, 1, place, "scrap"), (line, 1, "origin", "new stock"), (line, 1, "new stock", place)]
            self.moved(builders.renew(line, 1, place, "worn"), movements)

    @rule(data=st.data())
    def undo(self, data: st.DataObject) -> None:
        if not self.undoable:
            return
        entry, made = self.undoable[-1 - data.draw(st.integers(0, min(4, len(self.undoable) - 1)))]
        back = [(line, quantity, target, source) for line, quantity, source, target in reversed(made)]

        def then(when: When) -> None:
            self.undone.add(entry.seq)
            for line, quantity, source, target in back:
                if target == "origin" and source.startswith("fitted/"):
                    self.book.belong[line] -= quantity
            self.book.move(back, when, seen=False)

        may = entry.seq not in self.undone and self.book.may_move(back)
        self.attempt(builders.undo(entry, "by mistake"), may, then)

    # --- losing and finding

    @rule(data=st.data(), into=st.sampled_from(["", *SPACES]), who=people, earlier=st.booleans())
    def drop(self, data: st.DataObject, into: str, who: str, earlier: bool) -> None:
        line, place = self.somewhere(data)
        movement = (line, 1, place, f"engine/{into}" if into else "missing")
        fact = builders.drop(self.t, line, 1, "here", place, into, earlier)
        may = self.book.may_move([movement])
        self.attempt(fact, may, lambda when: self.book.lose(movement, when, just_now=not earlier), who)

    @rule(data=st.data(), who=people)
    def miss(self, data: st.DataObject, who: str) -> None:
        held = sorted(key for key, n in self.book.at.items() if n and key[1] not in ("missing", "converted"))
        line, place = data.draw(st.sampled_from(held or NOWHERE))
        quantity = data.draw(st.integers(1, self.book.holds(line, place) + 1))
        movement = (line, quantity, place, "missing")
        fact = builders.miss(self.t, line, quantity, place)
        self.attempt(fact, self.book.may_move([movement]), lambda when: self.book.lose(movement, when), who)

    @rule(closure=closures, how=photos)
    def short_at_the_start(self, closure: str, how: str = NEW) -> None:
        line = FASTENERS[closure][0]
        movement = (line, 1, f"fitted/{closure}", "missing")
        may = closure not in self.book.off_once and self.book.may_move([movement])
        photo = self.photo(how)

        def then(when: When) -> None:
            self.book.lose(movement, when, short=True)
            self.book.name(photo, "short")

        may = may and self.book.may_name(photo)
        self.attempt(builders.short_at_start(self.t, line, 1, photo), may, then)

    @rule(line=lines, quantity=few, to=st.sampled_from(["tray", "bench", "stores", "scrap", "engine/port-1"]))
    def find_again(self, line: str, quantity: int, to: str) -> None:
        if line in self.t.lines:
            movement = (line, quantity, "missing", to)
            fact = builders.find_again(self.t, line, quantity, "somewhere", to)
            self.attempt(fact, self.book.may_move([movement]), lambda when: self.book.find(movement, when))

    @rule(data=st.data(), more=st.sampled_from([0, 0, -1, 1]))
    def check(self, data: st.DataObject, more: int) -> None:
        line, place = self.somewhere(data)
        number = self.book.holds(line, place) + more
        fact = builders.check(line, place, number)
        self.attempt(fact, True, lambda when: self.book.saw(line, place, number, when))
