"""Screens made of the house's parts, as they stand in a teardown, for measuring."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from mobileapp.widgets.count_frame import CountFrame
from mobileapp.widgets.field import Field
from mobileapp.widgets.frame import Frame
from mobileapp.widgets.plate import Plate, PlateButton, QuietButton
from mobileapp.widgets.row import ChoiceRow, ReasonRow, StateRow
from mobileapp.widgets.state_badge import TONE_OF, StateBadge
from mobileapp.widgets.text import Body, Heading, RunningTime, Small


def _filled(frame: Frame, *parts: Any) -> Frame:
    for part in parts:
        frame.add_widget(part)
    return frame


def board() -> Frame:
    """A teardown in the middle of the job."""
    return _filled(
        Frame(
            title="Gannet, port main engine", out=14, in_engine=4, act_text="Count the last 3 manifold bolts back",
            act_note="7 of 10 are home", act_tone="sky", act_shape="back",
        ),
        StateRow(text="Inlet manifold", state="lifted", note="4 openings uncovered under it"),
        StateRow(text="Port 2", state="uncovered", detail="1:04:07", note="Nothing covers it. Put a rag in."),
        StateRow(text="Rocker cover", state="fitted"),
    )  # fmt: skip


def refusal() -> Frame:
    """A closure refused."""
    return _filled(
        Frame(title="The inlet manifold stays open: 3 reasons", out=1, in_engine=2, missing=1),
        ReasonRow(
            number="1", what="1 nut M8 is missing", where="over port 2", since="14:12, 38 min ago",
            who="Edda Holm", do_next="Look into port 2 and log what you see",
        ),
        ReasonRow(number="2", what="2 rags are still in the engine", where="ports 3 and 4", do_next="Count them back"),
        ReasonRow(number="3", what="Port 1 has no closeout photo", do_next="Photograph port 1"),
    )  # fmt: skip


def start() -> Frame:
    """Starting a teardown: nothing counted yet, so no tally and no drop key."""
    return _filled(
        Frame(
            title="New teardown", teardown=False, act_text="Start the teardown", act_ready=False,
            act_note="1 caution still to read",
        ),
        Field(label="Machine", text="Gannet, port main engine"),
        Field(label="Who works on it", hint="name, name"),
        ChoiceRow(text="Battery isolated and tagged", chosen=True),
        ChoiceRow(text="Cooling water drained below the head", note="Hot water scalds. Open the cap last."),
    )  # fmt: skip


def states() -> Frame:
    """Every state there is, and every kind of text."""
    return _filled(
        Frame(title="States", act_text="Go on"),
        *(StateBadge(state=state) for state in TONE_OF),
        Heading(text="Before it closes"),
        Body(text="Count correct is not empty: look in, feel in, photograph."),
        Small(text="since 08:15 by Jörgen Łoś"),
        RunningTime(before="uncovered", seconds=3750),
        Plate(text="In the engine", note="3 rags, 1 cap", shape="engine", tone="yellow"),
        QuietButton(text="Openings", shape="uncovered"),
        PlateButton(text="Sign the closure", note="crankcase ventilation", shape="signed", tone="sky"),
    )


def count_out() -> CountFrame:
    """Bolts on their way into the tray."""
    return CountFrame(
        title="Count out", out=7, in_engine=4, direction="out", line="Manifold bolt M8 × 25, into the tray", counted=7,
        total=13,
    )  # fmt: skip


def count_back() -> CountFrame:
    """Bolts on their way home, nothing counted yet."""
    return CountFrame(
        title="Count back", out=200, in_engine=4, missing=1, direction="back", line="Manifold bolt M8 × 25", total=200
    )


def second_count() -> CountFrame:
    """A blind count."""
    return CountFrame(title="Second count", line="Rags, wherever they are", counted=3, total=9, blind=True)


SAMPLES: dict[str, Callable[[], Frame]] = {
    make.__name__: make for make in (board, refusal, start, states, count_out, count_back, second_count)
}
