"""The frame: what every screen of a teardown has in the same place."""

from __future__ import annotations

from typing import Any

from screens import touch

from mobileapp.widgets.frame import Frame
from mobileapp.widgets.plate import QuietButton
from mobileapp.widgets.running_tally import RunningTally, TallyCell


def test_the_tally_stays_while_the_body_scrolls(kivy_window: Any) -> None:
    frame = Frame(title="Board", out=3, in_engine=2, missing=1)
    for number in range(12):
        frame.add_widget(QuietButton(text=f"Opening {number}"))
    touch.show(frame)
    before = touch.box_of(touch.find(frame, cls=RunningTally))
    touch.bring_into_view(touch.find(frame, text="Opening 11"))
    assert frame.scroll.overfull
    assert touch.box_of(touch.find(frame, cls=RunningTally)) == before
    assert touch.texts(touch.find(frame, cls=RunningTally)) == ["3", "out", "2", "in the engine", "1", "missing"]


def test_a_figure_of_zero_is_quiet_and_one_is_not(kivy_window: Any) -> None:
    frame = touch.show(Frame(title="Board", out=1))
    assert [cell.tone for cell in touch.find_all(frame, cls=TallyCell)] == ["orange", "steel", "steel"]
    frame.missing = 1
    assert [cell.tone for cell in touch.find_all(frame, cls=TallyCell)] == ["orange", "steel", "yellow"]


def test_back_act_and_drop_answer_each_for_itself(kivy_window: Any) -> None:
    frame = touch.show(Frame(title="Board", act_text="Lift the manifold"))
    heard: list[str] = []
    for event in ("on_back", "on_act", "on_drop"):
        frame.bind(**{event: lambda *_, event=event: heard.append(event)})
    back, drop, act = (target.widget for target in touch.measure_targets(frame))
    for key in (act, drop, back):
        touch.tap(key)
    assert heard == ["on_act", "on_drop", "on_back"]


def test_the_next_act_is_the_largest_key(kivy_window: Any) -> None:
    frame = touch.show(Frame(title="Board", act_text="Lift it"))
    areas = {target.words: target.width_mm * target.height_mm for target in touch.measure_targets(frame)}
    assert max(areas, key=lambda words: areas[words]) == "Lift it"


def test_outside_a_teardown_there_is_no_tally_and_no_drop_key(kivy_window: Any) -> None:
    frame = touch.show(Frame(title="Teardowns", teardown=False, back_shown=False))
    assert touch.texts(frame) == ["Teardowns"]
    assert touch.measure_targets(frame) == []


def test_without_a_next_act_there_is_no_act_key(kivy_window: Any) -> None:
    frame = touch.show(Frame(title="Refused"))
    assert [target.words for target in touch.measure_targets(frame)] == ["PlateButton", "Log a drop"]


def test_emptying_the_body_leaves_the_frame(kivy_window: Any) -> None:
    frame = Frame(title="Board")
    frame.add_widget(QuietButton(text="Openings"))
    touch.show(frame)
    frame.clear_body()
    touch.settle(2)
    assert "Openings" not in touch.texts(frame)
    assert touch.find(frame, text="Log a drop")
