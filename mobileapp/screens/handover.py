"""Handover: the one who holds the job offers it, covers on; the other counts blind, signs and takes it."""

from __future__ import annotations

from collections.abc import Callable, Collection
from functools import partial
from typing import Any

from checklists import builders, second_count
from checklists.blind_walk import Stop, relief_stops
from checklists.facts import HandedOver, Seen, TookOver
from checklists.words import out_of
from mobileapp.screens.blind_walk import BlindWalk
from mobileapp.screens.form_parts import Choice, Choices, FormField, facts, key_row, remember
from mobileapp.screens.lead_on import lead_on, short_words, what_next
from mobileapp.screens.photo_field import PhotoField, name_of
from mobileapp.screens.signing import said_anew, signature_pad, unsign
from mobileapp.screens.stamps import when
from mobileapp.screens.standing import covers_first, first_to_cover, open_words, tally_words
from mobileapp.widgets.plate import Plate
from mobileapp.widgets.text import Body, Small


class HandoverScreen(BlindWalk):
    """Its step is in the draft: give, hand, count, sign, result. An offer that stands is taken up where it is."""

    after_the_last = "the last: then sign"

    def build(self, **_: Any) -> None:
        """The step where it stands."""
        self.end()
        self.title = "Hand the job over"
        step = self.desk.draft.get("step", "give")
        if step == "give" and self.desk.state.offered:
            step = "hand"
        elif step == "sign" and not self.still_whole():
            step = "count"  # a drop was logged meanwhile: it is counted again
        self.desk.draft["step"] = step
        steps: dict[str, Callable[[], None]] = {
            "give": self._show_give, "hand": self._show_hand, "count": self.take_up_walk, "sign": self._show_sign,
            "result": self._show_result, "dropped": self.show_dropped,
        }  # fmt: skip
        steps[step]()

    def _go(self, step: str) -> None:
        remember(self.desk, "step", step)
        self.desk.again()

    # --- the one who gives

    def _show_give(self) -> None:
        t = self.desk.state
        self._take_photo_over()
        self.add_widget(Body(text=f"{self.desk.who} gives."))
        self.add_widget(covers_first(self.desk))
        others = [Choice(p.name, p.name, p.role) for p in t.people if p.name != self.desk.who]
        self.taker = Choices(self.desk, "to", "Who takes over?", others, self._ready)
        self.add_widget(self.taker)
        self.add_widget(key_row("Add a person to the job", partial(self.desk.go, "people"), shape="more"))
        self.add_widget(facts("What stands against closing", open_words(t) or ["Nothing."]))
        self.add_widget(facts(tally_words(t), []))
        self.notes = FormField(self.desk, "notes", "Notes", hint="half the gasket face is cleaned")
        self.add_widget(self.notes)
        if self._photos():
            self.add_widget(facts("Photos", [name_of(self.desk, photo) for photo in self._photos()]))
        label = "Another photo" if self._photos() else "Photo (may be left out)"
        self.add_widget(PhotoField(self.desk, "photo", label, "handover:", "handover"))
        self._ready()

    def _photos(self) -> list[str]:
        return list(self.desk.draft.get("photos", []))

    def _take_photo_over(self) -> None:
        """A photo that was chosen joins those chosen before."""
        if photo := self.desk.draft.pop("photo", ""):
            remember(self.desk, "photos", [*self._photos(), photo])

    def _ready(self) -> None:
        lacking = first_to_cover(self.desk.state) or ("" if self.taker.value else "First: who takes over")
        self.act_text, self.act_shape, self.act_tone = "Offer the job", "go", "orange"
        self.act_ready = not lacking
        self.act_note = lacking or f"to {self.taker.value}"

    def _offer(self) -> None:
        if self.desk.record(HandedOver(self.taker.value, self.notes.text, tuple(self._photos()))):
            self._go("hand")

    # --- the phone changes hands

    def _show_hand(self) -> None:
        assert self.desk.state.offered is not None
        self.veil()
        offer, mark = self.desk.state.offered
        note = f"{mark.who} offered the job at {when(mark.at, self.desk.clock())}"
        plate = Plate(tone="yellow", shape="go", text=f"Hand the phone to {offer.to}", note=note, text_size_sp="30sp")
        self.add_widget(plate)
        if offer.notes:
            self.add_widget(facts("Notes", [offer.notes]))
        if offer.photos:
            self.add_widget(facts("Photos", [name_of(self.desk, photo) for photo in offer.photos]))
        self.add_widget(Body(text=f"{offer.to}: you count everything that is away from home, one tap for each. You "
                                  "are not told how many to expect. Then you sign, and the job is yours."))
        if self.desk.who == mark.who:
            self.add_widget(key_row("Offer it anew", self._anew, "to somebody else, or with other notes", "more"))
        self.act_text, self.act_shape = f"I am {offer.to}: start the count", "go"
        self.act_note = first_to_cover(self.desk.state)
        self.act_ready = not self.act_note

    def _anew(self) -> None:
        self.end()
        self.desk.draft["step"] = "give"
        self._show_give()

    # --- the one who takes

    def stops(self) -> tuple[Stop, ...]:
        """Everywhere that something away from home can lie."""
        return relief_stops(self.desk.state)

    def likely(self) -> Collection[str]:
        """What is offered first."""
        return second_count.likely_lines(self.desk.state)

    def former(self) -> str:
        """Whose the job is until it is taken over."""
        return self.desk.state.offered[1].who if self.desk.state.offered else ""

    def all_counted(self, seen: list[Seen]) -> None:
        """On to the signature; nothing is compared before it stands."""
        self._go("sign")

    def _show_sign(self) -> None:
        who, count = self.desk.who, len(self.stops())
        self.title = "Take the job over"
        self.veil()
        self.desk.draft.setdefault("name", who)
        counted = f"{count} of {count} places counted, not compared yet."
        gives = f" from {self.desk.state.offered[1].who}" if self.desk.state.offered else ""
        self.add_widget(facts(f"{who} takes the job over{gives}", [counted, "Every opening is covered or sealed."]))
        self.own_notes = FormField(self.desk, "own notes", "Your notes (may be left empty)", self._said)
        self.add_widget(self.own_notes)
        self.pad = signature_pad(self.desk, self._signable)
        self.add_widget(self.pad)
        self._signable()

    def _said(self) -> None:
        said_anew(self.desk, self.pad)

    def _signable(self) -> None:
        signed = bool(self.pad.signature)
        self.act_text, self.act_shape, self.act_tone = "Sign: I take it over", "signed", "sky"
        self.act_ready, self.act_note = signed, f"by {self.desk.who}" if signed else "First: sign with your finger"

    def _take_over(self) -> None:
        if not self.pad.signature:
            return
        if not self.still_whole():
            self._go("count")  # something was recorded meanwhile: it is counted again
            return
        notes, signature = self.own_notes.text, self.pad.signature
        if self.desk.record(builders.taken_blind(self.desk.state, self.seen_so_far, notes, signature)):
            self._go("result")

    # --- side by side

    def _show_result(self) -> None:
        t = self.desk.state
        self.title = "Job taken over"
        taken, mark = next((e.fact, e) for e in reversed(t.history) if isinstance(e.fact, TookOver))
        assert isinstance(taken, TookOver)
        self.differ = [seen for seen in taken.entries if (seen.line, seen.place) in t.discrepancies]
        agree = [seen for seen in taken.entries if seen not in self.differ]
        differ = out_of(len(self.differ), len(taken.entries), "count")
        words = f"{differ} {'differs' if len(self.differ) == 1 else 'differ'}" if self.differ else "Every count agrees"
        note = f"{mark.who} has the job since {when(mark.at, self.desk.clock())}"
        tone, shape = ("yellow", "refused") if self.differ else ("sky", "gate")
        self.add_widget(Plate(tone=tone, shape=shape, text=words, note=note))
        if not self.differ:
            self.add_widget(Small(text="A correct count is not proof of an empty engine."))
        self.show_differing(self.differ)
        self.add_widget(facts("Agree" if agree else "", [self.agreeing(seen) for seen in agree]))
        self.add_widget(facts(tally_words(t), []))
        self.add_widget(facts("What stands against closing", open_words(t) or ["Nothing."]))
        self.next = None if self.differ or self.unlisted() else what_next(self.desk)
        self.act_text = short_words(self.next) if self.next else self.first_to_settle()
        self.act_shape = "go"

    # --- the key

    def on_act(self) -> None:
        """One step on."""
        acts: dict[str, Callable[[], None]] = {
            "give": self._offer, "hand": self._start, "count": self.next_count, "sign": self._take_over,
            "result": self._on, "dropped": self.desk.back,
        }  # fmt: skip
        acts[self.desk.draft["step"]]()

    def _start(self) -> None:
        assert self.desk.state.offered is not None
        self.desk.hand_to(self.desk.state.offered[0].to)
        unsign(self.desk)
        self.desk.draft.pop("name", None)
        self.begin_walk()

    def _on(self) -> None:
        if self.next is None:
            self.settle_first()
        else:
            lead_on(self.desk, self.next)
