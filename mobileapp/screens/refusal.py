"""The refusal: what was refused, every reason against it, and the way to put each right. There is no way past it."""

from __future__ import annotations

from typing import Any, ClassVar

from checklists import facts as f
from checklists import gate, places
from checklists.fact_codec import UnreadableFact, fact_from_plain
from checklists.judge import judge
from checklists.reason_making import notes
from checklists.reasons import Reason
from checklists.state import CLEARED, LIFTED, LOOSENED, RECALLED, SET_DOWN, Teardown
from mobileapp.screens.base import BaseScreen
from mobileapp.screens.refusal_view import first_to_mend, free_plate, mend, no_plate, reason_rows
from mobileapp.widgets.text import Body

#: Signed for, seen or counted at a moment: what was tried then is not done now by one tap, it is done anew.
_ANEW = (
    f.Cleared,
    f.Signed,
    f.Closed,
    f.Refitted,
    f.HandTurned,
    f.Released,
    f.WorkDone,
    f.Looked,
    f.Lifted,
    f.SecondCounted,
)
#: After these one stays at the work; after anything else the form is done with.
_AT_WORK = (f.Counted, f.Reversed, f.Renewed, f.Covered, f.Uncovered, f.Checked)


class RefusalScreen(BaseScreen):
    """Judges anew each time it is shown, and once a second while it is: a pause that is over is no reason any more."""

    every_second: ClassVar[bool] = True

    def build(
        self, kind: str = "", body: dict[str, Any] | None = None, about: str = "", closure: str = "", **_: Any
    ) -> None:
        """Ask the rules, and show what they say."""
        self.title = "Refused"
        self.about, self.closure = about, closure
        self.fact = _read(kind, body)
        self.reasons: tuple[Reason, ...] = self._judge()
        self._show()

    def tick(self) -> None:
        """Judge again; only a different answer changes the screen."""
        reasons = self._judge()
        if reasons != self.reasons:
            self.reasons = reasons
            self._show()

    def _judge(self) -> tuple[Reason, ...]:
        desk = self.desk
        if self.about == "close":
            return gate.why_not_close(desk.state)
        if self.about == "closure":
            return gate.why_not(desk.state, self.closure)
        if self.fact is None:
            return (
                Reason("unreadable", "What was tried cannot be read any more.", "Go back and try it again."),
            )
        return judge(desk.state, self.fact, desk.clock(), desk.who)

    def _show(self) -> None:
        self.clear_body()
        what = self._what()
        if not self.reasons:
            self.title = "Not refused any more"
            self.add_widget(free_plate(what.replace("Not ", "Can be ", 1)))
            self._tell_notes()
            self._offer()
            return
        self.title = "What stands against it" if self.about else "Refused"
        self.add_widget(no_plate(what, self.reasons))
        for row in reason_rows(self.desk, self.reasons, self.desk.back):
            self.add_widget(row)
        self._tell_notes()
        self.add_widget(Body(text="There is no way past this but to put it right."))
        self.act_text, self.act_note = "Put the first right", ""
        self.act_shape, self.act_tone = "go", "bone"
        if surplus := self._surplus():
            self.act_text = "Log the extra one as a find"
            self.act_note, self.act_shape, self.act_tone = surplus, "look", "yellow"

    def _tell_notes(self) -> None:
        """What is missing and cannot be in there, and why not."""
        closure = self._closure()
        for words in notes(self.desk.state, closure) if closure in self.desk.state.closures else ():
            self.add_widget(Body(text=words))

    def _surplus(self) -> str:
        """What there is one too many of, where that is why it was refused."""
        for reason in self.reasons:
            if reason.code == "surplus":
                return reason.line_name or "the extra one"
        return ""

    def _what(self) -> str:
        if self.about == "close":
            return "Not closed: this teardown"
        if self.about == "closure":
            state = self.desk.state
            verb = "cleared" if state.closure_states[self.closure].stage == LIFTED else "signed"
            return f"Not {verb}: {state.closures[self.closure].name}"
        return what_was_tried(self.desk.state, self.fact) if self.fact else "Not done"

    # --- once nothing stands against it

    def _offer(self) -> None:
        self.act_shape, self.act_tone, self.act_note = "go", "orange", ""
        if self.fact is not None and not isinstance(self.fact, _ANEW):
            self.act_text = "Do it now"
            self.act_note = what_was_tried(self.desk.state, self.fact).removeprefix("Not ")
        elif statement := self._statement():
            self.act_text = "Go on to set it down" if statement == "set down" else "Go on to sign"
        elif self.fact is None:
            self.act_text = "Go back"
        else:
            self.act_text = "Do it again from the start"
            self.act_note = "It was seen or counted before this was put right"

    def _statement(self) -> str:
        """The statement on the sign-off screen that does what was refused; empty where it is done elsewhere."""
        if self.about == "close":
            return "close"
        if self.about == "closure":
            return _NEXT_STATEMENT.get(self.desk.state.closure_states[self.closure].stage, "")
        return _STATEMENTS.get(type(self.fact), "")

    def on_act(self) -> None:
        """Log the surplus; or, with nothing against it any more, do what was refused."""
        if self.reasons:
            if surplus := self._surplus():
                self.desk.go("find", what=surplus)
            else:
                mend(self.desk, first_to_mend(self.reasons), self.desk.back)
        elif self.fact is not None and not isinstance(self.fact, _ANEW):
            self._do_it_now(self.fact)
        elif self._statement() and self.desk.trail[-2][0] != "sign_off":
            self.desk.instead("sign_off", what=self._statement(), closure=self._closure())
        else:
            self.desk.back()

    def _do_it_now(self, fact: f.Fact) -> None:
        outcome = self.desk.guarded(lambda: self.desk.work.record(fact))
        if outcome is None:
            return
        if not outcome.done:
            self.desk.again()
        elif isinstance(fact, _AT_WORK):
            self.desk.back()
        else:
            self.desk.to_board()

    def _closure(self) -> str:
        return self.closure or str(getattr(self.fact, "closure", ""))


#: What is stated next of a closure at each stage.
_NEXT_STATEMENT = {LIFTED: "clear", CLEARED: "set down", SET_DOWN: "sign", LOOSENED: "sign", RECALLED: "sign"}

_STATEMENTS: dict[type, str] = {
    f.Cleared: "clear", f.Signed: "sign", f.Refitted: "set down", f.HandTurned: "turn by hand", f.Closed: "close",
    f.Released: "release", f.WorkDone: "work done",
}  # fmt: skip

_VERBS: dict[type, str] = {
    f.Lifted: "lifted",
    f.Cleared: "cleared",
    f.Refitted: "set down",
    f.Signed: "signed",
    f.SecondCounted: "counted again",
    f.Covered: "covered",
    f.Uncovered: "uncovered",
    f.Looked: "looked into",
    f.FindLogged: "logged",
    f.FindRemoved: "settled",
    f.Grown: "added",
    f.Added: "added",
    f.Withdrawn: "withdrawn",
    f.WrittenTooHigh: "taken off the tally",
    f.SheetSettled: "settled",
    f.Converted: "turned into something else",
    f.Renewed: "renewed",
    f.Dropped: "logged",
    f.Missed: "logged",
    f.Found: "counted found",
    f.Short: "recorded",
    f.Reversed: "taken back",
    f.Checked: "counted",
    f.Joined: "added",
    f.Left: "taken off the job",
    f.Acknowledged: "acknowledged",
    f.WorkDone: "closing up",
    f.HandTurned: "turned by hand",
    f.Photographed: "kept as a photo",
    f.FindMatched: "matched",
    f.Secured: "left",
    f.HandedOver: "handed over",
    f.TookOver: "taken over",
    f.Closed: "closed",
    f.Released: "released",
    f.Searched: "recorded as searched",
    f.PartBroken: "recorded",
    f.PieceWeighed: "weighed",
    f.WeighCounted: "counted by weight",
    f.Measured: "measured",
    f.Tightened: "ticked",
}


def what_was_tried(state: Teardown, fact: f.Fact) -> str:
    """What was refused, in large letters: "Not cleared: Inlet manifold"."""
    verb = _VERBS.get(type(fact), "counted back" if _goes_home(fact) else "counted")
    return f"Not {verb}: {_about(state, fact)}"


def _goes_home(fact: f.Fact) -> bool:
    return any(places.family(move.target) in ("fitted", places.STORES) for move in f.moves_of(fact))


def _about(state: Teardown, fact: f.Fact) -> str:
    closure, opening = str(getattr(fact, "closure", "")), str(getattr(fact, "opening", ""))
    if closure in state.closures:
        return state.closures[closure].name
    if opening in state.openings:
        return state.openings[opening].name
    line = str(getattr(fact, "line", ""))
    if line in state.lines:
        return state.lines[line].name
    moves = [move for move in f.moves_of(fact) if move.line in state.lines]
    if moves:
        return state.say(moves[0].line, moves[0].quantity)
    named = getattr(fact, "what", "") or getattr(fact, "name", "")
    return str(named) or ("the engine" if isinstance(fact, f.HandTurned) else "this teardown")


def _read(kind: str, body: dict[str, Any] | None) -> f.Fact | None:
    try:
        return fact_from_plain(kind, body or {}) if kind else None
    except UnreadableFact:
        return None
