"""How searches, broken parts, weighing, measuring and tightening are told in a story."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from checklists.facts_measured import Measured, PartBroken, PieceWeighed, Searched, Tightened, WeighCounted
from checklists.state import Teardown


def _searched(t: Teardown, fact: Searched) -> str:
    where = t.spaces[fact.where].name if fact.where in t.spaces else fact.where
    outcome = "FOUND" if fact.found else "not found" if fact.reached else "could not be looked into"
    if fact.moves:
        found, target = sum(move.quantity for move in fact.moves), fact.moves[-1].target
        outcome += f", {t.say(fact.line, found)}, now {t.say_place(target)}"
    return f"searches {where} ({fact.method}) for the {t.lines[fact.line].name}: {outcome}; {fact.seen}"


def _part_broken(t: Teardown, fact: PartBroken) -> str:
    when = "was broken before anything was opened" if fact.before else "is broken"
    which = f"{'another' if fact.another else 'the'} {t.lines[fact.line].name}"
    return f"says {which} {when}; whole it weighs {fact.mass} ± {fact.likeness} ({fact.basis})"


def _piece_weighed(t: Teardown, fact: PieceWeighed) -> str:
    from checklists.broken_parts import account_of, length_account_of

    account, length = account_of(t, fact.line), length_account_of(t, fact.line)
    words = [*([account.words[0]] if account else []), *([length.words] if length else [])]
    if length and length.verdict == "short":
        words.reverse()
    told = f": {' '.join(words)}" if words else ""
    return f"weighs {fact.piece} of the {t.lines[fact.line].name}, {fact.mass} on {fact.gauge.name}{told}"


def _weigh_counted(t: Teardown, fact: WeighCounted) -> str:
    return f"counts {t.say(fact.line, fact.number)} by weight {t.say_place(fact.place)} ({fact.gross} in all)"


def _measured(t: Teardown, fact: Measured) -> str:
    from checklists.measured_limits import judge_limit, limit_named

    limit, judged = limit_named(t, fact.closure, fact.limit), judge_limit(t, fact.closure, fact.limit)
    told = judged.words[0] if judged else fact.reading
    return f"measures {limit.name if limit else fact.limit} with {fact.gauge.name}: {told}"


def _tightened(t: Teardown, fact: Tightened) -> str:
    return f"tightens number {fact.number} of the {t.closures[fact.closure].name} to {fact.percent} %"


TOLD_MEASURED: dict[type, Callable[[Teardown, Any], str]] = {
    Searched: _searched,
    PartBroken: _part_broken,
    PieceWeighed: _piece_weighed,
    WeighCounted: _weigh_counted,
    Measured: _measured,
    Tightened: _tightened,
}
