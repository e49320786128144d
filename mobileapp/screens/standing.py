"""How the job stands, for whoever leaves it or hands it on: tally, what is away, open and uncovered."""

from __future__ import annotations

from functools import partial

from checklists import gate, second_count
from checklists.state import Teardown, tally
from checklists.words import sentence
from mobileapp.desk import Desk
from mobileapp.screens.form_parts import Stack, facts, key_row
from mobileapp.screens.refusal_view import most_critical_first
from mobileapp.widgets.text import Heading

#: More than this is read on the screen that lists them all.
FEW = 5


def tally_words(t: Teardown) -> str:
    """The running tally in words."""
    now = tally(t)
    return f"{now.out} out, {now.in_engine} in or over the engine, {now.missing} missing."


def away_words(t: Teardown) -> list[str]:
    """Everything that is away from home, place by place. Not to be shown before a relief count."""
    return [f"{sentence(t.say(line, t.quantity(line, place)))} {t.say_place(place)}"
            for line, place in second_count.relief_list(t)]


def uncovered(t: Teardown) -> list[str]:
    """The openings that stand uncovered."""
    return list(t.exposure.uncovered(t.openings))


def covers_first(desk: Desk) -> Stack:
    """Every uncovered opening, each leading to where it is covered; or that none is."""
    t = desk.state
    bare = uncovered(t)
    if not bare:
        return facts("Every opening is covered or sealed.", [])
    rows = [
        key_row(sentence(t.openings[opening].name), partial(desk.go, "openings", opening=opening),
                "uncovered: cover it first", "uncovered", "yellow")
        for opening in bare
    ]  # fmt: skip
    return Stack(Heading(text=f"{len(bare)} to cover first"), *rows)


def open_words(t: Teardown) -> list[str]:
    """What stands against closing, in short: the most critical few, and how many more there are."""
    reasons = most_critical_first(gate.why_not_close(t))
    more = len(reasons) - FEW
    return [reason.words for reason in reasons[:FEW]] + ([f"And {more} more."] if more > 0 else [])


def first_to_cover(t: Teardown) -> str:
    """What the key says while openings stand uncovered; empty when none does."""
    bare = len(uncovered(t))
    return f"First: cover {bare} opening{'s' if bare > 1 else ''}" if bare else ""
