"""Whereabouts: where a missing item could have gone, in which order to look, and where it cannot be and why."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from typing import Any, ClassVar

from checklists.lost_line import LostLine, causes, in_no_space, lost_lines, windows_of
from checklists.searches import ROUND_ABOUT, Passes, counting_for, passes_of, search_offer, second_of
from checklists.sheet import Space
from checklists.state import SHORT_AT_START, MissingItem, Teardown
from checklists.times import clock_face, seconds_between
from checklists.where_it_could_be import shape_of_line
from checklists.whereabouts.together import Window
from checklists.words import sentence
from mobileapp import look
from mobileapp.screens.aside import in_steps, work_aside
from mobileapp.screens.base import BaseScreen
from mobileapp.screens.form_parts import CHUNK, Choice, Choices, Stepper, key_row
from mobileapp.screens.stamps import when
from mobileapp.screens.whereabouts_view import (
    INSIDE_ALL_ALONG,
    ONE_ALL_ALONG,
    ONE_NOWHERE,
    Answer,
    answer,
    parts_of,
)
from mobileapp.screens.workshop_parts import NOTHING_RECORDED, OfferedField
from mobileapp.shelf import SheetFault, load_sheet, shipped_sheets
from mobileapp.widgets.plate import Plate, QuietButton
from mobileapp.widgets.text import Small, Words

ALONE = "alone"


class WhereaboutsScreen(BaseScreen):
    """`line` is missing from the teardown in hand, with all of it that was lost; `chosen` a rank in the answer.

    `alone` is an item typed for a shipped sheet.
    """

    every_second: ClassVar[bool] = True

    def build(
        self, line: str = "", form: str = "", alone: dict[str, Any] | None = None, chosen: int = 1, **_: Any
    ) -> None:
        """The answer; or which item it is about."""
        self.title = "Whereabouts"
        self.left, self.chosen, self.line, self.alone = False, chosen, "", alone
        self.next_place, self.until, self.spaces = "", "", list[str]()
        service = self.desk.service
        missing = lost_lines(service.state) if service else ()
        lost = next((each for each in missing if each.line == line), missing[0] if len(missing) == 1 else None)
        if alone is not None:
            self._show_alone(alone)
        elif service is None or form == ALONE:
            self._ask()
        elif lost is not None:
            self._show_missing(service.state, lost)
        else:
            self._list(service.state)

    def leave(self) -> None:
        """An answer that is still being worked out is not shown any more."""
        super().leave()
        self.left = True

    # --- which item

    def _list(self, t: Teardown) -> None:
        for lost in lost_lines(t):
            note = f"{causes(lost)}, since {when(lost.losses[0].mark.at, self.desk.clock())}"
            go = partial(self.desk.go, "whereabouts", line=lost.line)
            self.add_widget(key_row(t.say(lost.line, lost.quantity), go, note, "missing", "yellow"))
        if not t.missing:
            self.add_widget(Plate(tone="sky", shape="gate", text="Nothing is missing"))
        typed = partial(self.desk.go, "whereabouts", form=ALONE)
        self.add_widget(key_row("Another item, on a shipped sheet", typed, "nothing is recorded", "look"))

    def _ask(self) -> None:
        self.item = OfferedField(self.desk, "item", "What is missing", self._ready, hint="M8 nut, or ball 6 mm")
        sheets = [Choice(name, sentence(name.replace("-", " "))) for name in shipped_sheets()]
        self.sheet = Choices(self.desk, "sheet", "On which sheet", sheets, self.desk.again)
        self.add_widget(self.item)
        self.add_widget(self.sheet)
        self.act_text, self.act_shape = "Where could it be?", "missing"
        if self.sheet.value:
            self._ask_openings(self.sheet.value)
        self._ready()

    def _ask_openings(self, name: str) -> None:
        try:
            sheet = load_sheet(name)
        except SheetFault as fault:
            self.sheet.say_fault(str(fault))
            return
        key = f"open {name}"
        self.desk.draft.setdefault(key, [opening.id for opening in sheet.openings])
        rows = [Choice(opening.id, opening.name) for opening in sheet.openings]
        self.minutes = Stepper(self.desk, "minutes", "Minutes they stood uncovered", 1, 600, 10)
        self.openings = Choices(self.desk, key, "Which stood uncovered", rows, self._ready, several=True)
        self.add_widget(self.minutes)
        self.add_widget(self.openings)

    def _ready(self) -> None:
        chosen = bool(self.sheet.value)
        openings = bool(self.desk.draft.get(f"open {self.sheet.value}"))
        self.act_note = (
            "First: what is missing" if not self.item.text
            else "First: the sheet" if not chosen
            else "First: an opening" if not openings else ""
        )  # fmt: skip
        self.act_ready = not self.act_note

    def _begin_alone(self) -> None:
        from mobileapp.screens.item_typed import read_item
        from mobileapp.tables import fastener_tables

        shape = read_item(self.item.text, fastener_tables())
        if isinstance(shape, tuple):
            self.item.say_faults(shape)
            self.scroll.scroll_y = 1
            return
        body = {"kind": shape.kind, "mm": list(shape.mm)}
        openings = self.openings.values
        self.desk.go("whereabouts", alone={"item": self.item.text, "body": body, "sheet": self.sheet.value,
                                           "open": openings, "minutes": self.minutes.number})  # fmt: skip

    # --- the answer

    def _show_alone(self, alone: dict[str, Any]) -> None:
        from checklists.whereabouts.items import ItemShape

        body = ItemShape(str(alone["body"]["kind"]), tuple(alone["body"]["mm"]))
        exposed = {str(opening): 60.0 * int(alone["minutes"]) for opening in alone["open"]}
        name = str(alone["sheet"])
        sheet_name = sentence(name.replace("-", " "))
        self.add_widget(Plate(tone="yellow", shape="missing", text=str(alone["item"]), note=sheet_name))
        self._waiting()
        work_aside(lambda: answer(load_sheet(name), body, [Window(exposed)]), self._show)

    def _show_missing(self, t: Teardown, lost: LostLine) -> None:
        self.line = lost.line
        head = Plate(tone="yellow", shape="missing", text=t.say(lost.line, lost.quantity), note=self._lost_when(lost))
        head.text_size_sp = look.HEADING
        self.add_widget(head)
        if not t.ended:
            found = partial(self.desk.go, "missing", line=lost.line, form="found")
            self.add_widget(key_row("Found it", found, shape="back", tone="sky"))
        self.passes, self.counting = passes_of(t, lost.line), counting_for(t, lost.line)
        short = tuple(item for item in lost.losses if item.cause == SHORT_AT_START)
        if short == lost.losses:
            # What was short before anything was opened can be anywhere: every opening counts, and nothing is ruled out.
            self.add_widget(Words(text=INSIDE_ALL_ALONG))
            self._offer_search(list(t.spaces))
            in_steps([*(partial(self._add_space, space) for space in t.spaces.values()), self._add_rest])
            return
        nowhere = in_no_space(t, lost)
        for words, some in ((ONE_ALL_ALONG, short), (ONE_NOWHERE, nowhere if nowhere != lost.losses else ())):
            if some:
                self.add_widget(Words(text=words.format(_number(some))))
        sheet, body, windows = t.sheet, shape_of_line(t, lost.line), windows_of(t, lost)
        if body is None:
            self.add_widget(Small(text="Its shape is not known, so it might pass anything."))
        self._waiting()
        work_aside(lambda: answer(sheet, body, windows), self._show)

    def _lost_when(self, lost: LostLine) -> str:
        """Each loss, the oldest first: how, since when, and by whom it was logged."""
        now, several = self.desk.clock(), len(lost.losses) > 1
        return "\n".join(
            f"{f'{item.quantity} ' if several else ''}{item.cause}, since {when(item.mark.at, now)}, {item.mark.who}"
            for item in lost.losses
        )

    def _add_space(self, space: Space) -> None:
        if not self.left:
            words, shape = self._status(space.id)
            self.add_widget(key_row(space.name, partial(self._search, space.id), words, shape))

    def _rest_key(self) -> QuietButton:
        """To what else can be done about it, once the search is over."""
        rest = partial(self.desk.go, "missing", line=self.line)
        return key_row("All that is missing", rest, "the drop log; if it will not be found", "missing")

    def _add_rest(self) -> None:
        if not self.left:
            self.add_widget(self._rest_key())

    def _waiting(self) -> None:
        self.waiting = Small(text="Working it out…")
        self.add_widget(self.waiting)

    def _show(self, found: Answer) -> None:
        if self.left:
            return
        self.answer = found
        self.body.remove_widget(self.waiting)
        chosen = self.chosen
        if self.line:
            spaces = [candidate.space for candidate in found.found]
            self._offer_search([*spaces, *(each for each in (ROUND_ABOUT,) if each in self.counting)])
            chosen = spaces.index(self.next_place) + 1 if self.next_place in spaces[:CHUNK] else chosen
        parts = parts_of(found, self._status, self._tapped, chosen)
        if self.line:
            parts += [self._spot_key, self._rest_key]
        else:
            parts.append(partial(Small, text=NOTHING_RECORDED))
        # One at once: the map comes first, and is the dearest part of the answer.
        in_steps([lambda make=make: None if self.left else self.add_widget(make()) for make in parts], at_once=1)

    def _spot_key(self) -> QuietButton:
        """To a place that is no space of the sheet; where one can be in none of them, with what was searched so far."""
        if ROUND_ABOUT not in self.counting:
            return key_row("Search another spot", partial(self._search, ""), "say it in words", "look")
        words, shape = self._told(self.counting[ROUND_ABOUT], self.counting[ROUND_ABOUT])
        return key_row("Search round about", partial(self._search, ""), f"Say in words where. {words}", shape)

    def _status(self, space: str) -> tuple[str, str]:
        """What was searched there, in words, and the shape for it."""
        return self._told(self.passes.get(space, ()), self.counting.get(space, ())) if self.line else ("", "look")

    @staticmethod
    def _told(made: Passes, counting: Passes) -> tuple[str, str]:
        """Searches of a place, and of them those that count for whatever of the line was lost last."""
        if not made:
            return "Not searched yet.", "look"
        tried = [each.fact.method if each.fact.reached else f"not looked into, {each.fact.method}" for each in made]
        said = "; ".join(f"{how}, {each.mark.who}" for how, each in zip(tried, made, strict=True))
        if not counting:
            return f"Searched: {said}. Due again: another went missing since.", "look"
        done = second_of(counting) is not None
        return f"Searched: {said}{'' if done else '. Due a second time'}.", "gate" if done else "back"

    def _offer_search(self, spaces: list[str]) -> None:
        """The large key: the likeliest place that nobody searched; then one that is due a second time."""
        t = self.desk.state
        if t.ended:
            return
        offer = search_offer(t, self.counting, spaces, self.desk.who, self.desk.clock())
        self.next_place, self.until, self.spaces = offer.where, offer.until, spaces
        if not offer.where and not offer.second:
            return
        about = offer.where == ROUND_ABOUT
        self.act_text, self.act_shape = ("Search round about" if about else "Search there"), "look"
        self.act_tone = "yellow"
        self.act_ready = bool(offer.where)
        second = "second time: " if offer.second else ""
        self.act_note = (
            f"{second}{'bench, clothes, floor, bilge' if about else t.spaces[offer.where].name}" if offer.where
            else f"Alone: a second time from {clock_face(offer.until)}" if offer.until
            else f"A second time, by {' or '.join(offer.others) if len(offer.others) < 3 else 'another person'}"
        )  # fmt: skip

    def tick(self) -> None:
        """Alone, the second search is offered once the pause is over."""
        if self.until and seconds_between(self.until, self.desk.clock()) >= 0:
            self._offer_search(self.spaces)

    def _tapped(self, rank: int) -> None:
        if self.line and not self.desk.state.ended:
            self._search(self.answer.found[rank - 1].space)
        else:
            self.desk.instead("whereabouts", line=self.line, alone=self.alone, chosen=rank)

    def _search(self, where: str) -> None:
        self.desk.go("search", line=self.line, where=where)

    def on_act(self) -> None:
        """Search the next place; or work out where a typed item could be."""
        if self.line:
            if self.next_place:
                self._search("" if self.next_place == ROUND_ABOUT else self.next_place)
        elif self.alone is None and self.act_text and self.act_ready:
            self._begin_alone()


def _number(lost: Sequence[MissingItem]) -> int:
    return sum(item.quantity for item in lost)
