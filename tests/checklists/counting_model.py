"""What a careful storekeeper with a notebook would say of the small workboat job.

Written from the design, not from the code.
It knows the job's spaces, closures and lines by heart, keeps plain counts, and answers every "may this happen?" with
yes or no. The rules must come to the same answer, though they also say why.
"""

from __future__ import annotations

from datetime import datetime
from typing import NamedTuple

#: Every space, and where an item that is in it could get to.
REACH = {
    "port-1": {"port-1", "cylinder-1"},
    "port-2": {"port-2", "cylinder-2"},
    "cylinder-1": {"cylinder-1"},
    "cylinder-2": {"cylinder-2"},
    "jacket": {"jacket"},
}
#: Opening: (its space, the closure that seals it).
OPENINGS = {
    "outlet": ("jacket", "crossover"),
    "inlet-1": ("port-1", "manifold"),
    "inlet-2": ("port-2", "manifold"),
    "nozzle-hole": ("cylinder-1", "nozzle"),
}
SPACES_OF = {
    "crossover": {"jacket"},
    "manifold": {"port-1", "port-2", "cylinder-1", "cylinder-2"},
    "nozzle": {"cylinder-1"},
}
BENEATH = {"crossover": ["manifold"], "manifold": [], "nozzle": []}
FASTENERS = {"crossover": ["crossover.bolt"], "manifold": ["manifold.bolt"], "nozzle": ["nozzle.nut"]}
PARTS = {"crossover": [], "manifold": ["manifold.gasket"], "nozzle": []}
OPENING_COUNT = {
    ("crossover.bolt", "fitted/crossover"): 2,
    ("manifold.bolt", "fitted/manifold"): 10,
    ("manifold.gasket", "fitted/manifold"): 1,
    ("nozzle.nut", "fitted/nozzle"): 2,
    ("cap", "stores"): 3,
    ("rag", "stores"): 4,
    ("wrench", "stores"): 1,
    ("glasses", "stores"): 1,
    ("pack", "stores"): 1,
}
IN_PLACE = {"fitted", "loosened", "set down", "signed", "recalled"}
PAUSE = 600

Movement = tuple[str, int, str, str]


class When(NamedTuple):
    """The number of an entry, its time and who made it."""

    n: int
    at: str
    who: str


class Lost(NamedTuple):
    """So many of a line that nobody can find; last known to be somewhere at entry `seen`, in these spaces if any."""

    line: str
    quantity: int
    seen: int
    short: bool
    lay: frozenset[str] = frozenset()


class Notebook:
    """Counts, stages and what was seen, with plain rules."""

    def __init__(self, people: list[str]) -> None:
        self.people = list(people)
        self.at = dict(OPENING_COUNT)
        self.total = {line: count for (line, _), count in OPENING_COUNT.items()}
        self.belong = {line: c for (line, place), c in OPENING_COUNT.items() if place.startswith("fitted/")}
        self.seen = dict.fromkeys(OPENING_COUNT, 1)
        self.stage = dict.fromkeys(SPACES_OF, "fitted")
        self.photos: set[str] = set()
        self.as_found = False
        self.named: dict[str, str] = {}
        self.cleared = dict.fromkeys(SPACES_OF, False)
        self.off_once: set[str] = set()
        self.opening = dict.fromkeys(OPENINGS, "sealed")
        self.protected = dict.fromkeys(OPENINGS, 0)
        self.lost: list[Lost] = []
        self.touched: dict[str, When] = {}
        self.moved: dict[str, When] = {}
        self.looked: dict[str, tuple[int, bool]] = {}
        self.counted_again: dict[str, tuple[int, bool]] = {}
        self.differs: dict[tuple[str, str], int] = {}
        self.finds: dict[str, str] = {}
        self.signed: dict[str, int] = {}
        self.turned = 0

    # --- what may happen

    def holds(self, line: str, place: str) -> int:
        return self.at.get((line, place), 0)

    def may_move(self, movements: list[Movement]) -> bool:
        """Nothing below zero on the way, and room for all of it where it goes."""
        if not movements:
            return False
        trial = dict(self.at)
        for line, quantity, source, target in movements:
            if quantity < 1 or source == target:
                return False
            if source != "origin" and trial.get((line, source), 0) < quantity:
                return False
            trial[line, source] = trial.get((line, source), 0) - quantity
            trial[line, target] = trial.get((line, target), 0) + quantity
        return all(self._room(line, target, movements) for line, _, _, target in movements)

    def _room(self, line: str, place: str, movements: list[Movement]) -> bool:
        family, _, name = place.partition("/")
        if family == "engine" and name:
            return name in self.open_to_the_world()
        if family != "fitted":
            return True
        if line not in FASTENERS[name] + PARTS[name] or self.stage[name] not in IN_PLACE:
            return False
        if self.stage[name] == "set down" and not self.cleared[name]:
            return False
        arriving = sum(q for ln, q, _, target in movements if (ln, target) == (line, place))
        return self.holds(line, place) + arriving <= self.belong[line]

    def open_to_the_world(self) -> set[str]:
        """Spaces behind every opening that its closure does not seal now, covered or not."""
        return set().union(*(REACH[OPENINGS[o][0]] for o, state in self.opening.items() if state != "sealed"))

    def may_name(self, photo: str, find: bool = False) -> bool:
        """Whether this photo shows something new: it is kept, and unused but for a look that has shown a find."""
        used = self.named.get(photo, "")
        return photo in self.photos and (not used or (find and used == "look, not clear"))

    def name(self, photo: str, act: str) -> None:
        """An act names a photo."""
        self.named[photo] = act

    def may_lift(self, closure: str) -> bool:
        if self.stage[closure] not in IN_PLACE or not self.as_found:
            return False
        if any(self.holds(line, f"fitted/{closure}") for line in FASTENERS[closure]):
            return False
        if any(closure in BENEATH[above] and self.stage[above] in IN_PLACE for above in BENEATH):
            return False
        return not any(count for (_, place), count in self.at.items() if place in ("engine", f"on/{closure}"))

    def could_hold(self, item: Lost) -> set[str]:
        if item.short:
            return set(REACH)
        since = max(item.seen, 1)
        ways = [o for o in OPENINGS if self.opening[o] == "uncovered" or self.protected[o] >= since]
        return set().union(*(REACH[OPENINGS[o][0]] for o in ways), *(REACH[space] for space in item.lay))

    def lies_in(self, place: str) -> frozenset[str]:
        """The spaces in which something lies that lies at this place."""
        family, _, name = place.partition("/")
        if family == "engine":
            return frozenset({name} if name else self.open_to_the_world())
        if family == "cover":
            return frozenset({OPENINGS[name][0]})
        return frozenset(SPACES_OF[name] if family == "on" and self.stage[name] not in IN_PLACE else ())

    def something_inside(self, closure: str) -> bool:
        spaces = SPACES_OF[closure]
        for (_, place), count in self.at.items():
            family, _, name = place.partition("/")
            if not count:
                continue
            if place == "engine" and self.open_to_the_world() & spaces:
                return True
            if family == "engine" and name in spaces:
                return True
            if family == "cover" and OPENINGS[name][0] in spaces:
                return True
            if place == f"on/{closure}":
                return True
        return False

    def something_open(self, closure: str) -> bool:
        """Something missing that could be in there, a find not settled, a differing count, a closure beneath open."""
        spaces = SPACES_OF[closure]
        return (
            any(self.could_hold(item) & spaces for item in self.lost)
            or any(not where or where in spaces for where in self.finds.values())
            or bool(self.differs)
            or any(self.stage[below] not in ("fitted", "signed") for below in BENEATH[closure])
        )

    def fresh_look(self, opening: str) -> bool:
        n, clear = self.looked.get(opening, (0, False))
        return clear and all(self.touched[s].n <= n for s in REACH[OPENINGS[opening][0]] if s in self.touched)

    def last_work(self, closure: str) -> When | None:
        """What a second count must come after: work there, and what lies off from other closures."""
        nowhere = ("missing", "converted", "new stock", "origin")
        off = {
            line
            for (line, place), number in self.at.items()
            if number > 0 and line in self.belong and not place.startswith("fitted/") and place not in nowhere
        }
        return max(self.work(closure) + [self.moved[line] for line in off if line in self.moved], default=None)

    def work(self, closure: str) -> list[When]:
        own = FASTENERS[closure] + PARTS[closure]
        loose = [line for line in self.moved if line not in self.belong]
        marks = [self.moved[line] for line in own + loose if line in self.moved]
        return marks + [self.touched[space] for space in SPACES_OF[closure] if space in self.touched]

    def fresh_second_count(self, closure: str) -> bool:
        n, agreed = self.counted_again.get(closure, (0, False))
        work = self.last_work(closure)
        return agreed and (work is None or work.n < n)

    def may_count_again(self, closure: str, at: str, who: str) -> bool:
        if self.stage[closure] not in ("lifted", "cleared"):
            return False
        last = self.last_work(closure)
        if len(self.people) == 1:
            now, then = datetime.fromisoformat(at), datetime.fromisoformat(last.at) if last else None
            return then is None or (now - then).total_seconds() >= PAUSE
        work = max(self.work(closure), default=None)
        if work is None:
            return True
        share = {name: sum(when.who == name for when in self.work(closure)) for name in self.people}
        if len(set(share.values())) == 1:
            return who != work.who
        return share[who] == min(share.values())

    def all_is_back(self, closure: str) -> bool:
        """Whether this closure may be cleared to refit."""
        return (
            self.stage[closure] == "lifted"
            and not self.something_inside(closure)
            and not self.something_open(closure)
            and all(self.fresh_look(o) for o, (_, over) in OPENINGS.items() if over == closure)
            and (closure != "manifold" or self.fresh_second_count(closure))
        )

    def may_sign(self, closure: str) -> bool:
        if self.stage[closure] not in ("set down", "loosened", "recalled") or self.something_open(closure):
            return False
        inside = any(count and p in {f"engine/{s}" for s in SPACES_OF[closure]} for (_, p), count in self.at.items())
        if inside and self.stage[closure] != "loosened":
            return False
        off = self.stage[closure] == "set down" or (self.stage[closure] == "recalled" and closure in self.off_once)
        return self.all_home(closure) and (not off or self.cleared[closure])

    def all_home(self, closure: str) -> bool:
        lines = FASTENERS[closure] + PARTS[closure]
        return all(self.holds(line, f"fitted/{closure}") >= self.belong[line] for line in lines)

    def may_turn(self) -> bool:
        return not self.lost and all(stage in ("fitted", "signed") for stage in self.stage.values())

    def may_close(self) -> bool:
        away = [p for (_, p), count in self.at.items() if count and p.split("/")[0] in AWAY]
        turned = not self.off_once or (self.turned and all(n < self.turned for n in self.signed.values()))
        return bool(self.may_turn() and not away and not self.lost and not self.finds and not self.differs and turned)

    # --- what happened

    def move(self, movements: list[Movement], when: When, *, seen: bool = True) -> None:
        """Whoever moves all that is at a place has `seen` it there; what is only written down was not."""
        for line, quantity, source, target in movements:
            self._post(line, source, -quantity)
            self._post(line, target, quantity)
        for line, quantity, source, target in movements:
            if seen and self.holds(line, target) == quantity:
                self.seen[line, target] = when.n
            if not target.startswith("fitted/"):
                self.moved[line] = when
            for place in (source, target):
                self._stir(place, when)
                if self.differs.get((line, place)) == self.holds(line, place):
                    del self.differs[line, place]

    def tear(self, movements: list[Movement], when: When) -> None:
        """What it became was last seen when it was."""
        (line, _, place, _), (piece, quantity, _, _) = movements
        whole = self.seen.get((line, place), 0)
        self.move(movements, when, seen=False)
        self.not_seen_since(piece, quantity, place, whole)

    def not_seen_since(self, line: str, quantity: int, place: str, n: int) -> None:
        """What came here was last seen at entry `n`; what lay here already, when it was."""
        there = self.holds(line, place) > quantity
        self.seen[line, place] = min(n, self.seen.get((line, place), 0)) if there else n

    def _post(self, line: str, place: str, quantity: int) -> None:
        if place == "origin":
            self.total[line] = self.total.get(line, 0) - quantity
            return
        self.at[line, place] = self.holds(line, place) + quantity
        assert self.at[line, place] >= 0, "the notebook itself went below zero"

    def _stir(self, place: str, when: When) -> None:
        family, _, name = place.partition("/")
        if family == "engine":
            self.touch(REACH[name] if name else self.open_to_the_world(), when)
        elif family == "cover":
            self.touch(REACH[OPENINGS[name][0]], when)
            if not any(count for (_, p), count in self.at.items() if p == place):
                self.opening[name] = "uncovered" if self.opening[name] == "covered" else self.opening[name]
        elif family == "on" and self.stage[name] not in IN_PLACE:
            self.touch(SPACES_OF[name], when)
        elif family == "fitted":
            self._fasteners(name)

    def _fasteners(self, closure: str) -> None:
        stage = self.stage[closure]
        if stage in ("fitted", "signed", "recalled") and not self.all_home(closure):
            self.stage[closure] = "loosened"
            self.cleared[closure] = self.cleared[closure] and stage != "recalled"
            self.signed.pop(closure, None)
            for above in BENEATH:
                if closure in BENEATH[above] and self.stage[above] == "cleared":
                    self.withdraw(above)
        elif stage == "loosened" and self.all_home(closure):
            self.stage[closure] = "set down" if closure in self.off_once else "fitted"

    def touch(self, spaces: set[str], when: When) -> None:
        for space in spaces:
            self.touched[space] = when
        for closure in SPACES_OF:
            if self.stage[closure] == "cleared" and spaces & SPACES_OF[closure]:
                self.withdraw(closure)

    def withdraw(self, closure: str) -> None:
        self.cleared[closure] = False
        if self.stage[closure] == "cleared":
            self.stage[closure] = "lifted"

    def doubt(self, spaces: set[str]) -> None:
        for closure in SPACES_OF:
            if not spaces & SPACES_OF[closure]:
                continue
            if self.stage[closure] == "signed":
                self.stage[closure] = "recalled"
                self.signed.pop(closure)
            else:
                self.withdraw(closure)

    def seen_inside(self, space: str) -> None:
        """Something was found in a space that had been looked into before its closure went back: that comes off."""
        for closure, stage in self.stage.items():
            if stage == "signed" and space in SPACES_OF[closure]:
                self.cleared[closure] = False

    def lose(self, movement: Movement, when: When, *, just_now: bool = False, short: bool = False) -> None:
        line, quantity, source, target = movement
        seen, lay = when.n if just_now else self.seen.get((line, source), 0), self.lies_in(source)
        if target.startswith("engine/"):
            self.doubt(REACH[target.partition("/")[2]])
        self.move([movement], when)
        if target == "missing":
            item = Lost(line, quantity, seen, short, lay)
            self.lost.append(item)
            self.doubt(self.could_hold(item))
            self.touch(self.could_hold(item), when)

    def find(self, movement: Movement, when: When) -> None:
        line, left, _, target = movement
        self.move([movement], when, seen=False)
        last = when.n
        alike = sorted((item for item in self.lost if item.line == line), key=lambda item: (item.short, -item.seen))
        kept = [item for item in self.lost if item.line != line]
        for item in alike:
            self.touch(self.could_hold(item), when)
            found = min(left, item.quantity)
            left -= found
            last = min(last, item.seen) if found else last
            if item.quantity > found:
                kept.append(item._replace(quantity=item.quantity - found))
        self.lost = kept
        self.not_seen_since(line, movement[1], target, last)

    def saw(self, line: str, place: str, number: int, when: When) -> bool:
        if number == self.holds(line, place):
            self.differs.pop((line, place), None)
            self.seen[line, place] = when.n
            return True
        self.differs[line, place] = number
        for closure, stage in self.stage.items():
            if stage == "cleared":
                self.withdraw(closure)
        return False

    def lift(self, closure: str, when: When) -> None:
        self.stage[closure], self.cleared[closure] = "lifted", False
        self.signed.pop(closure, None)
        self.off_once.add(closure)
        self.touch(SPACES_OF[closure], when)
        for opening, (_, over) in OPENINGS.items():
            if over == closure:
                self.opening[opening] = "uncovered"

    def set_down(self, closure: str, when: When) -> None:
        self.stage[closure] = "set down"
        for opening, (_, over) in OPENINGS.items():
            if over == closure:
                self.protect(opening, "sealed", when)

    def protect(self, opening: str, state: str, when: When) -> None:
        if self.opening[opening] == "uncovered":
            self.protected[opening] = when.n
        self.opening[opening] = state


AWAY = {"tray", "bench", "engine", "on", "cover"}
