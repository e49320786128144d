"""May this happen? Every act is judged against the state before it is written.

`judge` gives every reason against; an empty answer means it may happen.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Any

from checklists import facts as f
from checklists import facts_measured as m
from checklists import gate, judge_closures, judge_counts, judge_evidence, places
from checklists.ledger import opening_moves
from checklists.naming import folded
from checklists.reason_making import still_missing
from checklists.reasons import Reason
from checklists.refusing import PASSED, Reasons, no, other_statement
from checklists.sheet import Sheet, laid_over, merge_sheets
from checklists.sheet_check import check_sheet
from checklists.sheet_fault import spoken_path
from checklists.signing import unsigned
from checklists.state import Teardown
from checklists.words import within


def judge(teardown: Teardown, fact: f.Fact, at: str, who: str) -> Reasons:
    """Every reason why `fact` may not happen now (`at`), done by `who`; empty when it may."""
    if isinstance(fact, f.Started):
        return _started(teardown, fact, who)
    if reasons := _standing(teardown, fact, who):
        return reasons
    rule = _RULES.get(type(fact))
    # Nothing is signed before all else is right: while something stands against it, only that is said.
    return (tuple(rule(teardown, fact, at, who)) if rule else PASSED) or unsigned(fact, who)


def _standing(t: Teardown, fact: f.Fact, who: str) -> Reasons:
    """What holds for every act: the teardown runs, and somebody known does it."""
    if not t.history:
        return no("not started", "This teardown has not been started.", "Start it from a sheet.")
    if t.ended:
        return no("ended", f"This teardown has ended: {t.ended}.", "Start a new one to open the machine again.")
    if who not in [person.name for person in t.people] and not isinstance(fact, f.Joined):
        return no("not on the job", f"{who or 'Nobody'} is not on this job.", "Add the person to the teardown first.")
    return PASSED


def _started(t: Teardown, fact: f.Started, who: str) -> Reasons:
    reasons: list[Reason] = []
    if t.history:
        reasons += no("started", "This teardown was started already.", "Carry on from its board.")
    if not fact.machine.strip():
        reasons += no("no machine", "The machine is not named.", "Say which machine is opened.")
    if not fact.reason.strip():
        reasons += no("no reason", "It is not said why the machine is opened.", "Say why.")
    names = [person.name for person in fact.people]
    if who not in names or not all(name.strip() for name in names):
        reasons += no("no people", "Nobody is named as working on it.", "Name at least the person who starts it.")
    if len({folded(name) for name in names}) < len(names):
        reasons += no("same name", "Two people have the same name.", "Tell them apart, by a surname or a role.")
    reasons += _opening_count(fact.sheet, fact.moves)
    reasons += _sheet_faults(check_sheet(fact.sheet, growing=not fact.sheet.closures))
    return tuple(reasons)


def _opening_count(sheet: Sheet, moves: tuple[f.Move, ...]) -> Reasons:
    """The sheet's lines come onto the tally as it says; what it lists beside closures starts put away."""
    if moves == opening_moves(sheet) and all(item.home == places.STORES for item in sheet.items):
        return PASSED
    return no(
        "not its lines", "What comes onto the tally is not what the sheet says.", "Start from the sheet's own lines."
    )


def _sheet_faults(faults: Iterable[Any]) -> list[Reason]:
    return [Reason("sheet fault", f"{spoken_path(fault.path)}: {fault.message}", "Mend the sheet.") for fault in faults]


def _hand_turned(t: Teardown, fact: f.HandTurned, at: str, who: str) -> Iterable[Reason]:
    """The first turn is by hand, and made only once everything is closed and nothing is missing."""
    reasons: list[Reason] = []
    opened = [c for c, s in t.closure_states.items() if s.stage not in ("fitted", "signed")]
    if opened:
        names = ", ".join(within(t.closures[c].name) for c in opened)
        reasons += no("closure open", f"Not closed yet: {names}.", "Nothing turns before every closure is signed.")
    reasons += [still_missing(t, item) for item in t.missing]
    if not reasons and not fact.statement.strip():
        reasons += no("not said", "It is not said what was felt.", "Say how it turned.")
    return reasons


def _closed(t: Teardown, fact: f.Closed, at: str, who: str) -> Iterable[Reason]:
    from checklists.builders import close  # a signature is rare

    return gate.why_not_close(t) or other_statement(fact.statement, close(t, "").statement)


def _released(t: Teardown, fact: f.Released, at: str, who: str) -> Iterable[Reason]:
    reasons: list[Reason] = []
    if not fact.reason.strip():
        reasons += no("no reason", "No reason is given.", "Write why it is released though it is not clear.")
    from checklists.searches import search_reasons, search_summary  # needed only at such an end

    if not fact.search.strip():
        reasons += no("no search", "It is not said what was searched.", "Say so, even where it was nothing.")
    reasons += search_reasons(t)
    if t.missing and not reasons and not fact.search.startswith(said := search_summary(t)):
        words = "What is said of the search is not what the record says now."
        reasons += no("not its search", words, f"Begin with this, then add to it: {said}")
    return reasons


def _acknowledged(t: Teardown, fact: f.Acknowledged, at: str, who: str) -> Iterable[Reason]:
    if fact.caution not in {caution.id for caution in t.sheet.cautions}:
        return no("unknown caution", f"There is no caution {fact.caution!r}.", "Choose one of the sheet.")
    return PASSED


def _joined(t: Teardown, fact: f.Joined, at: str, who: str) -> Iterable[Reason]:
    known = {folded(person.name): person.name for person in t.people}
    if not fact.person.name.strip() or folded(fact.person.name) in known:
        return no("same name", "That name is empty or on the job already.", "Tell them apart, by a surname or a role.")
    return PASSED


def _left(t: Teardown, fact: f.Left, at: str, who: str) -> Iterable[Reason]:
    if fact.name not in [person.name for person in t.people]:
        return no("not on the job", f"{fact.name} is not on this job.", "Choose somebody who is.")
    if len(t.people) == 1:
        return no("nobody left", "The last person cannot leave an open teardown.", "Add who takes over first.")
    return judge_evidence.covered(t) if fact.name == t.holder else PASSED


def _grown(t: Teardown, fact: f.Grown, at: str, who: str) -> Iterable[Reason]:
    clash = {line.id for line in fact.part.lines} & set(t.lines)
    if clash:
        return no("line known", f"On the tally already: {', '.join(sorted(clash))}.", "Add more of it instead.")
    known, new = set(t.closures), {closure.id for closure in fact.part.closures}
    if any(above not in known or below not in new for above, below in fact.over):
        return no("unknown closure", "Only a known closure can lie over a new one.", "Say which lies over which again.")
    whole = laid_over(merge_sheets(t.sheet, fact.part), fact.over)
    return [*_opening_count(fact.part, fact.moves), *_sheet_faults(check_sheet(whole, growing=True))]


def _sheet_settled(t: Teardown, fact: f.SheetSettled, at: str, who: str) -> Iterable[Reason]:
    from checklists.two_ways import judge_settled  # only where two phones met

    return judge_settled(t, fact, at, who)


def _withdrawn(t: Teardown, fact: f.Withdrawn, at: str, who: str) -> Iterable[Reason]:
    from checklists.withdrawing import judge_withdrawn

    return judge_withdrawn(t, fact, at, who)


def _written_too_high(t: Teardown, fact: f.WrittenTooHigh, at: str, who: str) -> Iterable[Reason]:
    from checklists.written_too_high import judge_too_high

    return judge_too_high(t, fact)


def _measured(t: Teardown, fact: f.Fact, at: str, who: str) -> Iterable[Reason]:
    from checklists.judge_measured import RULES  # with the workshop, which the first tap need not wait for

    return RULES[type(fact)](t, fact, at, who)


_RULES: dict[type, Callable[[Teardown, Any, str, str], Iterable[Reason]]] = {
    f.Joined: _joined,
    f.Left: _left,
    f.Grown: _grown,
    f.Withdrawn: _withdrawn,
    f.WrittenTooHigh: _written_too_high,
    f.SheetSettled: _sheet_settled,
    f.Added: judge_counts.added,
    f.Acknowledged: _acknowledged,
    f.Counted: judge_counts.counted,
    f.Reversed: judge_counts.taken_back,
    f.Short: judge_counts.short,
    f.Dropped: judge_counts.lost,
    f.Missed: judge_counts.lost,
    f.Found: judge_counts.found,
    f.Converted: judge_counts.converted,
    f.Renewed: judge_counts.renewed,
    f.Checked: judge_counts.checked,
    f.Lifted: judge_closures.lifted,
    f.Covered: judge_closures.covered,
    f.Uncovered: judge_closures.uncovered,
    f.FindLogged: judge_closures.find_logged,
    f.FindRemoved: judge_closures.find_removed,
    f.Looked: judge_closures.looked,
    f.SecondCounted: judge_closures.second_counted,
    f.Cleared: judge_closures.cleared,
    f.Refitted: judge_closures.refitted,
    f.Signed: judge_closures.signed,
    f.HandTurned: _hand_turned,
    f.Closed: _closed,
    f.Released: _released,
    f.FindMatched: judge_evidence.find_matched,
    f.Photographed: judge_evidence.photographed,
    f.Secured: judge_evidence.machine_secured,
    f.HandedOver: judge_evidence.handed_over,
    f.TookOver: judge_evidence.took_over,
    m.Searched: _measured,
    m.PartBroken: _measured,
    m.PieceWeighed: _measured,
    m.WeighCounted: _measured,
    m.Measured: _measured,
    m.Tightened: _measured,
}
