"""The order of a blind second count as a person walks it: place by place, and where an interrupted one starts again."""

from __future__ import annotations

from checklists import places

#: Line and place, as `checklists.second_count.count_list` gives them.
Pair = tuple[str, str]

_ONE_CATEGORY = ("cover", places.ENGINE, "on")


def category(pair: Pair) -> str:
    """What is counted in one go: a tray, the bench; everything in and on the engine belongs together."""
    family = places.family(pair[1])
    return places.ENGINE if family in _ONE_CATEGORY else pair[1]


def category_words(pair: Pair) -> str:
    """The category as it is called."""
    return {places.ENGINE: "in and on the engine", places.TRAY: "the tray", places.BENCH: "the bench",
            places.STORES: "what is put away"}.get(category(pair), pair[1])


def start_again_at(pairs: list[Pair], done: int) -> int:
    """After an interruption with `done` counts made: where the category begins that was being counted."""
    if done >= len(pairs):
        return len(pairs)
    now = category(pairs[done])
    while done and category(pairs[done - 1]) == now:
        done -= 1
    return done
