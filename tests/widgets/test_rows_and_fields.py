"""Rows that choose or lead somewhere, and fields to type in."""

from __future__ import annotations

from typing import Any

from screens import touch

from mobileapp import look
from mobileapp.widgets.field import Field
from mobileapp.widgets.frame import Frame
from mobileapp.widgets.row import ChoiceRow, ReasonRow, StateRow
from mobileapp.widgets.running_time import running_time
from mobileapp.widgets.state_badge import TONE_OF, StateBadge


def test_a_caution_is_acknowledged_by_a_tap_and_withdrawn_by_another(kivy_window: Any) -> None:
    frame = Frame(title="Cautions")
    row = ChoiceRow(text="Battery isolated")
    frame.add_widget(row)
    touch.show(frame)
    touch.tap(row)
    assert (row.chosen, row.shape) == (True, "chosen")
    touch.tap(row)
    assert (row.chosen, row.shape) == (False, "unchosen")


def test_rows_of_one_group_exclude_each_other(kivy_window: Any) -> None:
    frame = Frame(title="Sheet")
    rows = [ChoiceRow(text=name, group="sheet") for name in ("Manifold", "Rocker cover")] + [ChoiceRow(text="Alone")]
    for row in rows:
        frame.add_widget(row)
    touch.show(frame)
    for row in (rows[2], rows[0], rows[1], rows[1]):
        touch.tap(row)
    assert [row.chosen for row in rows] == [False, True, True]


def test_a_reason_says_all_it_knows_and_leads_on(kivy_window: Any) -> None:
    frame = Frame(title="Refused")
    row = ReasonRow(number="1", what="1 nut is missing", where="over port 2", since="14:12", who="Edda", do_next="Look")
    led: list[str] = []
    row.bind(on_tap=lambda tapped: led.append(tapped.what))
    frame.add_widget(row)
    touch.show(frame)
    assert touch.texts(row) == ["1", "1 nut is missing", "last over port 2\nsince 14:12\nby Edda", "Look"]
    touch.tap(touch.find(frame, text="1 nut is missing"))
    assert led == ["1 nut is missing"]


def test_a_reason_that_knows_little_takes_little_room(kivy_window: Any) -> None:
    frame = Frame(title="Refused")
    row = ReasonRow(number="1", what="Port 1 has no photo")
    frame.add_widget(row)
    touch.show(frame)
    assert touch.texts(row) == ["1", "Port 1 has no photo"]
    assert row.height <= touch.mm(look.KEY_MM + 4)


def test_every_state_has_its_own_word_and_its_own_shape(kivy_window: Any) -> None:
    """Told apart without colour: no two badges draw the same shape."""
    touch.phone(density=2.0)
    pictures = set()
    for state in TONE_OF:
        badge = touch.show(StateBadge(state=state))
        assert touch.texts(badge) == [state]
        glyph = badge.ids.glyph
        left, low, right, high = (round(edge) for edge in touch.box_of(glyph))
        image = touch.shot()
        ink = image.crop((left, image.height - high, right, image.height - low)).convert("L")
        pictures.add(bytes(ink.point(lambda light: 255 * (light > 60)).tobytes()))
    assert len(pictures) == len(TONE_OF)


def test_a_state_row_shows_the_running_time(kivy_window: Any) -> None:
    row = touch.show(StateRow(text="Port 2", state="uncovered", detail=running_time(247)))
    assert touch.texts(row) == ["uncovered\n4:07", "Port 2"]


def test_running_time_reads_as_a_clock() -> None:
    assert [running_time(seconds) for seconds in (-3, 0, 59.9, 60, 3599, 3600, 36000)] == [
        "0:00", "0:00", "0:59", "1:00", "59:59", "1:00:00", "10:00:00",
    ]  # fmt: skip


def test_a_field_is_typed_into_by_tapping_its_label(kivy_window: Any) -> None:
    frame = Frame(title="New teardown", teardown=False)
    field = Field(label="Machine")
    frame.add_widget(field)
    touch.show(frame)
    touch.tap(touch.find(frame, text="Machine"))
    assert field.entry.focus
    field.entry.insert_text("Gannet")
    assert field.text == "Gannet"


def test_enter_ends_a_field_and_adds_no_line(kivy_window: Any) -> None:
    field = touch.show(Field(label="Machine", text="Gannet"))
    ended: list[str] = []
    field.bind(on_enter=lambda ending: ended.append(ending.text))
    field.entry.insert_text("\n")
    field.entry.insert_text(" two\nlines")
    assert (field.text, ended) == ("Gannet two lines", ["Gannet"])


def test_a_long_entry_wraps_and_the_field_grows(kivy_window: Any) -> None:
    short = touch.show(Field(label="Why it is opened", text="white smoke")).height
    why = "white smoke and water in the oil, lost 4 l in a week, and it knocks when it is cold; a nut was heard falling"
    field = touch.show(Field(label="Why it is opened", text=why))
    assert len(field.entry._lines) > 1
    assert field.entry.height >= field.entry.minimum_height
    assert field.height > short
