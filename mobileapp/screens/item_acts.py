"""What can be done with the items of a line, and the facts that say it was done. Pure, no widgets."""

from __future__ import annotations

from typing import NamedTuple

from checklists import builders, places
from checklists.facts import Converted, Counted
from checklists.naming import unique_id
from checklists.sheet import Line
from checklists.state import Teardown
from checklists.words import listing, plural

#: Short name, words, kinds of lines, shape: in the order of the screen.
GROUPS: tuple[tuple[str, str, tuple[str, ...], str], ...] = (
    ("covers", "Rags, covers, consumables", ("rag", "cover", "consumable"), "covered"),
    ("tools", "Tools", ("tool",), "out"),
    ("own", "Personal items", ("personal item",), "own"),
    ("parts", "Parts and fasteners", ("part", "fastener"), "fitted"),
)
#: Where one item in hand most likely comes from.
_IN_HAND = (places.BENCH, places.TRAY, places.STORES, places.NEW_STOCK)


class ItemAct(NamedTuple):
    """One thing to do with a line. `ready` False: nothing is where it would be taken from."""

    do: str
    text: str
    note: str
    shape: str
    ready: bool


def lines_of_group(t: Teardown, group: str) -> list[Line]:
    """The lines of a group, those with something out first, else in the sheet's order."""
    kinds = next((kinds for name, _, kinds, _ in GROUPS if name == group), ())
    return sorted(
        (line for line in t.lines.values() if line.kind in kinds), key=lambda line: not away(t, line.id)
    )


def away(t: Teardown, line: str) -> int:
    """How many of a line are neither at home nor scrapped: out, in the engine or missing."""
    return sum(
        q
        for place, q in t.places_of(line).items()
        if q > 0 and places.family(place) not in places.RESTING_FAMILIES
    )


def where_words(t: Teardown, line: str) -> str:
    """Where the items of a line are, in figures: "7 put away and 1 on the bench"."""
    parts = [
        f"{q} {t.say_place(place)}"
        for place, q in t.places_of(line).items()
        if q > 0 and place != places.CONVERTED
    ]
    return listing(parts) or "none left"


def in_hand(t: Teardown, line: str) -> str:
    """The place one item is taken from: in use first, then the tray, then put away; empty when there is none."""
    return next(iter(hands(t, line)), "")


def hands(t: Teardown, line: str) -> list[str]:
    """Every place from which one item may be taken in hand, the likeliest first."""
    return [place for place in _IN_HAND if t.quantity(line, place) > 0]


def acts(t: Teardown, line: str) -> list[ItemAct]:
    """What can be done with one item of a line, the usual first."""
    known = t.lines[line]
    hand = in_hand(t, line)
    usual = _at_home_on_a_closure(t, line) if places.family(known.home) == "fitted" else _put_away_at_home(t, line)
    return [
        *usual,
        ItemAct("into", "Put into or over the open engine", "say where", "engine", bool(hand)),
        *_conversions(known.kind, bool(hand)),
        ItemAct("scrap", "To scrap", f"from {_say(t, hand)}" if hand else "none in hand", "lifted", bool(hand)),
        ItemAct("add", "Add more of it", "before it is used", "more", True),
    ]


def _at_home_on_a_closure(t: Teardown, line: str) -> list[ItemAct]:
    closure = t.closures[places.named(t.lines[line].home)].name
    return [
        ItemAct("count", "Count out or back", f"at home on the {closure}", "back", True),
        ItemAct("renew", "Renew", "old to scrap, new from new stock", "recalled", bool(in_hand(t, line))),
    ]


def _put_away_at_home(t: Teardown, line: str) -> list[ItemAct]:
    out, inside, stored = _out(t, line), in_engine(t, line), t.quantity(line, places.STORES) > 0
    taken_out = ItemAct("out", "Take it out, to the bench", f"from {_say(t, inside)}", "out", True)
    return [
        *([taken_out] if inside else []),
        *([ItemAct("use", "Take into use", "to the bench", "out", stored)] if stored or not inside else []),
        ItemAct("away", "Put away", f"from {_say(t, out)}" if out else "none is out", "back", bool(out)),
    ]


def in_engine(t: Teardown, line: str) -> str:
    """The place in or over the open engine where one lies; empty when none does."""
    held = (place for place, q in t.places_of(line).items() if q > 0)
    return next((place for place in held if places.family(place) in (places.ENGINE, "on")), "")


def _conversions(kind: str, held: bool) -> list[ItemAct]:
    made = []
    if kind == "rag":
        made.append(ItemAct("tear", "Tear in two", "1 becomes 2 pieces", "more", held))
    if kind == "consumable":
        made.append(ItemAct("open", "Open a pack", "say how many are in it", "more", held))
    if kind in _BREAKS:
        made.append(ItemAct("break", "It broke", "say how many pieces", "loosened", held))
    return made


_BREAKS = frozenset({"part", "fastener", "tool", "cover", "personal item"})


def _say(t: Teardown, place: str) -> str:
    words = {places.STORES: "where it is put away", places.BENCH: "the bench", places.TRAY: "the tray"}
    return words.get(place) or t.say_place(place)


def _out(t: Teardown, line: str) -> str:
    """The place from which one would be put away: tray, bench, engine; empty when none is out."""
    place = builders.where_away(t, line)
    return place if t.quantity(line, place) > 0 else ""


def one_tap(t: Teardown, line: str, do: str) -> Counted | Converted:
    """The fact of an act that needs nothing more said."""
    if do == "use":
        return builders.count_out(t, line)
    if do == "out":
        return builders.move(line, 1, in_engine(t, line), places.BENCH)
    if do == "away":
        return builders.count_back(t, line)
    if do == "tear":
        return pieces(t, line, 2, "torn in two")
    return builders.move(line, 1, in_hand(t, line), places.SCRAP)


def pieces(t: Teardown, line: str, number: int, how: str) -> Converted:
    """One item becomes `number` pieces, each of which must be accounted for."""
    return builders.convert(line, 1, in_hand(t, line), [(piece_line(t, line, number), number)], how)


def opened(t: Teardown, line: str, what: str, number: int) -> Converted:
    """A pack becomes what was in it."""
    made = _line_named(t, what, t.lines[line].kind, number)
    return builders.convert(line, 1, in_hand(t, line), [(made, number)], "pack opened")


def piece_line(t: Teardown, line: str, number: int) -> Line:
    """The line of a piece of this: the same for every rag of that name; a piece of a piece is a piece."""
    known = t.lines[line]
    if known.name.endswith(" piece"):
        return known
    return _line_named(t, f"{known.name} piece", "rag" if known.kind == "rag" else "part", number)


def _line_named(t: Teardown, name: str, kind: str, number: int) -> Line:
    """The line of that name and kind that is put away when at home; a new one with an id of its own where none is."""
    for line in t.lines.values():
        if (line.name, line.kind, line.home) == (name, kind, places.STORES):
            return line
    return Line(unique_id(name, t.lines), name, kind, number, places.STORES)


def spots(t: Teardown) -> list[tuple[str, str]]:
    """(place, words) in or over the open engine: spot not said, the open spaces, on a closure that is in its place."""
    near = list(
        dict.fromkeys(t.openings[o].space for o, state in t.opening_states.items() if state.state != "sealed")
    )
    reached = [s for s in t.spaces if s in t.exposure.not_sealed() and s not in near]
    inside = [(places.inside(s), f"Into {t.spaces[s].name}") for s in near + reached]
    on = [(places.lying_on(c), f"On the {closure.name}") for c, closure in t.closures.items()]
    return [(places.ENGINE, "In or over it, spot not said"), *inside, *on]


def group_note(t: Teardown, group: str) -> str:
    """A group in figures: how many lines, how many items are out."""
    lines = lines_of_group(t, group)
    out = sum(away(t, line.id) for line in lines)
    count = f"{len(lines)} {'line' if len(lines) == 1 else plural('line')}"
    return f"{count}, {out} out" if out else count
