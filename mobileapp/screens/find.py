"""Finds: foreign objects discovered. Each is photographed where it lies, taken out, photographed after, and kept."""

from __future__ import annotations

from functools import partial
from typing import Any

from checklists.facts import FindLogged, FindRemoved
from checklists.sheet import Opening
from checklists.state import FindState, Teardown
from checklists.words import within
from mobileapp import look
from mobileapp.screens.base import BaseScreen
from mobileapp.screens.form_parts import Choice, Choices, FormField, Stack, key_row
from mobileapp.screens.match_find import ours_words
from mobileapp.screens.photo_field import PhotoField, name_of
from mobileapp.screens.stamps import when
from mobileapp.widgets.plate import Plate
from mobileapp.widgets.text import Body, Heading, Words

HOW = ("fingers", "magnet", "suction", "pick", "rinse")
OUTSIDE = "outside"
#: Between the space and the opening in the value of a choice.
THROUGH = "|"
LOG = "log"
RELEASE = "release, not clear: this is not a closure"


class FindScreen(BaseScreen):
    """`find` is the one to settle; `what` (or `form`) opens the form for logging one; with neither, the list."""

    def build(self, find: str = "", what: str = "", form: str = "", **_: Any) -> None:
        """The list, the form for logging, or the form for settling."""
        self.find = find
        state = self.desk.state.finds.get(find)
        self.doing = ""
        if state is not None and state.removed is None:
            self._settle_form(state)
        elif state is not None:
            self._show_settled(state)
        elif what or form == LOG:
            self._log_form(what)
        else:
            self._list()

    # --- the list

    def _list(self) -> None:
        t = self.desk.state
        self.title = "Finds"
        now = self.desk.clock()
        if not t.finds:
            self.add_widget(
                Body(
                    text="No find yet. Whatever is discovered and is not ours goes here: debris, an old washer, "
                    "one bolt too many."
                )
            )
        for find, state in sorted(t.finds.items(), key=lambda pair: pair[1].removed is not None):
            done = state.removed is not None
            note = (
                f"{where_words(t, state.logged)}, logged {when(state.mark.at, now)} by {state.mark.who}"
            )
            self.add_widget(
                key_row(
                    f"{state.logged.what}: {'settled' if done else 'not settled'}",
                    partial(self.desk.go, "find", find=find),
                    note,
                    "gate" if done else "look",
                    "steel" if done else "yellow",
                )
            )
        if not t.ended:
            self.act_text, self.act_shape, self.act_tone = "Log a find", "look", "yellow"
            if any(state.removed is None for state in t.finds.values()):
                release = partial(self.desk.go, "sign_off", what="release")
                self.add_widget(key_row("It cannot be taken out", release, RELEASE, "refused"))

    # --- log one

    def _log_form(self, what: str) -> None:
        self.title, self.doing = "Log a find", "log"
        self.new = self.desk.draft.setdefault("find", self.desk.make_id())
        if what:
            self.desk.draft.setdefault("what", what)
        self.what = FormField(self.desk, "what", "What it seems to be", self._ready, hint="old washer, rusty")
        self.how_big = FormField(
            self.desk, "size", "How big, about (may be left empty)", self._ready, hint="12 mm across, 2 mm thick"
        )
        self.where = Choices(self.desk, "where", "Where it lies", where_choices(self.desk.state), self._ready)
        self.photo = PhotoField(self.desk, "photo", label="Photo where it lies, before it is touched",
                                about=f"find:{self.new}", moment="before")  # fmt: skip
        for part in (self.what, self.photo, self.how_big, self.where):
            self.add_widget(part)
        self._ready()

    # --- settle one

    def _settle_form(self, state: FindState) -> None:
        self.title, self.doing = "Take out a find", "settle"
        self._say_find(state)
        self.how = Choices(
            self.desk,
            "how",
            "How it was taken out",
            [Choice(how, how.capitalize()) for how in HOW],
            self._ready,
        )
        self.photo = PhotoField(self.desk, "photo", label="Photo of the place after",
                                about=f"find:{self.find}", moment="after")  # fmt: skip
        self.kept = FormField(
            self.desk, "kept", "Where it is kept", self._ready, hint="labelled bag, bench"
        )
        for part in (self.photo, self.kept, self.how):
            self.add_widget(part)
        self._offer_match()
        self._ready()

    def _show_settled(self, state: FindState) -> None:
        self.title = "Find, settled"
        self._say_find(state)
        if state.removed:
            self.add_widget(
                Stack(
                    Heading(text="Taken out"),
                    Words(text=f"How: {state.removed.how}."),
                    Words(text=f"Kept: {state.removed.kept}."),
                    Words(text=f"Photo after: {name_of(self.desk, state.removed.photo)}"),
                    gap_mm=1.5,
                )
            )
        self._offer_match()

    def _offer_match(self) -> None:
        """Something is missing: the find may be it."""
        t = self.desk.state
        if t.missing and not t.ended and not t.finds[self.find].ours:
            self.add_widget(key_row("Is it one of ours?", partial(self.desk.go, "match_find", find=self.find),
                                    f"{sum(item.quantity for item in t.missing)} missing", "missing"))  # fmt: skip
        about = f"find:{self.find}"
        if any(fact.about == about for fact, _ in t.photos.values()):
            self.add_widget(key_row("Its photos", partial(self.desk.go, "photo_view", about=about), shape="look"))

    def _say_find(self, state: FindState) -> None:
        t, logged = self.desk.state, state.logged
        note = f"{where_words(t, logged)}, logged {when(state.mark.at, self.desk.clock())} by {state.mark.who}"
        self.add_widget(
            Plate(
                tone="yellow" if state.removed is None else "bone",
                shape="look",
                text=logged.what,
                note=note,
                text_size_sp=look.HEADING,
            )
        )
        if logged.size:
            self.add_widget(Words(text=f"Size: {logged.size}."))
        if ours := ours_words(t, self.find):
            self.add_widget(Body(text=f"It is ours: {ours}."))

    # --- the key

    def _ready(self) -> None:
        self.act_shape = "look" if self.doing == "log" else "back"
        self.act_tone = "yellow" if self.doing == "log" else "sky"
        self.act_text = "Log this find" if self.doing == "log" else "It is out, and kept"
        lacking = self._lacking()
        self.act_ready, self.act_note = not lacking, f"First: {lacking}" if lacking else ""

    def _lacking(self) -> str:
        draft = self.desk.draft
        wants = [(draft.get("photo"), "the photo")]
        if self.doing == "log":
            wants = [(self.what.text, "what it seems to be"), *wants, (self.where.value, "where it lies")]
        else:
            wants = [*wants, (self.kept.text, "where it is kept"), (self.how.value, "how it was taken out")]
        return next((words for given, words in wants if not given), "")

    def on_act(self) -> None:
        """Log it, settle it, or open the form for logging."""
        if not self.doing:
            self.desk.go("find", form=LOG)
        elif not self._lacking() and self.desk.record(self._fact()):
            self._done()

    def _fact(self) -> FindLogged | FindRemoved:
        photo = str(self.desk.draft["photo"])
        if self.doing == "log":
            where, _, opening = self.where.value.partition(THROUGH)
            where = "" if where == OUTSIDE else where
            return FindLogged(self.new, self.what.text, where, photo, self.how_big.text.strip(), opening)
        return FindRemoved(self.find, self.how.value, photo, self.kept.text)

    def _done(self) -> None:
        """A find logged from a count or a refusal leads back to the work; from the list, to the list."""
        while len(self.desk.trail) > 2 and self.desk.trail[-2][0] == "refusal":
            del self.desk.trail[-2]
        self.desk.back()


def where_seen(opening: Opening) -> str:
    """The choice for what lies right behind an opening."""
    return f"{opening.space}{THROUGH}{opening.id}"


def where_choices(t: Teardown) -> list[Choice]:
    """Where a find can lie: right behind an unsealed opening first, then further in, then outside."""
    unsealed = [t.openings[o] for o, state in t.opening_states.items() if state.state != "sealed"]
    near = {opening.space for opening in unsealed}
    far = [space for space in t.spaces if space in t.exposure.not_sealed() and space not in near]
    outside = Choice(OUTSIDE, "Outside the openings", "on the machine, in the tray, on the floor")
    behind = [Choice(where_seen(o), f"In {t.spaces[o.space].name}", f"through {within(o.name)}")
              for o in unsealed]  # fmt: skip
    return [outside, *behind, *[Choice(space, f"In {t.spaces[space].name}", "further in") for space in far]]


def where_words(t: Teardown, logged: FindLogged) -> str:
    """Where a find lay, in words."""
    through = f", through {within(t.openings[logged.opening].name)}" if logged.opening in t.openings else ""
    return f"in {t.spaces[logged.where].name}{through}" if logged.where in t.spaces else "outside the openings"
