"""What was searched for a missing item, where, by whom, and what is still to be: for searching on, and for the record.

Every place that a missing item could be in is searched twice before it may be released as not found: once, and again by
another person. Alone, the same person searches it again after a pause, as for a second count, and that is named as
such. Where somebody could look in, only such searches count; a place that nobody could look into is tried twice, and
that is named as such too. What can be in no space of the sheet is searched for twice round about. All that is missing
of one line is searched for together, and a search counts for each of its losses that came before it. That a second,
independent search is made is from the foreign-object programme template of 2007, sec. 3.9; that a second look alone is
separated in time, from EASA AMC4 145.A.48(b)(d).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import NamedTuple

from checklists.lost_line import LostLine, in_no_space, lost_line, lost_lines, where_lost
from checklists.reasons import Reason
from checklists.second_count import PAUSE_SECONDS, works_alone
from checklists.state import SearchPass, Teardown
from checklists.times import clock_face, day_and_clock, seconds_after, seconds_between
from checklists.whereabouts.migration import Candidate
from checklists.words import listing, sentence, within

Passes = tuple[SearchPass, ...]
NOTHING_MISSING = "Nothing is missing, so nothing was searched for."
#: Where to search for what can be in no space of the sheet; no space has such an id.
ROUND_ABOUT = "round about"
#: So many places are named in a reason; the rest are counted.
_NAMED = 9


class SearchPlace(NamedTuple):
    """One place to search: a space the line could be in (with its candidate) or a spot somebody searched besides.

    `passes` are the searches made there for the line, oldest first; `counting` those of them that came after the loss
    that is furthest from being searched for twice.
    """

    where: str
    name: str
    candidate: Candidate | None
    passes: Passes
    counting: Passes

    @property
    def second(self) -> SearchPass | None:
        """The search that stands as the second one."""
        return second_of(self.counting)

    @property
    def unseen(self) -> bool:
        """Whether it was tried, and nobody could look into it."""
        return bool(self.counting) and not any(each.fact.reached for each in self.counting)

    @property
    def overtaken(self) -> bool:
        """Whether it was searched before another of the line went missing, which does not count for that one."""
        return len(self.counting) < len(self.passes)

    @property
    def said(self) -> str:
        """Its name inside a sentence, with which searches of it are meant."""
        return f"{within(self.name)}{' since another went missing' if self.overtaken else ''}"


def second_of(passes: Passes) -> SearchPass | None:
    """The first search that is independent of one before it: by another person, or alone and after the pause.

    Where nobody could look in, it is the second attempt.
    """
    counting = counting_of(passes)
    for number, later in enumerate(counting):
        if any(_independent(earlier, later) for earlier in counting[:number]):
            return later
    return None


def counting_of(passes: Passes) -> Passes:
    """The searches of a place that count: those that could look in; where none could, the attempts."""
    return tuple(each for each in passes if each.fact.reached) or passes


def _independent(earlier: SearchPass, later: SearchPass) -> bool:
    if later.mark.who != earlier.mark.who:
        return True
    return later.alone and seconds_between(earlier.mark.at, later.mark.at) >= PAUSE_SECONDS


def by_same_person(passes: Passes) -> bool:
    """Whether the second search was made alone, by whoever made the first."""
    second = second_of(passes)
    return second is not None and all(each.mark.who == second.mark.who for each in counting_of(passes))


def search_list(t: Teardown, line: str) -> tuple[SearchPlace, ...]:
    """Every place to search for what is missing of a line, the likeliest first, then the other spots searched."""
    lost = lost_line(t, line)
    made, counting = passes_of(t, line), counting_for(t, line)
    listed = [
        SearchPlace(space, t.spaces[space].name, candidate, made.pop(space, ()), counting[space])
        for candidate, _ in where_lost(t, lost).placed
        for space in (candidate.space,)
    ]
    return (*listed, *(SearchPlace(where, _name(t, where), None, passes, passes) for where, passes in made.items()))


def passes_of(t: Teardown, line: str) -> dict[str, Passes]:
    """The searches for a line since the first of it that is missing still, by place, the place first searched first."""
    lost, made = lost_line(t, line), dict[str, Passes]()
    for each in _since(t, lost, min((item.mark.n for item in lost.losses), default=len(t.history))):
        made[each.fact.where] = (*made.get(each.fact.where, ()), each)
    return made


def counting_for(t: Teardown, line: str) -> dict[str, Passes]:
    """For each space that a missing line could be in, the searches of it that count.

    Where it could hold several losses, those since the one that is furthest from two searches: one after which nobody
    looked in, first of all. `ROUND_ABOUT` is there where one of them can be in no space, with the searches outside.
    """
    lost, counting = lost_line(t, line), dict[str, Passes]()
    for item in lost.losses:
        could_hold, made = t.could_hold(item), _since(t, lost, item.mark.n)
        for space in t.spaces if could_hold is None else could_hold:
            passes = tuple(each for each in made if each.fact.where == space)
            counting[space] = min(counting.get(space, passes), passes, key=_how_far)
        if could_hold == frozenset():
            passes = tuple(each for each in made if each.fact.where not in t.spaces)
            counting[ROUND_ABOUT] = min(counting.get(ROUND_ABOUT, passes), passes, key=_how_far)
    return counting


def _since(t: Teardown, lost: LostLine, n: int) -> Passes:
    return tuple(each for each in t.searches if each.fact.line == lost.line and each.mark.n > n)


def _how_far(passes: Passes) -> tuple[int, int]:
    """How far a place is from having been searched twice: not at all, once, done."""
    return (2 if second_of(passes) else 1 if passes else 0), len(passes)


class Offer(NamedTuple):
    """Where to search next: `where`, a second time or not; or "" and why not.

    `until` is the time from which a person alone may search again, `others` are those who may where `who` may not.
    """

    where: str = ""
    second: bool = False
    until: str = ""
    others: tuple[str, ...] = ()


def search_offer(t: Teardown, counting: Mapping[str, Passes], spaces: Sequence[str], who: str, now: str) -> Offer:
    """What to offer `who` of these spaces, the likeliest first: one nobody searched, then one that is due again.

    `counting` are the searches of each that count (`counting_for`).
    """
    for space in spaces:
        if not counting.get(space):
            return Offer(space)
    due = [space for space in spaces if second_of(counting[space]) is None]
    for space in due:
        if any(each.mark.who != who for each in counting_of(counting[space])):
            return Offer(space, True)
    if not due:
        return Offer()
    if not works_alone(t):
        return Offer("", True, "", tuple(person.name for person in t.people if person.name != who))
    first, until = min(((space, _again_from(counting[space])) for space in due), key=lambda each: each[1])
    return Offer(first, True) if seconds_between(until, now) >= 0 else Offer("", True, until)


def looked_for_too(t: Teardown, line: str, where: str, who: str, now: str) -> str:
    """Another missing line that could be in the space which `who` just searched for `line`, and is due there by them.

    A look into a port for a nut is as good for the bolt that is gone as well. Empty where there is none.
    """
    for lost in lost_lines(t):
        counting = counting_for(t, lost.line)
        if lost.line == line or where not in t.spaces or where not in counting:
            continue
        if search_offer(t, counting, [where], who, now).where:
            return lost.line
    return ""


def _again_from(passes: Passes) -> str:
    """The time from which the same person, alone, may search there again."""
    return seconds_after(counting_of(passes)[0].mark.at, PAUSE_SECONDS)


def search_reasons(t: Teardown) -> tuple[Reason, ...]:
    """Every search that is still to be made before what is missing may be released as not found."""
    return tuple(reason for lost in lost_lines(t) for reason in _reasons(t, lost))


def _reasons(t: Teardown, lost: LostLine) -> list[Reason]:
    spaces = [place for place in search_list(t, lost.line) if place.candidate is not None]
    never = [place for place in spaces if not place.counting]
    once = [place for place in spaces if place.counting and place.second is None]
    name, reasons = within(t.lines[lost.line].name), list[Reason]()
    about = lost.line, t.lines[lost.line].name, lost.quantity
    elsewhere = SearchPlace(ROUND_ABOUT, ROUND_ABOUT, None, (), counting_for(t, lost.line).get(ROUND_ABOUT, ()))
    homeless = in_no_space(t, lost)
    which = "it" if len(homeless) == len(lost.losses) else f"{sum(item.quantity for item in homeless)} of them"
    if homeless and not elsewhere.counting:
        words = f"{name}: {which} cannot have gone into any space of the sheet, and nobody searched round about."
        reasons.append(Reason("not searched", words, "Search round about, and log where.", *about))
    elif homeless and elsewhere.second is None:
        words = f"{name}: {which} cannot have gone into any space of the sheet, and round about was "
        words += f"{_only_once(elsewhere)}."
        reasons.append(Reason("second search due", words, _again_words(t, [elsewhere]), *about))
    if never:
        words = f"{name}: could be in {_named(never)}, and nobody searched there."
        do_next = "Search each place, or record that it could not be looked into."
        reasons.append(Reason("not searched", words, do_next, *about))
    if once:
        unseen = [place for place in once if place.unseen]
        seen = [place for place in once if not place.unseen]
        told = "; ".join(f"{_only_once(group[0])}: {_named(group)}" for group in (seen, unseen) if group)
        words = f"{name}: {told}."
        reasons.append(Reason("second search due", words, _again_words(t, once), *about))
    return reasons


def _only_once(place: SearchPlace) -> str:
    return "tried only once, and looked into by nobody" if place.unseen else "searched only once"


def _again_words(t: Teardown, once: Sequence[SearchPlace]) -> str:
    how = "try to look into each place again" if all(place.unseen for place in once) else "search each place again"
    if not works_alone(t):
        return f"Let another person {how}."
    own = [counting_of(place.counting) for place in once]
    own = [passes for passes in own if {each.mark.who for each in passes} == {t.people[0].name}]
    if not own:
        return f"{how[0].upper()}{how[1:]}."
    return f"Alone: pause until {clock_face(max(map(_again_from, own)))}, then {how}."


def _named(listed: Sequence[SearchPlace]) -> str:
    names = [place.said for place in listed]
    more = len(names) - _NAMED
    return listing([*names[:_NAMED], f"{more} more places"] if more > 1 else names)


def search_summary(t: Teardown) -> str:
    """The searches for every line still missing, in plain words, with what was not searched or not looked into."""
    return " ".join(sentence(_line_summary(t, lost.line)) for lost in lost_lines(t)) or NOTHING_MISSING


def _line_summary(t: Teardown, line: str) -> str:
    listed = search_list(t, line)
    name = within(t.lines[line].name)
    done = [f"{within(place.name)} {passes_words(place.passes)}" for place in listed if place.passes]
    twice = [place for place in listed if place.second and not place.unseen]
    alone = [place for place in twice if by_same_person(place.counting)]
    unseen = [place for place in listed if place.unseen]
    told = [f"{name}: searched {'; '.join(done)}." if done else f"{name}: no search is on record."]
    groups = (
        ("By a second person as well", [place for place in twice if place not in alone]),
        ("Again by the same person, alone, after a pause", alone),
        ("Tried twice, looked into by nobody", [place for place in unseen if place.second]),
        ("Tried, looked into by nobody", [place for place in unseen if not place.second]),
        ("Not searched, though it could be there", [place for place in listed if not place.counting]),
    )
    told += [f"{words}: {listing([place.said for place in group])}." for words, group in groups if group]
    return " ".join(told)


def passes_words(passes: Passes) -> str:
    """Searches of one place: how, by whom, when, and what was seen."""
    return ", ".join(pass_words(each) for each in passes)


def pass_words(made: SearchPass) -> str:
    """One search: "by magnet (Ines Vardal, 2026-03-02 08:10 +01:00: nothing)"."""
    tried = "" if made.fact.reached else ", could not be looked into"
    return f"by {made.fact.method}{tried} ({made.mark.who}, {day_and_clock(made.mark.at)}: {made.fact.seen})"


def _name(t: Teardown, where: str) -> str:
    return t.spaces[where].name if where in t.spaces else where
