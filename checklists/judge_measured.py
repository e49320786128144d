"""May this be searched, weighed, measured, tightened? What cannot be read is refused in the words of the workshop."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Any

from checklists import broken_parts, judge_counts, places
from checklists import facts_measured as f
from checklists.facts import Found, Seen
from checklists.fold_moves import all_home
from checklists.gauges import as_typed, grams_of, instrument_of, percent_of
from checklists.measured_limits import limit_named
from checklists.reason_making import not_home
from checklists.reasons import Reason
from checklists.refusing import PASSED, Reasons, no, photo
from checklists.sheet_fault import choices
from checklists.state import IN_PLACE, SIGNED, Teardown
from checklists.tightening_plan import plan_of
from checklists.words import within
from checklists.workshop.uncertainty import Estimate
from checklists.workshop.units import Figure, NotUnderstood, read_figure
from checklists.workshop.weighing import Sample, WeighCount, count_by_mass, unit_mass

#: How a place is searched.
METHODS = ("eye", "mirror", "borescope", "magnet", "feel", "sieve")


def _readable(*read: object) -> list[Reason]:
    """A reason against each figure that is not understood, in the words that say how to write it."""
    return [r for each in read if isinstance(each, NotUnderstood) for r in no("figure", each.words, "Type it again.")]


# ---- searching


def searched(t: Teardown, fact: f.Searched, at: str, who: str) -> Iterable[Reason]:
    """A search is for something missing, says where and how, and what was seen. What was found goes somewhere."""
    reasons: list[Reason] = []
    if not t.quantity(fact.line, places.MISSING):
        reasons += no("not missing", "Nothing of this line is missing.", "Say what is missing first.", line=fact.line)
    if fact.method not in METHODS:
        reasons += no("no method", f"It is not said how it was searched: {choices(METHODS)}.", "Choose one of these.")
    if not fact.where.strip():
        reasons += no("no place", "It is not said where was searched.", "Name a space, or the spot in words.")
    if not fact.seen.strip():
        reasons += no("not said", "It is not said what was seen.", "Say what you saw there, or that you saw nothing.")
    if fact.photo.strip():
        reasons += photo(t, fact.photo, "the place that was searched")
    return [*reasons, *_found(t, fact, at, who)]


def _found(t: Teardown, fact: f.Searched, at: str, who: str) -> Iterable[Reason]:
    """What was found and what moves are one: neither stands without the other."""
    if not fact.found:
        words = "It was not found, and yet something of it would move."
        return no("not found", words, "Say that it was there, or move nothing.", line=fact.line) if fact.moves else ()
    if not fact.reached:
        return no("not reached", "Nothing is found where nobody could look.", "Say one or the other.", line=fact.line)
    if not fact.moves:
        words = "It was found, but not said how many and where they are now."
        return no("nothing moved", words, "Say how many were found and where you put them.", line=fact.line)
    if any(move.line != fact.line for move in fact.moves):
        return no("another line", "Something else was searched for.", "Log that as found by itself.", line=fact.line)
    return judge_counts.found(t, Found(fact.where, fact.moves), at, who)


# ---- pieces


def part_broken(t: Teardown, fact: f.PartBroken, at: str, who: str) -> Iterable[Reason]:
    """A broken part is one on the tally, and it is said what the whole should weigh."""
    if fact.line not in t.lines:
        return no("unknown line", f"No line {fact.line!r} is on the tally.", "Add it to the tally first.")
    likeness, smallest = broken_parts.likeness_of(fact.basis, fact.likeness), broken_parts.smallest_of(fact.smallest)
    reasons = _readable(grams_of(fact.mass), likeness, smallest)
    if fact.basis == broken_parts.TWIN:
        reasons += _readable(instrument_of(fact.gauge, "mass"))
    elif fact.basis not in broken_parts.BASES:
        reasons += no(
            "no basis", f"It is not said what the mass rests on: {choices(broken_parts.BASES)}.", "Choose one of these."
        )
    reasons += [*_length(fact), *_density(fact.density)]
    return reasons or _weighs_something(fact)


def _density(text: str) -> list[Reason]:
    density = read_figure(text, "density") if text.strip() else None
    if isinstance(density, Figure) and density.number <= 0:
        return list(no("figure", f"{density.text} is no density.", "Type it again."))
    return _readable(density)


def _length(fact: f.PartBroken | f.PieceWeighed) -> list[Reason]:
    """A length may be left out; where it is said, it and how far it can be off are read, and more than nothing."""
    if not fact.length.strip():
        return []
    read = [read_figure(text, "length") for text in (fact.length, fact.length_within) if text.strip()]
    empty = [each for each in read if not isinstance(each, NotUnderstood) and each.number <= 0]
    if empty:
        words = f"{empty[0].text} is no length, and nothing is read without any error."
        return list(no("figure", words, "Type it again."))
    return _readable(*read)


def _weighs_something(fact: f.PartBroken) -> Reasons:
    if not grams_of(fact.mass):
        return no("figure", "The whole part weighs nothing.", "Weigh an identical part, or reckon it from its size.")
    return PASSED


def piece_weighed(t: Teardown, fact: f.PieceWeighed, at: str, who: str) -> Iterable[Reason]:
    """A piece belongs to a part that is known to be broken; it is photographed, weighed and named."""
    if fact.line not in t.broken:
        return no("not broken", "No such part is known to be broken.", "Say first which part broke.", line=fact.line)
    reasons = [*_readable(grams_of(fact.mass), instrument_of(fact.gauge, "mass")), *photo(t, fact.photo, "the piece")]
    reasons += _length(fact)
    if not fact.piece.strip():
        reasons += no("not said", "The piece has no name.", "Number it, so that it is known again.")
    return reasons


# ---- counting by weight


def weigh_counted(t: Teardown, fact: f.WeighCounted, at: str, who: str) -> Iterable[Reason]:
    """A count by weight is what the scale can tell, and no more."""
    seen = judge_counts.check_seen(t, Seen(fact.line, fact.place, fact.number))
    counted = weigh_count_of(fact)
    if isinstance(counted, tuple):
        return [*seen, *counted]
    if counted.number is None:
        do_next = counted.words[1] if len(counted.words) > 1 else "Count them by hand."
        return [*seen, *no("scale cannot tell", counted.words[0], do_next, line=fact.line)]
    if counted.number != fact.number:
        words = f"By these weights there are {counted.number}, not {fact.number}."
        return [*seen, *no("not that many", words, "Enter the number that was weighed.", line=fact.line)]
    return seen


def weigh_count_of(fact: f.WeighCounted) -> WeighCount | Reasons:
    """What these weights tell, or every reason why they tell nothing."""
    read = [grams_of(fact.gross), grams_of(fact.tare), grams_of(fact.sample), percent_of(fact.scatter)]
    scale, figures = instrument_of(fact.gauge, "mass"), [each for each in read if isinstance(each, float)]
    if isinstance(scale, NotUnderstood) or len(figures) < len(read):
        return tuple(_readable(*read, scale))
    gross, tare, sample, scatter = figures
    if fact.pieces < 1 or sample <= 0:
        return no("no sample", "The sample weighs nothing, or holds no piece.", "Count some out and weigh them.")
    if gross <= tare:
        words = "By these weights the full bag weighs no more than the empty one: nothing was weighed."
        return no("empty bag", words, "Weigh the full bag, then the empty one, on the same scale.")
    coarser = as_typed(scale, fact.gross, *([fact.tare] if tare else []), fact.sample)
    return count_by_mass(gross, tare, Sample(sample, fact.pieces), coarser, scatter)


def one_weighs(fact: f.WeighCounted) -> Estimate | None:
    """The mass in g of one piece of the weighed sample; None where that cannot be read."""
    sample, scatter, scale = grams_of(fact.sample), percent_of(fact.scatter), instrument_of(fact.gauge, "mass")
    if not isinstance(sample, float) or not isinstance(scatter, float) or isinstance(scale, NotUnderstood):
        return None
    if fact.pieces < 1 or sample <= 0:
        return None
    return unit_mass(Sample(sample, fact.pieces), as_typed(scale, fact.sample), scatter)


# ---- measuring and tightening


def measured(t: Teardown, fact: f.Measured, at: str, who: str) -> Iterable[Reason]:
    """A measurement is of a limit on the sheet, and can be read."""
    if limit_named(t, fact.closure, fact.limit) is None:
        return no("unknown limit", f"There is no limit {fact.limit!r} there.", "Choose one of the sheet.")
    return _readable(read_figure(fact.reading, "length"), instrument_of(fact.gauge, "length"))


def tightened(t: Teardown, fact: f.Tightened, at: str, who: str) -> Iterable[Reason]:
    """A fastener on the map, in a pass of the sheet, once all are home; no pass before the one below it."""
    plan = plan_of(t.closures[fact.closure]) if fact.closure in t.closures else None
    if plan is None:
        return no("no map", "This closure has no map of its fasteners.", "Tighten as the maker says, then sign.")
    closure, state = t.closures[fact.closure], t.closure_states[fact.closure]
    name = within(closure.name)
    if state.stage not in IN_PLACE or state.stage == SIGNED:
        return no("not to be tightened", f"The {name} is {state.stage}.", "Set it down first.", closure=fact.closure)
    if not all_home(t, fact.closure):
        return list(not_home(t, fact.closure))
    if fact.number not in plan.order.order or fact.percent not in closure.passes:
        words = f"The {name} has numbers 1 to {len(closure.positions)}, and passes {_said(closure.passes)} %."
        return no("no such step", words, "Choose one of these.", closure=fact.closure)
    done = t.tightened.get(fact.closure, {})
    if (fact.number, fact.percent) in done:
        words = f"Number {fact.number} is ticked at {fact.percent} % already."
        return no("ticked already", words, "Go on to the next.", closure=fact.closure)
    early = [p for p in closure.passes if p < fact.percent and (fact.number, p) not in done]
    if early:
        words = f"Number {fact.number} was not tightened to {early[0]} % yet."
        return no("pass left out", words, f"Tighten it to {early[0]} % first.", closure=fact.closure)
    return PASSED


def _said(passes: tuple[int, ...]) -> str:
    return ", ".join(map(str, passes))


RULES: dict[type, Callable[[Teardown, Any, str, str], Iterable[Reason]]] = {
    f.Searched: searched,
    f.PartBroken: part_broken,
    f.PieceWeighed: piece_weighed,
    f.WeighCounted: weigh_counted,
    f.Measured: measured,
    f.Tightened: tightened,
}
