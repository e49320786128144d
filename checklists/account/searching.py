"""Searches for what was missing: each as it was made, and for what never was found, place by place."""

from __future__ import annotations

from checklists.account.album import Album
from checklists.account.parts import Block, Heading, Table
from checklists.account.walk import Walk
from checklists.account.writing import when
from checklists.facts_measured import Searched
from checklists.lost_line import lost_lines
from checklists.searches import SearchPlace, by_same_person, search_list
from checklists.state import Mark, SearchPass
from checklists.words import within


def searches(walk: Walk, album: Album) -> list[tuple[Mark, str, str]]:
    """Each search for a missing item, for the section on losses."""
    t = walk.teardown
    rows = []
    for mark, fact in walk.of(Searched):
        where = within(t.spaces[fact.where].name) if fact.where in t.spaces else fact.where
        photo = f" ({album.name(fact.photo, f'Search: {where}')})" if fact.photo else ""
        outcome = "FOUND" if fact.found else "not found" if fact.reached else "COULD NOT BE LOOKED INTO"
        if fact.moves:
            outcome += f", {t.say(fact.line, sum(m.quantity for m in fact.moves))}, "
            outcome += f"then {t.say_place(fact.moves[-1].target)}"
        what = f"Searched {where} for the {within(t.lines[fact.line].name)}, {fact.method}: {outcome}"
        rows.append((mark, f"{what}; {fact.seen}{photo}.", ""))
    return rows


def searched_places(walk: Walk) -> list[Block]:
    """For every line still missing: each place it could be in, and the searches made there, first and second."""
    blocks: list[Block] = []
    for lost in lost_lines(walk.teardown):
        rows = [_place_row(place) for place in search_list(walk.teardown, lost.line)]
        if rows:
            name = walk.teardown.say(lost.line, lost.quantity)
            blocks += [Heading(f"Searched for: {name}"), Table(_PLACE_HEADS, _PLACE_SHARES, tuple(rows))]
    return blocks


_PLACE_HEADS = ("place", "searched", "a second time, by another or after a pause", "stands")
_PLACE_SHARES = (22, 31, 31, 16)


def _place_row(place: SearchPlace) -> tuple[str, ...]:
    second = place.second
    others = "\n".join(_pass_cell(made) for made in place.passes if made is not second)
    again = _pass_cell(second) if second else "NOT SEARCHED A SECOND TIME"
    if place.overtaken and second is None:
        again = "NOT SEARCHED TWICE SINCE ANOTHER WENT MISSING"
    name = place.name if place.candidate is not None else f"{place.name} (outside, or could not be in there)"
    return name, others or "NOT SEARCHED", again if place.candidate or second else "", _how_it_stands(place)


def _pass_cell(made: SearchPass) -> str:
    alone = " Alone on the job." if made.alone else ""
    tried = "" if made.fact.reached else ", COULD NOT BE LOOKED INTO"
    return f"{when(made.mark.at)}, {made.mark.who}: {made.fact.method}{tried}: {made.fact.seen}.{alone}"


def _how_it_stands(place: SearchPlace) -> str:
    if place.unseen:
        return "TRIED TWICE, LOOKED INTO BY NOBODY" if place.second else "LOOKED INTO BY NOBODY"
    if place.candidate is None:
        return ""
    if place.second is None:
        return "not twice"
    return "twice, the same person" if by_same_person(place.counting) else "twice, two people"
