"""Limits measured, fasteners tightened in passes, broken parts with their pieces, counts by weight."""

from __future__ import annotations

from checklists.account.album import Album
from checklists.account.parts import Block, Heading, Pairs, Section, Table, Words
from checklists.account.walk import Walk
from checklists.account.writing import when, when_cell
from checklists.by_weight import ONE_LINE_ONLY, whose_count
from checklists.facts_measured import Gauge, Measured, PartBroken, PieceWeighed, Tightened, WeighCounted
from checklists.state import BrokenPart, Mark, Teardown


def limits(walk: Walk, album: Album) -> Section | None:
    """Every measurement of a limit with its verdict, and the limits that nobody has measured."""
    t = walk.teardown
    rows = [_measurement(t, mark, fact) for mark, fact in walk.of(Measured)]
    touched = {change.closure for change in walk.changes}
    due = [f"{closure.name}: {limit.name}" for closure in t.sheet.closures for limit in closure.limits
           if closure.id in touched and (closure.id, limit.id) not in t.measured]  # fmt: skip
    blocks: list[Block] = []
    if rows:
        heads = ("when", "who", "what must be", "read", "which is")
        blocks.append(Table(heads, (17, 13, 25, 20, 25), tuple(rows)))
    if due:
        blocks.append(Words(f"Asked for and not measured since the closure came off: {'; '.join(due)}."))
    return Section("Limits measured", tuple(blocks)) if blocks else None


def _measurement(t: Teardown, mark: Mark, fact: Measured) -> tuple[str, ...]:
    from checklists.measured_limits import limit_named, limits_of

    limit = limit_named(t, fact.closure, fact.limit)
    name = f"{t.closures[fact.closure].name}: {limit.name if limit else fact.limit}"
    must = f"{name}\n{limits_of(limit)}" if limit else name
    last = t.measured.get((fact.closure, fact.limit))
    stands = "" if last and last[1].n == mark.n else "; measured again, or off again since"
    return when_cell(mark.at), mark.who, must, f"{fact.reading}\n{gauge_words(fact.gauge)}", _verdict(t, fact) + stands


def _verdict(t: Teardown, fact: Measured) -> str:
    """What this reading says, whether or not it is still the last."""
    from checklists.gauges import instrument_of
    from checklists.measured_limits import limit_named, limits_of
    from checklists.workshop.limits import judge_measurement
    from checklists.workshop.uncertainty import Instrument
    from checklists.workshop.units import Figure, read_figure

    limit = limit_named(t, fact.closure, fact.limit)
    reading, instrument = read_figure(fact.reading, "length"), instrument_of(fact.gauge, "length")
    if limit is None or not isinstance(reading, Figure) or not isinstance(instrument, Instrument):
        return "not to be judged"
    verdict = judge_measurement(reading, instrument, limits_of(limit)).verdict
    return verdict if verdict == "inside" else verdict.upper()


def gauge_words(gauge: Gauge) -> str:
    """An instrument with its step and error."""
    error = f", error up to {gauge.error}" if gauge.error else ""
    return f"{gauge.name}, reads to {gauge.step}{error}"


def tightening(walk: Walk, album: Album) -> tuple[Block, ...]:
    """How often fasteners were ticked off as tightened, pass by pass; for the section on torques."""
    t = walk.teardown
    passes: dict[tuple[str, int], list[Mark]] = {}
    for mark, fact in walk.of(Tightened):
        passes.setdefault((fact.closure, fact.percent), []).append(mark)
    if not passes:
        return ()
    rows = [
        (t.closures[closure].name, f"{percent} %", _ticks(t, marks), when_cell(marks[0].at), when_cell(marks[-1].at))
        for (closure, percent), marks in passes.items()
    ]
    heads = ("closure", "of the torque", "ticked", "first", "last")
    return Heading("Tightened one by one"), Table(heads, (30, 16, 16, 19, 19), tuple(rows))


def _ticks(t: Teardown, marks: list[Mark]) -> str:
    """How many ticks stand, and how many were made and taken back."""
    entries = [t.history[mark.n - 1] for mark in marks]
    back = sum((entry.device, entry.seq) in t.reversed for entry in entries)
    return f"{len(marks) - back}, {back} taken back" if back else str(len(marks))


# --- broken parts


def broken(walk: Walk, album: Album) -> Section | None:
    """Each broken part: what the whole should weigh, its pieces as last weighed, and whether they add up."""
    t = walk.teardown
    blocks: list[Block] = []
    for line, part in t.broken.items():
        blocks += [Heading(f"Broken: {t.lines[line].name}"), *(_about_broken(whole, part) for whole in part.wholes)]
        rows = [
            (piece, fact.mass, _length(fact), gauge_words(fact.gauge), f"{when(mark.at)}\n{mark.who}",
             album.name(fact.photo, f"Piece: {piece}"))
            for piece, (fact, mark) in part.pieces.items()
        ]  # fmt: skip
        if rows:
            heads = ("piece", "mass", "length", "weighed on", "when, by whom", "shown in")
            blocks.append(Table(heads, (20, 10, 11, 22, 26, 11), tuple(rows)))
        blocks += [*_sum(t, line), *album.shown()]
    if t.unaccounted:
        from checklists.broken_parts import not_accounted

        blocks += [Words(reason.words, True) for reason in not_accounted(t, None)]
    return Section("Broken parts and their pieces", tuple(blocks)) if blocks else None


def _length(fact: PartBroken | PieceWeighed) -> str:
    """A length as typed, with how far it can be off; where that was not said, what it is taken as."""
    from checklists.broken_parts import LENGTH_WITHIN

    return f"{fact.length} ± {fact.length_within or LENGTH_WITHIN}" if fact.length.strip() else "not said"


def _about_broken(fact: PartBroken, part: BrokenPart) -> Pairs:
    last = fact is part.fact
    rows = [
        *([("Said broken", f"{when(part.mark.at)}, {part.mark.who}")] if last else [("Broke", "another one, earlier")]),
        ("Broke", "before anything was opened" if fact.before else "during the work, or nobody knows when"),
        ("The whole weighs", f"{fact.mass}, from {fact.basis}, within {fact.likeness}; {_mass_rests_on(fact)}"),
        *([("The whole is long", _length(fact))] if fact.length.strip() else []),
        ("Smallest piece that harms", fact.smallest),
    ]
    return Pairs(tuple(rows))


def _mass_rests_on(fact: PartBroken) -> str:
    """What it was worked out from, or else the scale."""
    return fact.worked_out or gauge_words(fact.gauge)


def _sum(t: Teardown, line: str) -> list[Block]:
    from checklists.broken_parts import account_of, length_account_of

    account, length = account_of(t, line), length_account_of(t, line)
    if account is None:
        return [Words("Whether the pieces add up is not known: none was weighed.", True)]
    by_mass = Words(" ".join(account.words), account.verdict != "adds up")
    if length is None:
        return [by_mass]
    by_length = Words(length.words, length.verdict != "adds up")
    if length.verdict != "short":
        return [by_mass, by_length]
    return [by_length, Words(f"By mass: {by_mass.text}", by_mass.loud)]


# --- counts by weight


def by_weight(walk: Walk, album: Album) -> Section | None:
    """Counts by weight: a confirmation of the tally, never a movement."""
    t = walk.teardown
    rows = [
        (when_cell(mark.at), mark.who, f"{t.say(fact.line, fact.number)} {t.say_place(fact.place)}; "
         f"{whose_count(t, fact.line, fact.place, mark.who, mark.n)}",
         f"{fact.gross} in all, {fact.tare} empty; {fact.pieces} counted ones {fact.sample}, single ones "
         f"within {fact.scatter}", gauge_words(fact.gauge))
        for mark, fact in walk.of(WeighCounted)
    ]  # fmt: skip
    heads = ("when", "who", "counted by weight", "weighed", "scale")
    table = Table(heads, (17, 14, 24, 27, 18), tuple(rows))
    return Section("Counts by weight", (table, Words(ONE_LINE_ONLY))) if rows else None
