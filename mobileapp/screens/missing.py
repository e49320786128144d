"""What is missing: since when, by whom, where last, and every space it could be in. The drop log below."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import TYPE_CHECKING, Any

from checklists import builders, places
from checklists.state import Loss, MissingItem, Teardown
from checklists.times import clock_face, duration_words, seconds_between
from mobileapp import look
from mobileapp.screens.base import BaseScreen
from mobileapp.screens.form_parts import CHUNK, Choice, Choices, FormField, Stack, Stepper, key_row
from mobileapp.screens.lead_on import lead_on, short_words, what_next
from mobileapp.screens.stamps import when
from mobileapp.widgets.plate import Plate, QuietButton
from mobileapp.widgets.text import Body, Heading, Small, Words

if TYPE_CHECKING:
    from mobileapp.desk import Desk

FOUND, MISS = "found", "miss"
#: What `fold_losses` goes by, so that the rest is feared wherever any of them could be.
NARROWEST = "Which of several alike it was nobody knows: the one that could be in the fewest places counts as found."
RELEASE = "release, not clear: this is not a closure"


class MissingScreen(BaseScreen):
    """`line` puts that one first; `form` is the form for counting one found, or for saying that one is missing."""

    def build(self, line: str = "", form: str = "", source: str = "", shown: int = CHUNK, **_: Any) -> None:
        """The list, or one of the forms."""
        self.line, self.form, self.source = line, form, source
        if form == FOUND and self.desk.state.quantity(line, places.MISSING):
            self._found_form()
        elif form == MISS:
            self._miss_form(shown)
        else:
            self.form = ""
            self._list()

    # --- the list

    def _list(self) -> None:
        t = self.desk.state
        self.title = "Missing"
        items = sorted(t.missing, key=lambda item: item.line != self.line)
        self.first = items[0] if items and not t.ended else None
        for item in items:
            self.add_widget(self._item(t, item))
        if not items:
            self.add_widget(Plate(tone="sky", shape="gate", text="Nothing is missing"))
        if self.first is not None:
            self.act_text, self.act_shape, self.act_tone = "Found it", "back", "sky"
            self.act_note = t.say(self.first.line, self.first.quantity)
        elif not t.ended:
            self.following = what_next(self.desk)
            self.act_text = short_words(self.following)
        if not t.ended:
            self._offer_more(bool(items))
        self._drop_log(t)

    def _offer_more(self, missing: bool) -> None:
        say = partial(self.desk.go, "missing", form=MISS)
        self.add_widget(key_row("Say that something is missing", say, shape="missing"))
        if missing:
            search = partial(self.desk.go, "whereabouts", line=self.line)
            self.add_widget(key_row("Where could it be?", search, "the likeliest places first, each search", "look"))
            release = partial(self.desk.go, "sign_off", what="release")
            self.add_widget(key_row("It will not be found", release, RELEASE, "refused"))

    def _item(self, t: Teardown, item: MissingItem) -> Stack:
        """One missing item; the first of them is counted found by the large key, the others by one of their own."""
        since = f"{item.cause}, since {when(item.mark.at, self.desk.clock())}, {item.mark.who}"
        near = [f"Near: {item.near}."] if item.near else []
        said = [f"Last {t.say_place(item.source)}.", *near, where_it_could_be(t, item)]
        head = Plate(tone="yellow", shape="missing", note=since, text_size_sp=look.HEADING)
        head.text = t.say(item.line, item.quantity)
        found = [] if t.ended or item is self.first else [self._found_key(item)]
        return Stack(head, *[Words(text=words) for words in said], *found, gap_mm=2)

    def _found_key(self, item: MissingItem) -> QuietButton:
        return key_row("Found it", partial(self._found, item), shape="back", tone="sky")

    def _found(self, item: MissingItem) -> None:
        self.desk.go("missing", line=item.line, form=FOUND)

    def _drop_log(self, t: Teardown) -> None:
        self.add_widget(Heading(text="Drop log"))
        if not t.drops:
            self.add_widget(Body(text="No drop was logged."))
        now = self.desk.clock()
        for drop in reversed(t.drops):
            self.add_widget(_drop_row(t, drop, now))

    # --- found

    def _found_form(self) -> None:
        t = self.desk.state
        self.title = f"Found: {t.lines[self.line].name}"
        self.where = FormField(
            self.desk, "where", "Where it was found", self._ready, hint="behind the starter"
        )
        self.add_widget(self.where)
        most = t.quantity(self.line, places.MISSING)
        self.to, self.number = where_found_goes(self.desk, self.line, most, self._ready)
        self.add_widget(self.to)
        if most > 1:
            self.add_widget(self.number)
        if len([item for item in t.missing if item.line == self.line]) > 1:
            self.add_widget(Small(text=NARROWEST))
        self._ready()

    # --- missing

    def _miss_form(self, shown: int) -> None:
        t = self.desk.state
        if self.line in t.lines and t.quantity(self.line, self.source):
            self.title = f"Missing: {t.lines[self.line].name}"
            self.note = FormField(
                self.desk, "note", "What you noticed (may be left empty)", hint="tray was knocked over"
            )
            self._ask_number(
                t.quantity(self.line, self.source), f"How many are not {t.say_place(self.source)}"
            )
            self.add_widget(self.note)
            self._ready()
            return
        from mobileapp.screens.drop import what_could_fall

        self.title = "What is missing?"
        rows = what_could_fall(t)
        for line, source, quantity in rows[:shown]:
            self.add_widget(
                key_row(
                    t.lines[line].name,
                    partial(self.desk.go, "missing", form=MISS, line=line, source=source),
                    f"should be {t.say_place(source)}: {quantity}",
                    "missing",
                )
            )
        if len(rows) > shown:
            more = partial(self.desk.instead, "missing", form=MISS, shown=shown + CHUNK)
            self.add_widget(key_row(f"{len(rows) - shown} more", more))

    def _ask_number(self, most: int, label: str) -> None:
        self.number = Stepper(self.desk, "quantity", label, most=most, changed=self._ready)
        if most > 1:
            self.add_widget(self.number)

    def _ready(self) -> None:
        said = self.desk.state.say(self.line, self.number.number) if self.form else ""
        if self.form == FOUND:
            self.act_text, self.act_shape, self.act_tone = f"Count {said} found", "back", "sky"
            self.act_ready = bool(self.where.text)
            self.act_note = (
                _said_place(self.desk.state, self.to.value).lower()
                if self.act_ready
                else "First: where it was found"
            )
        elif self.form == MISS:
            self.act_text, self.act_shape, self.act_tone = f"Log {said} as missing", "missing", "yellow"

    def on_act(self) -> None:
        """Count it found, or log it missing; then the list, where the rest stands."""
        if not self.form:
            if self.first is not None:
                self._found(self.first)
            elif not self.desk.state.ended:
                lead_on(self.desk, self.following)
            return
        t, number = self.desk.state, self.number.number
        if self.form == FOUND:
            if self.desk.record(builders.find_again(t, self.line, number, self.where.text, self.to.value)):
                self._to_list()
        elif self.desk.record(builders.miss(t, self.line, number, self.source, self.note.text)):
            self._to_list()

    def _to_list(self) -> None:
        while len(self.desk.trail) > 1 and self.desk.trail[-2][0] in ("missing", "whereabouts"):
            del self.desk.trail[-2]
        self.desk.instead("missing", line=self.line)


def where_found_goes(desk: Desk, line: str, most: int, changed: Callable[[], None]) -> tuple[Choices, Stepper]:
    """For something found: where it is now, and how many were found. The parts, to be put onto a screen."""
    t = desk.state
    home_fitted = places.family(builders.home_of(t, line)) == "fitted"
    targets = [places.TRAY, places.BENCH, *([] if home_fitted else [places.STORES]), places.SCRAP]
    desk.draft.setdefault("to", targets[0] if home_fitted else places.BENCH)
    to = Choices(desk, "to", "Where is it now?", [Choice(p, _said_place(t, p)) for p in targets], changed)
    return to, Stepper(desk, "quantity", "How many were found", most=most, changed=changed)


def where_it_could_be(t: Teardown, item: MissingItem) -> str:
    """All spaces a missing item could be in, by name, the likeliest first."""
    from checklists.where_it_could_be import where_words  # with the workshop, which need not load before

    return where_words(t, item, len(t.spaces))


def _said_place(t: Teardown, place: str) -> str:
    words = t.say_place(place)
    return words[:1].upper() + words[1:]


def _drop_row(t: Teardown, drop: Loss, now: str) -> Stack:
    """One drop; an ended one is struck, with where it was found and how long that took."""
    said = f"{when(drop.mark.at, now)}  {t.say(drop.line, drop.quantity)}" + (
        f", {drop.near}" if drop.near else ""
    )
    if drop.ended is None:
        return Stack(
            Words(text=said, bold=True), Small(text=f"not found yet, logged by {drop.mark.who}"), gap_mm=0.5
        )
    took = duration_words(seconds_between(drop.mark.at, drop.ended.at))
    where = f": {drop.where_found}," if drop.where_found else ""
    return Stack(
        Words(text=said, strikethrough=True),
        Small(text=f"found{where} at {clock_face(drop.ended.at)} by {drop.ended.who}, after {took}"),
        gap_mm=0.5,
    )
