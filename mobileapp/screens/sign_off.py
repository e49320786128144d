"""Sign-off: the values behind a statement, the person who makes it, and one deliberate key."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from checklists import builders
from checklists import facts as f
from checklists.judge import judge
from mobileapp import look
from mobileapp.screens.base import BaseScreen
from mobileapp.screens.form_parts import Choice, Choices, FormField, Stack, facts
from mobileapp.screens.refusal import what_was_tried
from mobileapp.screens.refusal_view import no_plate, reason_rows
from mobileapp.screens.signing import said_anew, signature_pad, unsign
from mobileapp.screens.statements import FREE, RESIDUAL, probe, searched, statement
from mobileapp.screens.torque_used import TorqueUsed
from mobileapp.widgets.plate import Plate
from mobileapp.widgets.signature_pad import SignaturePad
from mobileapp.widgets.text import Body, Heading, Small

#: A signature is a person's: these ask who signs, and are signed with a finger.
_SIGNED = frozenset({"clear", "sign", "turn by hand", "close", "release"})
_FELT = "felt"


class SignOffScreen(BaseScreen):
    """The rules are asked first: while they refuse, this screen is the refusal."""

    def build(self, what: str, closure: str = "", **_: Any) -> None:
        """The refusal with every reason, or the statement."""
        self.what, self.closure = what, closure
        self.names: Choices | None = None
        self.pad: SignaturePad | None = None
        fact = probe(self.desk.state, what, closure)
        reasons = judge(self.desk.state, fact, self.desk.clock(), self.desk.who)
        self.refused = bool(reasons)
        if reasons:
            self.title = "Refused"
            self.add_widget(no_plate(what_was_tried(self.desk.state, fact), reasons))
            for row in reason_rows(self.desk, reasons, self.desk.back):
                self.add_widget(row)
            return
        self.said = statement(self.desk.state, what, closure, self.desk.clock())
        self.title = self.said.title
        self._body()
        self._ready()

    def _body(self) -> None:
        draft = self.desk.draft
        if self.what == "release" and draft.get("step") == 2:
            self._release_for_good()
            return
        if self.what == "turn by hand":
            never, bar = "Never the starter. Stop at the first resistance.", "Use a bar or the barring gear."
            self.add_widget(Plate(tone="yellow", shape="refused", text=never, note=bar))
        self.add_widget(facts(self.said.says, self.said.values))
        forms: dict[str, Callable[[], None]] = {
            "work done": self._work_form, "sign": self._torque_form, "turn by hand": self._turn_form,
            "release": self._release_form,
        }  # fmt: skip
        forms.get(self.what, lambda: None)()
        if self.what in _SIGNED:
            self._ask_name()
        self.add_widget(facts("", [self.said.consequence]))
        self.add_widget(Body(text=f"Next: {self.said.next_words}"))
        self.add_widget(Plate(tone="bone", shape="look", text=RESIDUAL, text_size_sp=look.BODY, glyph_mm=6))
        if self.what in _SIGNED and self.what != "release":
            self._ask_signature()

    # --- what is asked for

    def _ask_name(self) -> None:
        people = [Choice(p.name, p.name, p.role) for p in self.desk.state.people]
        self.names = Choices(self.desk, "name", "Who signs? Touch your name.", people, self._said)
        self.add_widget(self.names)

    def _ask_signature(self) -> None:
        self.pad = signature_pad(self.desk, self._ready)
        self.add_widget(self.pad)

    def _said(self) -> None:
        """Another name was touched, or other words typed: who signed before signed something else."""
        said_anew(self.desk, self.pad)
        self._ready()

    def _work_form(self) -> None:
        self.note = FormField(
            self.desk, "note", "What was done (may be left empty)", hint="gasket renewed"
        )
        self.add_widget(self.note)

    def _torque_form(self) -> None:
        self.torque: TorqueUsed | None = None
        if self.desk.state.closures[self.closure].torque:
            self.torque = TorqueUsed(self.desk, self.closure, self._said)
            self.add_widget(self.torque)

    def _turn_form(self) -> None:
        choices = [Choice(FREE, FREE), Choice(_FELT, "It stopped, dragged or knocked", "then it is not free")]
        self.turned = Choices(self.desk, "turned", "What did you feel?", choices, self._said)
        self.note = FormField(
            self.desk, "note", "In your own words (may be left empty)", self._said, hint="light all round"
        )
        self.add_widget(self.turned)
        self.add_widget(self.note)

    def _release_form(self) -> None:
        self.reason = FormField(self.desk, "reason", "Why it is released though it is not clear", self._said)
        self.search = FormField(
            self.desk, "search", "What else was searched (may be left empty)", self._said, hint="bilge pumped dry"
        )
        self.add_widget(self.reason)
        self.add_widget(self.search)

    def _release_for_good(self) -> None:
        """The second step: nothing is typed here, only read, agreed to and signed."""
        draft = self.desk.draft
        self.add_widget(
            Plate(
                tone="yellow",
                shape="refused",
                text="Released, not clear",
                note="This is not a closure.",
                text_size_sp=look.HEADING,
                glyph_mm=14,
            )
        )
        self.add_widget(Heading(text=self.said.consequence, ink=look.YELLOW))
        # The searches stand below, in the words that are signed.
        told = searched(self.desk.state)
        self.add_widget(facts("On record for good", [words for words in self.said.values if words not in told]))
        self.add_widget(
            Stack(
                Small(text="Reason"),
                Body(text=draft.get("reason", "")),
                Small(text="Search"),
                Body(text=builders.released(self.desk.state, "", draft.get("search", ""), "").search),
                Small(text="Signed by"),
                Body(text=draft.get("name", "")),
                gap_mm=1,
            )
        )
        self.agreed = Choices(
            self.desk, "agreed", "", [Choice("yes", "I know that this is not a closure")], self._ready
        )
        self.add_widget(self.agreed)
        self.add_widget(Body(text=f"Next: {self.said.next_words}"))
        self.add_widget(Plate(tone="bone", shape="look", text=RESIDUAL, text_size_sp=look.BODY, glyph_mm=6))
        self._ask_signature()

    # --- the key

    def _ready(self) -> None:
        """The key says what it does, or what is still to be said before it can."""
        lacking = self._lacking()
        self.act_text, self.act_shape, self.act_tone = self.said.key, self.said.shape, self.said.tone
        if self.what == "release" and self.desk.draft.get("step") != 2:
            self.act_text, self.act_shape = "The last step", "go"
        if self._not_free():
            self.act_text, self.act_shape, self.act_tone = (
                "Stop. Log it as a find",
                "look",
                "yellow",
            )
        self.act_ready = not lacking
        self.act_note = lacking or self._by_whom()

    def _by_whom(self) -> str:
        name = self.desk.draft.get("name", "")
        return f"by {name}" if name and self.what in _SIGNED else ""

    def _lacking(self) -> str:
        """What is still to be said; empty when nothing is."""
        draft = self.desk.draft
        if self._not_free():
            return ""
        if self.what == "sign" and self.torque is not None and (torque := self.torque.lacking()):
            return torque
        if self.what == "turn by hand" and not self.turned.value:
            return "First: what you felt"
        if self.what == "release":
            if draft.get("step") == 2:
                return "First: agree that this is not a closure" if draft.get("agreed") != "yes" else self._unsigned()
            if not self.reason.text:
                return "First: the reason"
        if self.names is not None and not self.names.value:
            return "First: touch your name"
        return self._unsigned()

    def _unsigned(self) -> str:
        return "First: sign with your finger" if self.pad is not None and not self.pad.signature else ""

    def _not_free(self) -> bool:
        return self.what == "turn by hand" and self.turned.value == _FELT

    def on_act(self) -> None:
        """Make the statement. It is durable before the screen changes."""
        if self.refused or self._lacking():
            return
        if self._not_free():
            self.desk.instead("find", what=self.note.text or "Resistance felt when turning by hand")
            return
        if self.what == "release" and self.desk.draft.get("step") != 2:
            self.desk.draft["step"] = 2
            self.desk.again()
            return
        if self._record():
            self.desk.to_board()

    def _record(self) -> bool:
        """Record it in the name that was touched; the phone stays with whom it was."""
        work = self.desk.work
        holder = work.who
        work.who = str(self.desk.draft["name"]) if self.what in _SIGNED else holder
        try:
            return self.desk.record(self._fact())
        finally:
            work.who = holder

    def on_back(self) -> None:
        """From the last step of a release back to the first; else the screen before."""
        if self.what == "release" and not self.refused and self.desk.draft.get("step") == 2:
            self.desk.draft.update(step=1, agreed="")
            unsign(self.desk)
            self.desk.again()
        else:
            super().on_back()

    def _fact(self) -> f.Fact:
        t, head, draft = self.desk.state, self.desk.work.head, self.desk.draft
        drawn = self.pad.signature if self.pad else ()
        makers: dict[str, Callable[[], f.Fact]] = {
            "work done": lambda: f.WorkDone(self.note.text),
            "clear": lambda: builders.clear_to_refit(t, self.closure, head, drawn),
            "set down": lambda: f.Refitted(self.closure),
            "sign": lambda: builders.sign(t, self.closure, self.torque.text if self.torque else "", head, drawn),
            "turn by hand": lambda: f.HandTurned("; ".join(filter(None, [FREE, self.note.text])), head, drawn),
            "close": lambda: builders.close(t, head, drawn),
            "release": lambda: builders.released(
                t, str(draft["reason"]).strip(), str(draft.get("search", "")), head, drawn
            ),
        }
        return makers[self.what]()
