"""The board of a teardown: how everything stands, and the one next act as the largest key."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import Any

from kivy.clock import Clock
from kivy.metrics import mm
from kivy.uix.boxlayout import BoxLayout

from checklists import places
from checklists.exposure import COVERED, UNCOVERED
from checklists.next_act import Act, next_act
from checklists.state import CLOSED, Teardown
from mobileapp.screens.act_look import look_of
from mobileapp.screens.base import BaseScreen
from mobileapp.screens.closure_card import ClosureCard
from mobileapp.screens.stamps import when
from mobileapp.widgets.plate import QuietButton
from mobileapp.widgets.text import Body, Small

NOT_PROOF = "A correct count is not proof of an empty engine: looking inside is a check of its own."


class BoardScreen(BaseScreen):
    """Everything leads from here. `closure` brings that one into sight."""

    every_second = True

    def build(self, closure: str = "", **args: Any) -> None:
        """Ending if it has ended, closures, then the ways to everything else."""
        t = self.desk.state
        self.title = t.machine
        self.cards: dict[str, ClosureCard] = {}
        self.offered: Act | None = None
        self.why: QuietButton | None = None
        self.drop_shown = not t.ended
        if t.ended:
            self._add_ending(t)
        self._add_closures(t)
        self._in_sight = closure
        # What lies below the first screenful comes a frame later: the board itself is there sooner.
        _after_a_frame(lambda: self._add_ways(t))

    def _add_ending(self, t: Teardown) -> None:
        from mobileapp.screens.ending import Ending

        word = "CLOSED" if t.ended == CLOSED else "RELEASED, NOT CLEAR"
        at = f"{when(t.end.at, self.desk.clock())}, {t.end.who}"
        self.add_widget(Ending(word=word, at=at, closed=t.ended == CLOSED, remark=NOT_PROOF))

    def _add_closures(self, t: Teardown) -> None:
        now = self.desk.clock()
        for closure in t.closures:
            card = ClosureCard(t, closure, now)
            card.bind(on_tap=lambda card: self.desk.go("closure", closure=card.closure))
            self.cards[closure] = card
        none_yet = Body(text="No closures yet. Add the first one before its first bolt comes off.")
        first, *rest = list(self.cards.values()) or [none_yet]
        held = f"{t.sheet.name}\n{self.desk.who} holds the phone" if not t.ended else t.sheet.name
        self.add_widget(_close_together(Small(text=held), first))
        for card in rest:
            self.add_widget(card)

    def _add_ways(self, t: Teardown) -> None:
        if not t.ended:
            self.why = QuietButton(text="Why can it not be closed?", shape="refused")
            self.why.bind(on_tap=lambda _: self.desk.go("refusal", about="close"))
            self.add_widget(self.why)
        self._add_keys(ways(t))
        _after_a_frame(lambda: self._add_papers(t))

    def _add_papers(self, t: Teardown) -> None:
        from mobileapp.unclaimed import look_for

        self._add_keys(papers(t))
        look_for(self.desk, self._offer_unclaimed)

    def _offer_unclaimed(self, paths: list[Path]) -> None:
        if paths and self.parent is not None:
            from mobileapp.screens.unclaimed_key import unclaimed_key

            # Above the ways, where it is seen; of a teardown that has ended, at its end.
            above = self.body.children.index(self.why) + 1 if self.why else 0
            self.add_widget(unclaimed_key(self.desk, len(paths)), index=above)

    def _add_keys(self, ways: list[tuple[str, str, str, str]]) -> None:
        from mobileapp.screens.key_grid import Key, KeyGrid  # not needed to draw the first screenful

        self.add_widget(KeyGrid([Key(text, note, shape, partial(self.desk.go, name))
                                 for text, note, shape, name in ways]))

    def refresh(self) -> None:
        """The running tally and the next act."""
        super().refresh()
        self._offer()
        closure = self._in_sight or self._closure_at_work()
        if closure in list(self.cards)[1:]:
            _after_a_frame(lambda: _after_a_frame(lambda: self._bring_into_sight(closure)))

    def _closure_at_work(self) -> str:
        act = self.offered
        if act is None or act.closure or not act.opening:
            return act.closure if act else ""
        return self.desk.state.openings[act.opening].closure

    def _bring_into_sight(self, closure: str) -> None:
        beyond = self.body.height - self.scroll.height
        if self.parent is not None and beyond > 0:
            above = self.body.top - self.cards[closure].top
            self.scroll.scroll_y = max(0.0, 1 - above / beyond)

    def _offer(self) -> None:
        now = self.desk.clock()
        self.offered = act = next_act(self.desk.state, now)
        self.act_text, self.act_note, self.act_shape, self.act_tone, self.act_ready = look_of(
            act, self.desk.state, now)

    def tick(self) -> None:
        """The clocks of uncovered openings, and the time to wait."""
        now = self.desk.clock()
        for card in self.cards.values():
            card.tick(self.desk.state, now)
        if self.offered is not None and self.offered.do == "wait":
            self._offer()

    def on_act(self) -> None:
        """To the screen where the next act is done."""
        from mobileapp.screens.lead import way_to_act

        act = self.offered
        if act is None or act.do == "ended":
            return
        name, args = ("people", {}) if act.do == "wait" and not act.until else way_to_act(act, self.desk.state)
        self.desk.go(name, **args)

    def on_back(self) -> None:
        """From the board of a teardown the way back puts it down."""
        if len(self.desk.trail) > 2:
            self.desk.back()
        else:
            self.desk.to_teardowns()


def _after_a_frame(act: Callable[[], None]) -> None:
    """Do it once the frame that is due now has been drawn: what is merely scheduled still comes before it."""
    Clock.schedule_once(lambda _: Clock.schedule_once(lambda _: act()))


def _close_together(*parts: Any) -> BoxLayout:
    pile = BoxLayout(orientation="vertical", size_hint_y=None, spacing=mm(1.5))
    pile.bind(minimum_height=pile.setter("height"))
    for part in parts:
        pile.add_widget(part)
    return pile


def ways(t: Teardown) -> list[tuple[str, str, str, str]]:
    """The ways from the board: word, how it stands there in figures, shape, screen."""
    states = [state.state for state in t.opening_states.values()]
    open_finds = sum(not find.removed for find in t.finds.values())
    lost = sum(item.quantity for item in t.missing)
    drops = sum(d.ended is None for d in t.drops)
    return [
        ("Openings", f"{states.count(UNCOVERED)} uncovered, {states.count(COVERED)} covered", "uncovered", "openings"),
        ("Items", f"{_items_in_use(t)} in use", "out", "items"),
        ("Missing", f"{lost} missing, {drops} {'drop' if drops == 1 else 'drops'} open", "missing", "missing"),
        ("Finds", f"{open_finds} of {len(t.finds)} open" if t.finds else "none logged", "look", "find"),
        *([] if t.ended else [("Add to sheet", "", "more", "grow")]),
        ("People", f"{len(t.people)} on the job", "chosen", "people"),
        ("Workshop", "torque, limits, order", "set down", "workshop"),
    ]


def papers(t: Teardown) -> list[tuple[str, str, str, str]]:
    """The ways to what makes the teardown provable, as `ways` gives them."""
    from mobileapp.screens import baseline  # not needed to draw the board

    given = f"offered to {t.offered[0].to}" if t.offered else "relief count, signature"
    before = [("Baseline photos", baseline.how_many_taken(t), "look", "baseline")] if baseline.offered(t) else []
    at_work = [*before, ("Hand over", given, "go", "handover"), ("Leave the machine", "covers on", "leave", "leaving")]
    return [
        *([] if t.ended else at_work),
        ("Photos", f"{len(t.photos)} kept", "look", "photo_view"),
        ("Closing sheet", "as a PDF", "signed", "closing_sheet"),
        ("Packs", "to another phone", "go", "packs"),
    ]


def _items_in_use(t: Teardown) -> int:
    """Rags, covers, tools and personal items that are out or in the engine."""
    away = places.OUT_FAMILIES | places.ENGINE_FAMILIES
    return sum(quantity for (line, place), quantity in t.balances.items()
               if places.family(place) in away and places.family(t.lines[line].home) != "fitted")
