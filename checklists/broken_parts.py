"""Broken parts: whether their pieces add up, where a missing piece could be, and why that stands against closing."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from math import fsum, sqrt
from typing import NamedTuple

from checklists.facts_measured import PartBroken, PieceWeighed
from checklists.gauges import as_typed, grams_of, instrument_of
from checklists.reasons import Reason
from checklists.state import Teardown
from checklists.whereabouts.items import ItemShape
from checklists.whereabouts.passing import verdict
from checklists.words import how_many, within
from checklists.workshop.fastener_mass import STEEL
from checklists.workshop.pieces import (
    Account,
    LengthAccount,
    account_for,
    account_for_length,
    expected_from_twin,
    sum_of_pieces,
    weighed,
)
from checklists.workshop.uncertainty import Estimate, Instrument
from checklists.workshop.units import Figure, NotUnderstood, read_figure

#: On what ground the whole part's mass is known.
TWIN, DIMENSIONS = "an identical part weighed", "its dimensions"
BASES = (TWIN, DIMENSIONS)
#: How far a length can be off, either way, where it is not said: read off a rule in millimetres.
LENGTH_WITHIN = "1 mm"


class BallAtOpening(NamedTuple):
    """Whether a ball as big as what is missing could pass an opening that stood uncovered."""

    opening: str
    verdict: str


def account_of(t: Teardown, part: str) -> Account | None:
    """The pieces of a broken part held against the whole; None before a piece was weighed, or what cannot be read."""
    broken = t.broken[part]
    expected = together([expected_mass(whole) for whole in broken.wholes])
    pieces = [piece for piece, _ in broken.pieces.values()]
    return account_by(_strictest(broken.wholes), pieces, expected) if expected else None


def together(wholes: Sequence[Estimate | None]) -> Estimate | None:
    """Several that broke, as one; None where one of them cannot be read.

    What makes one uncertain makes the others so too (one scale, one twin): their uncertainties add up (GUM 5.2.2,
    note 1).
    """
    known = [each for each in wholes if each is not None]
    if not known or len(known) < len(wholes):
        return None
    return Estimate(fsum(each.value for each in known), fsum(each.u for each in known))


def _strictest(wholes: Sequence[PartBroken]) -> PartBroken:
    """The one of which the smallest piece does harm."""

    def size(whole: PartBroken) -> float:
        smallest = read_figure(whole.smallest, "length")
        return float(smallest.si) if isinstance(smallest, Figure) else 0.0

    return min(wholes, key=size)


def account_by(whole: PartBroken, pieces: Iterable[PieceWeighed], expected: Estimate | None = None) -> Account | None:
    """Pieces held against what the whole should weigh, as typed; or against `expected`, where that is known better."""
    expected, found = expected or expected_mass(whole), _found(pieces)
    smallest = smallest_of(whole.smallest)
    if expected is None or found is None or isinstance(smallest, NotUnderstood):
        return None
    return account_for(expected, found, smallest, density=density_of(whole.density))


def density_of(text: str) -> float:
    """A density as typed, in g/mm3; steel's for none, or what cannot be read."""
    density = read_figure(text, "density")
    return float(density.si) if isinstance(density, Figure) and density.number > 0 else STEEL


def expected_mass(fact: PartBroken) -> Estimate | None:
    """The whole part's mass, with all that makes it uncertain."""
    mass, likeness = grams_of(fact.mass), grams_of(fact.likeness)
    if not isinstance(mass, float) or not isinstance(likeness, float) or not mass:
        return None
    if fact.basis != TWIN:
        written = as_typed(Instrument("", 0.0, 0.0), fact.mass).reading_u
        return Estimate(mass, sqrt(likeness**2 / 3 + written**2))
    scale = instrument_of(fact.gauge, "mass")
    if not isinstance(scale, Instrument):
        return None
    return expected_from_twin(weighed(as_typed(scale, fact.mass), mass), likeness / mass)


def likeness_of(basis: str, text: str) -> float | NotUnderstood:
    """How far the whole's mass can be off, in g; nothing is worked out from dimensions without any error."""
    off = grams_of(text)
    if off == 0 and basis == DIMENSIONS:
        words = "A mass worked out from dimensions is never exact: say how far it can be off, such as 0.2 g."
        return NotUnderstood(text, words)
    return off


def smallest_of(text: str) -> float | NotUnderstood:
    """The smallest piece that does harm, as a ball's diameter in mm; it is more than nothing."""
    size = read_figure(text, "length")
    if isinstance(size, NotUnderstood):
        return size
    if size.number <= 0:
        return NotUnderstood(text, "The smallest piece that does harm is more than 0 mm; say it, such as 2 mm.")
    return float(size.si)


def _found(pieces: Iterable[PieceWeighed]) -> Estimate | None:
    """The sum of the pieces. Those weighed on one scale share its error; scales do not share theirs."""
    by_scale: dict[Instrument, list[str]] = {}
    for piece in pieces:
        scale, mass = instrument_of(piece.gauge, "mass"), grams_of(piece.mass)
        if not isinstance(scale, Instrument) or not isinstance(mass, float):
            return None
        by_scale.setdefault(scale, []).append(piece.mass)
    sums = [
        sum_of_pieces(as_typed(scale, *typed), [mass for mass in map(grams_of, typed) if isinstance(mass, float)])
        for scale, typed in by_scale.items()
    ]
    return Estimate(fsum(s.value for s in sums), sqrt(fsum(s.u**2 for s in sums))) if sums else None


def length_of(text: str, within_text: str = "") -> Estimate | None:
    """A length as typed, in mm, as good as it is said to be; None for none, or what cannot be read.

    All values within the limits said are taken as equally likely (GUM 4.3.7).
    """
    length, off = read_figure(text, "length"), read_figure(within_text.strip() or LENGTH_WITHIN, "length")
    if not isinstance(length, Figure) or not isinstance(off, Figure) or length.number <= 0 or off.number <= 0:
        return None
    return Estimate(float(length.si), float(off.si) / sqrt(3))


def length_account_of(t: Teardown, part: str) -> LengthAccount | None:
    """The pieces laid end to end against the whole; None unless the whole and every piece have a length to read.

    It clears nothing: a splinter takes nothing off a length. But a length that is not there is a piece that is not.
    """
    broken = t.broken[part]
    return length_account_by(broken.wholes, [piece for piece, _ in broken.pieces.values()])


def length_account_by(wholes: Iterable[PartBroken], pieces: Iterable[PieceWeighed]) -> LengthAccount | None:
    """The same of the wholes and their pieces as typed."""
    expected = together([length_of(whole.length, whole.length_within) for whole in wholes])
    lengths = [length_of(piece.length, piece.length_within) for piece in pieces]
    known = [length for length in lengths if length is not None]
    if expected is None or not lengths or len(known) < len(lengths):
        return None
    return account_for_length(expected, known)


def adds_up(t: Teardown, part: str) -> bool:
    """Whether the pieces add up by mass, and no length says otherwise."""
    account = account_of(t, part)
    return account is not None and account.verdict == "adds up" and _short_in_length(t, part) is None


def _short_in_length(t: Teardown, part: str) -> LengthAccount | None:
    account = length_account_of(t, part)
    return account if account is not None and account.verdict == "short" else None


# ---- where a piece could be


def spaces_of_pieces(t: Teardown, part: str) -> frozenset[str]:
    """The spaces a missing piece could be in: those that stood open since the part was last seen whole.

    A piece has no shape that anybody knows, and there may be several, so none of these is ruled out. A part that was
    broken before anything was opened may have shed pieces anywhere.
    """
    spaces = t.could_hold_pieces(t.broken[part])
    return frozenset(t.spaces) if spaces is None else spaces


def openings_of_pieces(t: Teardown, part: str) -> list[str]:
    """The openings through which a piece could have gone, or behind which it could lie."""
    broken = t.broken[part]
    if not broken.before:
        opened = t.exposure.openings_since(broken.seen_n)
        return opened + [o.id for o in t.sheet.openings if o.space in broken.inside and o.id not in opened]
    return [o.id for o in t.sheet.openings if t.closure_states[o.closure].was_lifted]


def ball_at_openings(t: Teardown, part: str) -> tuple[BallAtOpening, ...]:
    """Whether a ball of the missing mass (else of what the scale could hide) could pass each of these openings."""
    account = account_of(t, part)
    size = 0.0 if account is None else account.ball if account.verdict == "short" else account.hidden
    if size <= 0:
        return ()
    ball = ItemShape("ball", (size,))
    return tuple(
        BallAtOpening(opening, verdict(ball, t.openings[opening].clear)) for opening in openings_of_pieces(t, part)
    )


# ---- why it stands against closing


def piece_reasons(t: Teardown, closure: str | None) -> Iterator[Reason]:
    """Broken parts whose pieces do not add up, against one closure, or against the teardown where none is named."""
    yield from not_accounted(t, closure)
    for part in t.broken:
        if part in t.unaccounted:
            continue
        if closure is not None and spaces_of_pieces(t, part).isdisjoint(t.spaces_of(closure)):
            continue
        account = account_of(t, part)
        if account is None or account.verdict in ("short", "too much") or _short_in_length(t, part):
            yield pieces_missing(t, part, account, closure or "")
        if account is not None and account.verdict == "cannot tell":
            yield from _not_looked_for(t, part, account, closure)


def not_accounted(t: Teardown, closure: str | None) -> Iterator[Reason]:
    """Parts that broke and of which nobody said what the whole should weigh."""
    for part, due in t.unaccounted.items():
        known = t.broken.get(part)
        seen_n = min([each.seen_n for each in due] + ([known.seen_n] if known else []))
        inside = frozenset[str]().union(*(each.inside for each in due), known.inside if known else ())
        spaces = t.exposure.exposed_since(seen_n).union(*(t.ways.from_space[space] for space in inside))
        if closure is not None and spaces.isdisjoint(t.spaces_of(closure)):
            continue
        whole = "the whole" if len(due) == 1 else f"each of the {len(due)}"
        yield Reason(
            "pieces do not add up",
            f"Broken {within(t.lines[part].name)}: nobody has said what {whole} should weigh.",
            "Say what the whole should weigh, then weigh its pieces.",
            line=part,
            line_name=t.lines[part].name,
            since=due[0].mark.at,
            who=due[0].mark.who,
            closure=closure or "",
        )


def pieces_missing(t: Teardown, part: str, account: Account | None, closure: str = "") -> Reason:
    """Why a broken part's pieces do not add up: by their mass, by their length, or by both."""
    broken, length = t.broken[part], _short_in_length(t, part)
    name = within(t.lines[part].name) if part in t.lines else part
    if account is None:
        words, do_next = "no piece of it is weighed yet.", "Gather its pieces, photograph and weigh each one."
    elif account.verdict in ("short", "too much"):
        words, do_next = account.words[0], account.words[1]
        words += f" {length.words}" if length else ""
    else:
        words = length.words if length else account.words[0]
        do_next = "A piece is missing by its length: look for it, or measure the pieces again."
    return Reason(
        "pieces do not add up",
        f"Broken {name}, {how_many(len(broken.pieces), 'piece')}: {words}",
        do_next,
        line=part,
        line_name=t.lines[part].name if part in t.lines else part,
        since=broken.mark.at,
        who=broken.mark.who,
        closure=closure,
    )


def _not_looked_for(t: Teardown, part: str, account: Account, closure: str | None) -> Iterator[Reason]:
    """The scale cannot tell: every opening concerned must have been looked into since the pieces were weighed."""
    broken, name = t.broken[part], within(t.lines[part].name) if part in t.lines else part
    concerned = openings_of_pieces(t, part)
    for opening in concerned if closure is None else t.ways.openings_of[closure]:
        look, mark = t.looks.get(opening, (None, None))
        if opening not in concerned or (look and mark and look.clear and mark.n > broken.weighed_n):
            continue
        where = within(t.openings[opening].name)
        yield Reason(
            "pieces not looked for",
            f"Broken {name}: {account.words[0]} Nobody has looked for one in {where} since they were weighed.",
            f"Look into {where} and photograph it, or weigh the pieces on a finer scale.",
            line=part,
            since=broken.mark.at,
            who=broken.mark.who,
            closure=closure or t.openings[opening].closure,
            opening=opening,
        )


def both_words(account: Account, length: LengthAccount | None) -> tuple[str, ...]:
    """What the mass and the lengths say; what is short stands first."""
    if length is None:
        return account.words
    if length.verdict != "short" or account.verdict == "short":
        return *account.words, length.words
    return length.words, f"By mass: {account.words[0]}", *account.words[1:]


def account_words(t: Teardown, part: str) -> tuple[str, ...]:
    """All that is known of a broken part, for the screen and the closing sheet."""
    account, length = account_of(t, part), length_account_of(t, part)
    if account is None:
        return (pieces_missing(t, part, None).words,)
    words = both_words(account, length)
    if account.verdict not in ("short", "cannot tell"):
        return words
    size = account.ball if account.verdict == "short" else account.hidden
    ways = [
        f"A ball of {size:.1f} mm {_PASS[passing]} {within(t.openings[opening].name)}."
        for opening, passing in ball_at_openings(t, part)
    ]
    return (*words, *ways)


_PASS = {"passes": "could pass", "might pass": "might pass", "cannot pass": "cannot pass"}
