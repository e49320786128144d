"""Each closure that was opened: its counts out and back, what became of it, looks, second counts and signatures."""

from __future__ import annotations

from checklists import places
from checklists.account.album import Album
from checklists.account.parts import Block, Heading, Marks, Pairs, Section, Signature, Table, Words
from checklists.account.walk import FELL, WITHDRAWN, Change, Figure, Walk
from checklists.account.writing import when, when_cell
from checklists.clock_back import LEAST
from checklists.facts import Cleared, Lifted, Looked, SecondCounted, Short, Signed, Strokes
from checklists.gate import dates_look
from checklists.sheet import Line
from checklists.state import FITTED, RECALLED, SIGNED, Mark, Teardown
from checklists.times import duration_words, seconds_between
from checklists.words import how_many, listing, sentence

LINE_HEADS = ("item", "belongs", "count", "out", "back", "now")
LINE_SHARES = (30, 9, 20, 6, 6, 29)


def opened(walk: Walk) -> list[str]:
    """The closures that were touched at all, in the order of the sheet."""
    touched = {change.closure for change in walk.changes}
    return [closure for closure in walk.teardown.closures if closure in touched]


def summary(walk: Walk) -> tuple[Block, ...]:
    """One row a closure: how it stands, its counts, who signed it and when."""
    t = walk.teardown
    rows = [_summary_row(walk, closure) for closure in opened(walk)]
    left = [c.name for c in t.sheet.closures if c.id not in opened(walk)]
    blocks: list[Block] = []
    if rows:
        heads = ("closure", "state", "count", "out", "back", "signed")
        blocks.append(Table(heads, (27, 17, 22, 7, 7, 20), tuple(rows)))
    if left:
        blocks.append(Words(f"Never opened: {listing(left)}."))
    return tuple(blocks)


def _summary_row(walk: Walk, closure: str) -> tuple[str | Marks, ...]:
    t = walk.teardown
    state = t.closure_states[closure]
    lines = t.lines_of(closure)
    out, back = (sum(getattr(walk.flow(line), side) for line in lines) for side in ("out", "back"))
    marks = Marks(out, sum(away(t, line) for line in lines))
    signed = f"{when_cell(state.signed.at)}\n{state.signed.who}" if state.signed else "not signed"
    return t.closures[closure].name, stage_words(state.stage), marks, str(out), str(back), signed


def stage_words(stage: str) -> str:
    """A closure's stage as a state: what is not finished stands out."""
    return {SIGNED: "SIGNED", FITTED: "fitted, as before", RECALLED: "SIGN-OFF RECALLED"}.get(stage, f"OPEN: {stage}")


def sections(walk: Walk, album: Album) -> list[Section]:
    """A section for each closure that was opened."""
    return [_section(walk, album, closure) for closure in opened(walk)]


def _section(walk: Walk, album: Album, closure: str) -> Section:
    t = walk.teardown
    blocks: list[Block] = [_about(t, closure), Heading("Counts out and back"), count_table(walk, t.lines_of(closure))]
    blocks += [Heading("What was done"), _course(walk, album, closure)]
    blocks += _looks(walk, album, closure)
    blocks += _second_counts(walk, closure)
    if shown := album.shown():
        blocks += [Heading("Photos"), *shown]
    if signatures := _signatures(walk, closure):
        blocks += [Heading("Signatures that stand"), *signatures]
    title = f"{t.closures[closure].name}: {stage_words(t.closure_states[closure].stage)}"
    return Section(title, tuple(blocks))


def _about(t: Teardown, closure: str) -> Pairs:
    known, state = t.closures[closure], t.closure_states[closure]
    seals = [t.openings[o].name for o in t.ways.openings_of[closure]]
    spaces = [t.spaces[s].name for s in t.spaces if s in t.spaces_of(closure)]
    rows = [("Seals", listing(seals) or "no opening"), ("Answers for", listing(spaces) or "no space")]
    if known.lies_over:
        rows.append(("Lies over", listing([t.closures[below].name for below in known.lies_over])))
    rows += [("Torque, maker's figure", known.torque or "none on the sheet"), ("Torque used", state.torque or "none")]
    if state.remark:
        rows.append(("Remark", state.remark))
    return Pairs(tuple(rows))


# --- counts


def count_table(walk: Walk, lines: list[str]) -> Table:
    """Lines with their counts out and back."""
    return Table(LINE_HEADS, LINE_SHARES, tuple(count_row(walk, walk.teardown.lines[line]) for line in lines))


def count_row(walk: Walk, line: Line) -> tuple[str | Marks, ...]:
    """One line: what belongs there, the strokes, out, back, and where all of it is now."""
    t, flow = walk.teardown, walk.flow(line.id)
    belongs = t.required.get(line.id, t.total(line.id))
    marks = Marks(max(flow.out, away(t, line.id)), away(t, line.id))
    return line.name, str(belongs), marks, str(flow.out), str(flow.back), _now(walk, line)


def away(t: Teardown, line: str) -> int:
    """How many of a line are neither home nor otherwise at rest."""
    return sum(q for p, q in t.places_of(line).items() if places.family(p) not in places.RESTING_FAMILIES)


def _now(walk: Walk, line: Line) -> str:
    t = walk.teardown
    where = t.places_of(line.id)
    renewed = walk.flow(line.id).renewed
    away_first = sorted(where, key=lambda place: (places.family(place) in places.RESTING_FAMILIES, place))
    elsewhere = [f"{where[place]} {t.say_place(place)}" for place in away_first if place != line.home and where[place]]
    if renewed:
        elsewhere = [f"{renewed} renewed, the old in scrap" if e == f"{renewed} in scrap" else e for e in elsewhere]
    home = where.get(line.home, 0)
    if home and home >= t.required.get(line.id, t.total(line.id)):
        return "; ".join(["all home", *elsewhere])
    return listing([f"{home} home", *elsewhere] if home else elsewhere)


# --- the course of things


def _course(walk: Walk, album: Album, closure: str) -> Table:
    rows = [
        (when_cell(mark.at), mark.who, words)
        for mark, words in sorted([*_short(walk, album, closure), *_changes(walk, album, closure)])
    ]
    return Table(("when", "who", "what"), (17, 16, 67), tuple(rows))


def _short(walk: Walk, album: Album, closure: str) -> list[tuple[Mark, str]]:
    t = walk.teardown
    said = []
    for mark, fact in walk.of(Short):
        if fact.closure == closure:
            items = listing([t.say(move.line, move.quantity) for move in fact.moves])
            photo = album.name(fact.photo, f"Short at the start: {t.closures[closure].name}")
            said.append((mark, f"Short at the start: {items} not there when it was opened ({photo})."))
    return said


def _changes(walk: Walk, album: Album, closure: str) -> list[tuple[Mark, str]]:
    facts = _said(walk, closure)
    signed = 0
    said = []
    for change in walk.changes:
        if change.closure != closure:
            continue
        signed += change.what == "signed"
        again = "Sign-off reissued. " if change.what == "signed" and signed > 1 else ""
        said.append((change.mark, again + _change_words(walk, album, change, facts.get(change.mark.n))))
    return said


def _said(walk: Walk, closure: str) -> dict[int, Lifted | Cleared | Signed]:
    facts: list[tuple[Mark, Lifted | Cleared | Signed]] = [*walk.of(Lifted), *walk.of(Cleared), *walk.of(Signed)]
    return {mark.n: fact for mark, fact in facts if fact.closure == closure}


def loud(change: Change) -> str:
    """What fell by itself, so that nobody reads past it: "SIGN-OFF RECALLED: why."."""
    what, _, why = change.why.partition(": ")
    return f"{what.upper()}: {why}" if why and what.lower() == change.what else f"{change.what.upper()}. {change.why}"


def _change_words(walk: Walk, album: Album, change: Change, fact: Lifted | Cleared | Signed | None) -> str:
    name = walk.teardown.closures[change.closure].name
    if change.what in (WITHDRAWN, "sign-off recalled", FELL):
        return loud(change)
    if isinstance(fact, Lifted):
        return f"Lifted after its lift check ({album.name(fact.photo, f'Lift check: {name}')})."
    if isinstance(fact, Cleared):
        return f"Cleared to refit. {fact.statement} Signed for head {fact.head[:16]}…"
    if isinstance(fact, Signed):
        torque = f" Torque used: {fact.torque}." if fact.torque else ""
        return f"Signed as closed. {fact.statement}{torque} Signed for head {fact.head[:16]}…"
    return f"{sentence(change.what)}. {change.why}".strip()


# --- closeout looks


def _looks(walk: Walk, album: Album, closure: str) -> list[Block]:
    t = walk.teardown
    openings = t.ways.openings_of[closure]
    rows = [
        (when_cell(mark.at), t.openings[fact.opening].name, mark.who, _look_words(t, mark, fact),
         album.name(fact.photo, f"Closeout: {t.openings[fact.opening].name}"))
        for mark, fact in walk.of(Looked) if fact.opening in openings
    ]  # fmt: skip
    heading = Heading("Looked inside before closing", how_many(len(rows), "look") if rows else "")
    if not rows:
        return [heading, Words("Nobody has looked inside.")] if openings else []
    return [heading, Table(("when", "opening", "who", "what was seen", "shown in"), (17, 25, 16, 30, 12), tuple(rows))]


def _look_words(t: Teardown, mark: Mark, fact: Looked) -> str:
    words = f"{'Clear' if fact.clear else 'NOT CLEAR'}: {fact.seen}."
    last = t.looks.get(fact.opening)
    if last is None or last[0] is not fact:
        return f"{words} Looked into again since."
    later = dates_look(t, fact.opening)
    return f"{words} OUT OF DATE: something moved there at {when(later.at)}." if later else words


# --- second counts


def _second_counts(walk: Walk, closure: str) -> list[Block]:
    t = walk.teardown
    counts = [(mark, fact) for mark, fact in walk.of(SecondCounted) if fact.closure == closure]
    heading = Heading("Second count")
    if not counts:
        asked = t.closures[closure].second_count
        return [heading, Words("None was made yet." if asked else "The sheet asks for none here.")]
    rows = [(when_cell(mark.at), mark.who, _count_words(walk, mark, fact)) for mark, fact in counts]
    blocks: list[Block] = [heading, Table(("when", "who", "what"), (17, 16, 67), tuple(rows))]
    mark = counts[-1][0]
    blocks.append(Heading("The last one, figure by figure", f"{mark.who}, {when(mark.at)}"))
    blocks.append(figures_table(t, walk.figures[mark.n]))
    return blocks


def _count_words(walk: Walk, mark: Mark, fact: SecondCounted) -> str:
    figures = walk.figures[mark.n]
    agreed = sum(figure.agrees for figure in figures)
    what = "Blind second count by another person."
    if fact.alone:
        what = f"NOT a second count: re-inspection by the same person, alone{_pause(walk, mark)}."
    differ = len(figures) - agreed
    verdict = f"{differ} DIFFER: {_differences(walk, figures)}." if differ else "All agree."
    walked = ", near the opening, in trays, on bench, in bin, on floor and put away" if fact.places else ""
    return f"{what} {how_many(len(figures), 'figure')}{walked}. {verdict}"


def _pause(walk: Walk, mark: Mark) -> str:
    before = walk.teardown.history[mark.n - 2] if mark.n > 1 else None
    if before is None:
        return ""
    after = seconds_between(before.at, mark.at)
    if after <= -LEAST:
        return "; how long after the last entry cannot be told, for the clock was set back"
    return f", {duration_words(after)} after the last entry"


def _differences(walk: Walk, figures: tuple[Figure, ...]) -> str:
    t = walk.teardown
    return "; ".join(
        f"{t.lines[f.seen.line].name} {t.say_place(f.seen.place)}: {f.seen.quantity} counted, {f.had} on the tally"
        for f in figures
        if not f.agrees
    )


def figures_table(t: Teardown, figures: tuple[Figure, ...]) -> Table:
    """What was counted beside what the tally had at that moment."""
    rows = [
        (t.lines[f.seen.line].name, t.say_place(f.seen.place), str(f.seen.quantity), str(f.had),
         "agree" if f.agrees else "DIFFER")
        for f in figures
    ]  # fmt: skip
    return Table(("item", "place", "counted", "on the tally", ""), (36, 32, 10, 12, 10), tuple(rows))


# --- signatures


def _signatures(walk: Walk, closure: str) -> list[Block]:
    state = walk.teardown.closure_states[closure]
    standing = {mark.n for mark in (state.cleared, state.signed) if mark}
    facts: list[tuple[Mark, Cleared | Signed]] = [*walk.of(Cleared), *walk.of(Signed)]
    return [
        signature(walk, mark, f"{'Cleared to refit' if isinstance(fact, Cleared) else 'Signed as closed'}: "
                  f"{fact.statement}", fact.head, fact.signature)
        for mark, fact in sorted(facts, key=lambda one: one[0].n)
        if fact.closure == closure and mark.n in standing
    ]  # fmt: skip


def signature(walk: Walk, mark: Mark, statement: str, head: str, strokes: Strokes) -> Signature:
    """A signature with the role of whoever gave it."""
    roles = [person.role for person in walk.everybody if person.name == mark.who]
    return Signature(mark.who, roles[-1] if roles else "", when(mark.at), statement, head, strokes)
