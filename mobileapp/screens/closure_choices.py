"""What can be done with one closure now, each with the screen where it is done. Pure, no widgets."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, NamedTuple

from checklists import builders, gate, places
from checklists.state import CLEARED, FITTED, IN_PLACE, LIFTED, LOOSENED, RECALLED, SET_DOWN, SIGNED, Teardown


class Choice(NamedTuple):
    """One key: words, what stands behind it in figures, shape, and the way to its screen."""

    text: str
    note: str
    shape: str
    screen: str
    args: dict[str, Any]


def choices(teardown: Teardown, closure: str) -> list[Choice]:
    """What may be done with `closure` at its stage, in the order of the work; nothing once the teardown ended."""
    if teardown.ended:
        return []
    stage = teardown.closure_states[closure].stage
    made = [*_counts_out(teardown, closure, stage), *_counts_back(teardown, closure, stage)]
    statements = list(_statements(teardown, closure, stage))
    below = [_openings(teardown, closure)] if stage in (LIFTED, CLEARED) else []
    return [*made, *below, *statements, *_why_not(teardown, closure), _grow(closure)]


def _pad(line: str, source: str, target: str) -> tuple[str, dict[str, Any]]:
    return "count_pad", {"line": line, "source": source, "target": target}


def _counts_out(t: Teardown, closure: str, stage: str) -> Iterator[Choice]:
    """Fasteners while the closure sits in its place, its parts once it is off."""
    home = places.fitted(closure)
    for line in t.lines_of(closure):
        held, due = t.quantity(line, home), t.required[line]
        if held and (t.lines[line].kind == "fastener") == (stage in IN_PLACE):
            yield Choice(f"Count out {t.say(line, held)}", f"{due - held} of {due} off", "out",
                         *_pad(line, home, places.TRAY))


def _counts_back(t: Teardown, closure: str, stage: str) -> Iterator[Choice]:
    """What lies ready to go home, where it may go home."""
    withdrawn = stage == SET_DOWN and t.closure_states[closure].cleared is None
    if stage not in IN_PLACE or withdrawn:
        return
    home = places.fitted(closure)
    for line in sorted(t.lines_of(closure), key=lambda line: t.lines[line].kind == "fastener"):
        held, due, source = t.quantity(line, home), t.required[line], builders.where_away(t, line)
        if held < due and t.quantity(line, source):
            yield Choice(f"Count back {t.say(line, due - held)}", f"{held} of {due} home", "back",
                         *_pad(line, source, home))


def _openings(t: Teardown, closure: str) -> Choice:
    count = len(t.ways.openings_of[closure])
    return Choice("Openings: cover, uncover, look inside", f"{count} under this closure", "uncovered", "openings", {})


def _statements(t: Teardown, closure: str, stage: str) -> Iterator[Choice]:
    if stage in IN_PLACE:
        against = len(gate.why_not_lift(t, closure))
        note = _against(against, "photo needed")
        yield Choice("Lift check, then lift it", note, "lifted", "lift", {"closure": closure})
    if stage == LIFTED and t.work_done is None:
        yield Choice("The work is finished: start closing up", "not said yet", "go", *_signing("work done", ""))
    if stage == LIFTED:
        yield _sign_off(t, closure, "Sign it as cleared to refit", "clear", "cleared")
    elif stage == CLEARED:
        yield Choice("Set it down in its place", "cleared to refit", "set down", *_signing("set down", closure))
    elif stage in (SET_DOWN, LOOSENED, RECALLED):
        yield _sign_off(t, closure, "Sign it as closed", "sign", "signed")


def _sign_off(t: Teardown, closure: str, words: str, what: str, shape: str) -> Choice:
    note = "not yet" if gate.why_not(t, closure) else "nothing against it"
    return Choice(words, note, shape, *_signing(what, closure))


def _signing(what: str, closure: str) -> tuple[str, dict[str, Any]]:
    return "sign_off", {"what": what, "closure": closure}


def _against(reasons: int, otherwise: str) -> str:
    return f"{reasons} {'reason' if reasons == 1 else 'reasons'} against it now" if reasons else otherwise


def _why_not(t: Teardown, closure: str) -> Iterator[Choice]:
    if t.closure_states[closure].stage not in (FITTED, SIGNED, CLEARED):
        against = len(gate.why_not(t, closure))
        if against:
            yield Choice("Why can it not be closed?", _against(against, ""), "refused", "refusal",
                         {"about": "closure", "closure": closure})


def _grow(closure: str) -> Choice:
    return Choice("Add to this closure", "an opening, a part, a fastener", "more", "grow", {"closure": closure})
