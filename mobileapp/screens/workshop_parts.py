"""What the workshop's screens share: fields, and an answer above them that goes stale when a field changes."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from functools import partial
from typing import Any

from kivy.clock import Clock

from checklists.facts import Fact
from checklists.facts_measured import Gauge
from mobileapp import look
from mobileapp.desk import Desk
from mobileapp.screens.aside import in_steps
from mobileapp.screens.base import BaseScreen
from mobileapp.screens.form_parts import FormField, Stack, key_row
from mobileapp.widgets.plate import Plate
from mobileapp.widgets.text import Small, Words

NOTHING_RECORDED = "This works something out. Nothing is recorded."
#: How an answer looks: tone and shape by what it comes to.
GOOD, BAD, OPEN = ("sky", "gate"), ("yellow", "refused"), ("bone", "look")


#: A part of a form: the name it is kept under (empty for none), and what makes it.
Part = tuple[str, Callable[[], Any]]


class ToolScreen(BaseScreen):
    """A tool: what is typed stays in the draft, the large key asks, the answer stands above the fields.

    A tool gives `answer` (the parts that say it; it may say faults at fields) and, where a teardown is in hand and it
    fits, `fact`. Once it is answered and nothing changed since, the large key records that fact.
    """

    ask = "Work it out"
    record_text = "Record it"
    remark = NOTHING_RECORDED
    #: Whether every field is there, and whether another screen has taken this one's place.
    laid, left = False, False

    def start(self, title: str, intro: str) -> None:
        """The title, and what stands where the answer will be."""
        self.title = title
        self.fresh = False
        self.said = Stack(Words(text=intro), gap_mm=3)
        self.add_widget(self.said)
        self._offer()

    def lay(self, *parts: Part) -> None:
        """Make the fields and put them below, one a frame, so that no frame has much to do; then what was asked."""
        in_steps([*(partial(self._lay_one, *part) for part in parts), self._all_laid], at_once=1)

    def _lay_one(self, name: str, make: Callable[[], Any]) -> None:
        if not self.left:
            part = make()
            if name:
                setattr(self, name, part)
            self.add_widget(part)

    def _all_laid(self) -> None:
        self.laid = not self.left
        if self.laid and self.desk.draft.get("asked"):
            self.work_out()

    def leave(self) -> None:
        """What is not laid yet is not laid any more."""
        super().leave()
        self.left = True

    def stale(self) -> None:
        """Something changed: what is said above no longer holds."""
        if self.fresh or (self.said.opacity == 1 and self.desk.draft.get("asked")):
            self.said.opacity = 0.35
        self.fresh = False
        self._offer()

    def work_out(self) -> None:
        """Say the answer in place of the one before."""
        self.desk.draft["asked"] = True
        self.desk.keep()
        self.said.clear_widgets()
        self.said.opacity = 1
        parts = self.answer()
        if not parts:
            self._say_unread()
        for part in parts:
            self.said.add_widget(part)
        self.fresh = bool(parts)
        if parts and self.fact() is None and self.remark:
            self.said.add_widget(Small(text=self.remark))
        self._offer()

    def _say_unread(self) -> None:
        """Nothing can be worked out: say so, and bring the first field with a fault into view."""
        self.said.add_widget(verdict("Not worked out yet", OPEN, "What cannot be read is marked yellow below."))
        faulty = [part for part in self.body.walk(restrict=True) if isinstance(part, FormField) and is_faulty(part)]
        if faulty:
            # Twice: the fault's own plate takes a frame to find its height.
            Clock.schedule_once(lambda _: Clock.schedule_once(lambda _: self._bring_into_view(faulty[0])))

    def _bring_into_view(self, part: Any) -> None:
        if part.get_parent_window() is not None:
            self.scroll.scroll_to(part, animate=False)

    def _offer(self) -> None:
        recordable = self.fresh and self.fact() is not None
        self.act_text = self.record_text if recordable else self.ask
        self.act_shape, self.act_tone = ("chosen", "sky") if recordable else ("go", "orange")
        self.act_note = self.record_note() if recordable else ""

    def on_act(self) -> None:
        """Ask; or record what was answered."""
        if not self.laid:
            return
        fact = self.fact() if self.fresh else None
        if fact is not None:
            if self.desk.record(fact):
                self.recorded()
            return
        self.work_out()
        self.scroll.scroll_y = 1

    def recorded(self) -> None:
        """It is in the journal."""
        self.desk.back()

    # --- what a tool gives

    def answer(self) -> list[Any]:
        """The parts that say the answer; none where what is typed cannot be used."""
        return []

    def fact(self) -> Fact | None:
        """What can be recorded of it, if anything."""
        return None

    def record_note(self) -> str:
        """What stands below the words of the recording key."""
        return ""


def is_faulty(field: FormField) -> bool:
    """Whether a fault is said at a field."""
    return any(isinstance(part, Plate) for part in field.children)


def verdict(text: str, look_of: tuple[str, str], note: str = "") -> Plate:
    """The answer in one word or sentence."""
    tone, shape = look_of
    return Plate(tone=tone, shape=shape, text=text, note=note, text_size_sp=look.HEADING, most=look.HEADING_MOST)


def sentences(words: Sequence[str]) -> Stack:
    """The answer's words, one below the other."""
    return Stack(*[Words(text=each) for each in words], gap_mm=2)


_MEANT = re.compile(r"did you mean '([^']+)'")
_TYPED = re.compile(r"^'([^']+)'")


def near_misses(faults: Sequence[str]) -> list[tuple[str, str]]:
    """The words that were not understood with what was likely meant, out of the faults that say so."""
    pairs = []
    for fault in faults:
        typed, meant = _TYPED.search(fault), _MEANT.search(fault)
        if typed and meant:
            pairs.append((typed[1], meant[1]))
    return pairs


def corrected(text: str, pairs: Sequence[tuple[str, str]]) -> str:
    """What was typed with every likely word in the place of the one not understood."""
    for typed, meant in pairs:
        whole = rf"(?<![\w.]){re.escape(typed)}(?![\w.])"  # the 8 of "M8x25 8" that stands alone
        text = re.sub(whole, lambda _, meant=meant: meant, text, count=1, flags=re.IGNORECASE)
    return text


class OfferedField(FormField):
    """A field whose fault offers what was likely meant, to be taken with one tap."""

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self._key: Any = None

    def say_faults(self, faults: Sequence[str]) -> None:
        """Say what is wrong, and offer the near miss; none takes both away."""
        self.say_fault(" ".join(faults))
        if self._key is not None:
            self.remove_widget(self._key)
            self._key = None
        pairs = near_misses(faults)
        if pairs:
            better = corrected(self.text, pairs)
            self._key = key_row(f"Take {better}", lambda: self._take(better), shape="chosen", tone="bone")
            self.add_widget(self._key)

    def _take(self, better: str) -> None:
        self.text = better
        self.say_faults(())


class GaugeFields(Stack):
    """The instrument: its name, what it reads to, and its largest error, as typed."""

    def __init__(
        self, desk: Desk, changed: Callable[[], None], what: str, step: str, error: str, name: str = ""
    ) -> None:
        self.named = FormField(desk, "gauge", what, changed, hint=name) if name else None
        self.step = FormField(desk, "step", f"{what} reads to", changed, hint=step)
        self.error = FormField(desk, "error", "Largest error (empty: one step)", changed, hint=error)
        super().__init__(*([self.named] if self.named else []), self.step, self.error)
        self._what = what

    @property
    def gauge(self) -> Gauge:
        """The instrument as typed."""
        name = self.named.text if self.named else ""
        return Gauge(name or self._what.lower(), self.step.text, self.error.text)
