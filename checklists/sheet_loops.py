"""Loops of closures that lie over each other, so that none of them could ever come off first."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

#: A closure's id -> the ids of the closures right beneath it.
Beneath = Mapping[str, tuple[str, ...]]


def loops(beneath: Beneath) -> Iterator[tuple[str, ...]]:
    """Loops such that every lying-over that is part of any loop is in one of these. Each is told once."""
    tangled = _tangled(beneath)
    told: set[tuple[str, str]] = set()
    for top, lower in tangled.items():
        for below in lower:
            if (top, below) in told:
                continue
            if way := _way(tangled, below, top):
                loop = (top, *way[:-1])
                told.update(zip(loop, (*loop[1:], top), strict=True))
                yield loop


def _tangled(beneath: Beneath) -> dict[str, list[str]]:
    """What is left when closures with nothing left beneath them are taken away, again and again."""
    left = {top: {b for b in lower if b in beneath} for top, lower in beneath.items()}
    above: dict[str, list[str]] = {}
    for top, lower in left.items():
        for below in lower:
            above.setdefault(below, []).append(top)
    free = [top for top, lower in left.items() if not lower]
    while free:
        gone = free.pop()
        del left[gone]
        for top in above.get(gone, ()):
            left[top].discard(gone)
            if not left[top]:
                free.append(top)
    return {top: [b for b in dict.fromkeys(beneath[top]) if b in lower] for top, lower in left.items()}


def _way(tangled: Mapping[str, list[str]], start: str, goal: str) -> tuple[str, ...]:
    """The shortest way down from `start` to `goal`, both included; empty if there is none."""
    came_from = {start: ""}
    reached = [start]
    for here in reached:
        if here == goal:
            break
        for below in tangled[here]:
            if below not in came_from:
                came_from[below] = here
                reached.append(below)
    if goal not in came_from:
        return ()
    way = [goal]
    while way[-1] != start:
        way.append(came_from[way[-1]])
    return tuple(reversed(way))
