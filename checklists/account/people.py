"""Who worked, in what role, from when to when; cautions read; handovers and leaving the machine."""

from __future__ import annotations

from checklists.account.album import Album
from checklists.account.closures import figures_table, signature
from checklists.account.parts import Block, Heading, Section, Table, Words
from checklists.account.walk import Walk
from checklists.account.writing import when, when_cell
from checklists.facts import HandedOver, Joined, Left, Secured, Started, TookOver
from checklists.state import Mark, Tally
from checklists.words import how_many, listing


def people(walk: Walk, album: Album) -> Section:
    """Everybody who was on the job, and how many entries each made."""
    t = walk.teardown
    until = "the end" if t.ended else "still here"
    spells = _spells(walk)
    made: dict[str, int] = {}
    for entry in t.history:
        made[entry.who] = made.get(entry.who, 0) + 1
    rows = [
        (person.name, person.role or "not said", _listed(spells[person.name], 0, until),
         _listed(spells[person.name], 1, until), str(made.pop(person.name, 0)))
        for person in {person.name: person for person in walk.everybody}.values()
    ]  # fmt: skip
    rows += [(name, "not on the list of people", "", "", str(number)) for name, number in made.items()]
    table = Table(("name", "role", "from", "until", "entries"), (28, 22, 20, 20, 10), tuple(rows))
    alone = "One person worked alone: second counts are re-inspections after a pause, and are named so."
    return Section("People", (table, Words(alone)) if len({row[0] for row in rows}) == 1 else (table,))


def _spells(walk: Walk) -> dict[str, list[list[str]]]:
    """For everybody each time on the job: from when, until when ("" while it lasts)."""
    spells: dict[str, list[list[str]]] = {}
    for entry in walk.teardown.history:
        fact = entry.fact
        if isinstance(fact, Started):
            spells |= {person.name: [["the start", ""]] for person in fact.people}
        elif isinstance(fact, Joined):
            spells.setdefault(fact.person.name, []).append([when(entry.at), ""])
        elif isinstance(fact, Left) and spells.get(fact.name):
            spells[fact.name][-1][1] = when(entry.at)
    return spells


def _listed(spells: list[list[str]], end: int, until: str) -> str:
    """The one end of each spell, one below the other."""
    return "\n".join(spell[end] or until for spell in spells)


def cautions(walk: Walk, album: Album) -> Section | None:
    """Each caution and who acknowledged it."""
    t = walk.teardown
    if not t.sheet.cautions:
        return None
    rows = []
    for caution in t.sheet.cautions:
        mark = t.acknowledged.get(caution.id)
        rows.append((caution.text, f"{when(mark.at)}\n{mark.who}" if mark else "NOT ACKNOWLEDGED"))
    return Section("Cautions", (Table(("caution", "read and acknowledged"), (68, 32), tuple(rows)),))


def handovers(walk: Walk, album: Album) -> Section | None:
    """Handovers offered and taken: who gives and who takes, how the job stood, relief counts; each time it was left."""
    gave = [(mark, _given(walk, album, mark, fact), fact) for mark, fact in walk.of(HandedOver)]
    took = [(mark, _taken(walk, mark, fact), fact) for mark, fact in walk.of(TookOver)]
    left = [(mark, f"Left the machine, every opening covered{_tally(fact)}. {fact.note}".strip(), fact)
            for mark, fact in walk.of(Secured)]  # fmt: skip
    told: list[tuple[Mark, str, object]] = [*gave, *took, *left]
    if not told:
        return None
    rows = [(when_cell(mark.at), mark.who, words) for mark, words, _ in sorted(told, key=lambda one: one[0].n)]
    blocks: list[Block] = [Table(("when", "who", "what"), (17, 16, 67), tuple(rows))]
    for mark, _, _ in gave:
        blocks += _open_reasons(walk, mark)
    for mark, words, fact in took:
        blocks += [Heading("Relief count", f"{mark.who}, {when(mark.at)}")]
        blocks += [figures_table(walk.teardown, walk.figures[mark.n])] if fact.entries else []
        blocks.append(signature(walk, mark, words, fact.head, fact.signature))
    return Section("Handovers and leaving the machine", (*blocks, *album.shown()))


def _given(walk: Walk, album: Album, mark: Mark, fact: HandedOver) -> str:
    shown = [album.name(photo, f"Handover to {fact.to}") for photo in fact.photos]
    stood = walk.stood[mark.n]
    reasons = how_many(len(stood.reasons), "open reason") if stood.reasons else "no reason"
    bare = f"UNCOVERED: {listing(list(stood.uncovered))}" if stood.uncovered else "Every opening covered or sealed"
    return (
        f"{mark.who} gives, {fact.to} takes. {_figures(stood.tally)}; {reasons} against closing. {bare}. {fact.notes} "
        f"({', '.join(shown) or 'no photo'})"
    )


def _open_reasons(walk: Walk, mark: Mark) -> list[Block]:
    """What stood against closing when the job was offered, as whoever took it was told."""
    reasons = walk.stood[mark.n].reasons
    if not reasons:
        return []
    heading = Heading("What stood open when it was offered", f"{mark.who}, {when(mark.at)}")
    return [heading, Table(("what stood against closing",), (100,), tuple((words,) for words in reasons))]


def _figures(now: Tally) -> str:
    return "{} out, {} in or over the engine, {} missing".format(*now)


def _tally(fact: Secured) -> str:
    return f"; {_figures(Tally(*fact.tally))}" if len(fact.tally) == 3 else ""


def _taken(walk: Walk, mark: Mark, fact: TookOver) -> str:
    figures = walk.figures[mark.n]
    differ = sum(not figure.agrees for figure in figures)
    verdict = f"{differ} DIFFER" if differ else "all agree"
    counted = how_many(len(figures), "figure")
    stood = walk.stood[mark.n]
    return (
        f"{mark.who} took the job over from {stood.gives} after a relief count: {counted}, {verdict}. "
        f"{_figures(stood.tally)}. {fact.notes}"
    ).strip()
