"""Openings and how long they stood uncovered, finds, counts that differed, and clearances and sign-offs that fell."""

from __future__ import annotations

from checklists.account.album import Album
from checklists.account.closures import loud
from checklists.account.parts import Block, Heading, Pairs, Section, Table, Words
from checklists.account.walk import FELL, WITHDRAWN, Step, Walk
from checklists.account.writing import when, when_cell
from checklists.clock_back import Uncovered, ran_back_at, uncovered
from checklists.exposure import SEALED, UNCOVERED, OpeningState
from checklists.facts import Checked, Converted, Counted, Entry, FindRemoved, Found, Missed, Reversed
from checklists.facts_measured import Searched
from checklists.state import FindState, Teardown
from checklists.times import duration_words
from checklists.words import listing, within

#: What fell, and what would give it anew.
_GIVEN_ANEW = {WITHDRAWN: "cleared to refit", "sign-off recalled": "signed"}
#: Of a length of time over which a clock ran back.
_UNTOLD = "cannot be told"
_CLOCK_BACK = ("Cannot be told: a clock was set back while it stood uncovered, or two phones' clocks differ. "
               "The order of the entries holds all the same.")  # fmt: skip


def openings(walk: Walk, album: Album) -> Section | None:
    """Each opening that was opened, every spell it stood uncovered, and how it stands."""
    t = walk.teardown
    last = t.history[-1].at if t.history else ""
    back = ran_back_at(t.history)
    stood = {opening: uncovered(back, state, last) for opening, state in t.opening_states.items()}
    rows = [
        _opening_row(t, opening, state, stood[opening])
        for opening, state in t.opening_states.items()
        if state.spells or state.state != SEALED
    ]
    if not rows:
        return None
    heads = ("opening", "uncovered from", "until", "for", "now")
    blocks: list[Block] = [Table(heads, (22, 26, 26, 13, 13), tuple(rows))]
    if any(state.state == UNCOVERED for state in t.opening_states.values()):
        blocks.append(Words(f"Still running: times in all are up to the last entry, {when(last)}."))
    if any(one.untold for one in stood.values()):
        blocks.append(Words(_CLOCK_BACK))
    return Section("Openings and the time they stood uncovered", (*blocks, *album.shown()))


def _opening_row(t: Teardown, opening: str, state: OpeningState, stood: Uncovered) -> tuple[str, ...]:
    known = t.openings[opening]
    since = "\n".join(when(start) for start, _ in state.spells) or "never uncovered"
    until = "\n".join(when(end) if end else "STILL UNCOVERED" for _, end in state.spells)
    lengths = [_UNTOLD if spell is None else duration_words(spell) for spell in stood.spells]
    in_all = [f"in all {_in_all(stood)}"] if len(lengths) > 1 else []
    stands = state.state if state.state == SEALED else state.state.upper()
    return f"{known.name}\n{known.clear}", since, until, "\n".join(lengths + in_all), stands


def _in_all(stood: Uncovered) -> str:
    """The sum of the spells; the least of it where one of them cannot be told."""
    if not stood.untold:
        return duration_words(stood.least)
    return f"at least {duration_words(stood.least)}" if stood.least >= 1 else _UNTOLD


# --- finds


def finds(walk: Walk, album: Album) -> Section | None:
    """Foreign objects: what, where, photo before, how taken out, photo after, where kept."""
    t = walk.teardown
    if not t.finds:
        return None
    removed = {id(fact): mark.at for mark, fact in walk.of(FindRemoved)}
    blocks: list[Block] = []
    for number, (find, state) in enumerate(t.finds.items(), 1):
        blocks += [Heading(f"Find {number}: {state.logged.what}", "" if state.removed else "NOT SETTLED")]
        blocks += [_find(t, album, find, state, removed), *album.shown()]
    return Section("Finds", tuple(blocks))


def _find(t: Teardown, album: Album, find: str, state: FindState, removed: dict[int, str]) -> Pairs:
    logged = state.logged
    where = t.spaces[logged.where].name if logged.where in t.spaces else "outside the openings"
    where += f", seen through {within(t.openings[logged.opening].name)}" if logged.opening in t.openings else ""
    rows = [
        ("Seen", f"{when(state.mark.at)}, {state.mark.who}"),
        ("Where", where),
        ("Before", album.name(logged.photo, f"Find before: {logged.what}")),
    ]
    if logged.size:
        rows.insert(2, ("Size", logged.size))
    if state.ours:
        rows.append(("Ours", f"yes, counted found: {listing([t.say(line, number) for line, number in state.ours])}"))
    if (out := state.removed) is None:
        return Pairs((*rows, ("Taken out", "NO: it is still there, or nobody has settled it.")))
    rows += [
        ("Taken out", f"{out.how} ({when(removed.get(id(out), ''))})"),
        ("After", album.name(out.photo, f"Find after: {logged.what}")),
        ("Kept", out.kept or "not said"),
    ]
    return Pairs(tuple(rows))


# --- what did not agree


def differences(walk: Walk, album: Album) -> Section | None:
    """Counts that differed, what phones contradicted each other in, and what settled it."""
    checks = [(mark, fact) for mark, fact in walk.of(Checked)]
    if not walk.quarrels and not checks:
        return None
    rows = tuple(
        (when_cell(q.mark.at), q.mark.who, q.words + ".", _ended(walk, q.ended)) for q in walk.quarrels
    )
    blocks: list[Block] = []
    if rows:
        blocks.append(Table(("since", "who", "what", "settled"), (17, 16, 37, 30), rows))
    agreed = sum(walk.figures[mark.n][0].agrees for mark, _ in checks)
    if checks:
        blocks.append(Words(f"Places counted again one by one: {len(checks)}, of which {agreed} agreed."))
    return Section("Counts that differed", tuple(blocks))


def _ended(walk: Walk, step: Step | None) -> str:
    return f"{when(step.entry.at)}, {step.entry.who}: {_how(step.entry)}" if step else "NOT SETTLED"


def _how(entry: Entry) -> str:
    fact = entry.fact
    if isinstance(fact, Reversed):
        return f"a count was taken back ({fact.why})."
    if isinstance(fact, Missed):
        return "logged as missing."
    if isinstance(fact, Found | Searched):
        return f"found, {fact.where}."
    return "moved on the tally." if isinstance(fact, Counted | Converted) else "counted again, and it agreed."


def fallen(walk: Walk, album: Album) -> Section | None:
    """Clearances withdrawn and sign-offs recalled, and those that were given anew after it."""
    t = walk.teardown
    rows: list[tuple[str, str, str, str]] = []
    due: set[tuple[str, str]] = set()
    for change in walk.changes:
        if change.what in _GIVEN_ANEW:
            due.add((change.closure, _GIVEN_ANEW[change.what]))
            words = loud(change)
        elif (change.closure, change.what) in due:
            due.discard((change.closure, change.what))
            words = "Sign-off reissued." if change.what == "signed" else "Cleared to refit anew."
        elif change.what == FELL:
            words = loud(change)
        else:
            continue
        rows.append((when_cell(change.mark.at), change.mark.who, t.closures[change.closure].name, words))
    if not rows:
        return None
    heads = ("when", "by the entry of", "closure", "what fell, and why")
    return Section("Clearances and sign-offs that fell", (Table(heads, (17, 16, 19, 48), tuple(rows)),))
