"""Counting out and back on the pad: what is shown, what the journal holds, what is taken back, what is refused."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from screens import touch
from screens.keeping_phone import KeepingPhone

from checklists import places
from checklists.facts import Counted, Short, moves_of
from checklists.times import seconds_after
from mobileapp.widgets.count_pad import TapArea

BOLTS = "inlet-manifold.bolt-m8"


@pytest.fixture
def phone(tmp_path: Path, kivy_window: Any) -> KeepingPhone:
    """A phone on the inlet manifold of an inline four."""
    phone = KeepingPhone(tmp_path)
    phone.begin("inlet-manifold-inline-four")
    return phone


def at_the_bolts(phone: KeepingPhone) -> tuple[str, int]:
    act = phone.until("count out", BOLTS)
    phone.go("count_pad", line=act.line, source=act.place, target=act.target)
    return act.line, act.quantity


def in_tray(phone: KeepingPhone, line: str) -> int:
    """How many the journal itself has in the tray."""
    entries = phone.journal.entries(phone.desk.work.id)
    moves = [move for entry in entries for move in moves_of(entry.fact) if move.line == line]
    return sum(move.quantity * ((move.target == places.TRAY) - (move.source == places.TRAY)) for move in moves)


def test_one_tap_is_one_bolt_in_the_journal_on_the_screen_and_in_the_ear(phone: KeepingPhone) -> None:
    line, quantity = at_the_bolts(phone)
    phone.tap_pad(3)
    assert in_tray(phone, line) == 3
    assert phone.kinds(3) == ["counted"] * 3
    assert phone.screen.pad.counted == 3
    assert phone.signals.said[-1] == f"3 out, {quantity - 3} left"
    assert f"of {quantity} out" in phone.texts()


def test_the_figure_stays_when_the_count_could_not_be_written(phone: KeepingPhone) -> None:
    at_the_bolts(phone)
    phone.tap_pad(2)
    screen = phone.screen
    phone.journal.close()
    phone.tap_pad(1)
    assert screen.pad.counted == 2
    assert phone.name == "trouble"
    assert phone.signals.said[-1].startswith("2 out")


def test_when_all_are_out_it_says_so_and_leads_on(phone: KeepingPhone) -> None:
    line, quantity = at_the_bolts(phone)
    phone.tap_pad(quantity)
    name = phone.desk.state.lines[line].name
    assert f"{quantity} of {quantity} {name}s out" in phone.texts()
    assert phone.signals.said[-1] == f"all {quantity} out"
    following = phone.screen.act.do
    phone.act()
    assert len(phone.desk.trail) == 3, "the next act comes in place of this pad"
    assert following in ("count out", "lift")


def test_a_double_tap_on_the_last_one_is_answered_on_the_pad_and_counts_nothing(phone: KeepingPhone) -> None:
    _, quantity = at_the_bolts(phone)
    phone.tap_pad(quantity)
    assert not touch.find(phone.screen, cls=TapArea).raised
    before = len(phone.journal.entries(phone.desk.work.id))
    phone.tap_pad(1)
    phone.now = seconds_after(phone.now, 0.6)
    phone.tap_pad(1)
    assert phone.name == "count_pad"
    assert phone.says(f"All {quantity} are out. The last tap counted nothing.")
    assert phone.signals.refusals == 2
    assert len(phone.journal.entries(phone.desk.work.id)) == before


def test_one_more_in_the_hand_is_asked_about_once_all_are_counted(phone: KeepingPhone) -> None:
    _, quantity = at_the_bolts(phone)
    phone.tap_pad(quantity - 1)
    assert not phone.says("one more in")
    phone.tap_pad(1)
    assert phone.says("one more in\nyour hand?")
    phone.tap("Take back")
    assert not phone.says("one more in")
    assert touch.find(phone.screen, cls=TapArea).raised


def test_one_too_many_is_refused_and_offers_to_log_a_find(phone: KeepingPhone) -> None:
    line, quantity = at_the_bolts(phone)
    phone.tap_pad(quantity)
    before = len(phone.journal.entries(phone.desk.work.id))
    phone.now = seconds_after(phone.now, 1)
    phone.tap_pad(1)
    assert phone.name == "refusal"
    assert phone.signals.refusals == 1
    assert len(phone.journal.entries(phone.desk.work.id)) == before
    phone.act()
    assert phone.name == "find"
    assert phone.desk.trail[-1][1]["what"] == phone.desk.state.lines[line].name
    phone.desk.back()
    phone.desk.back()
    assert phone.screen.pad.counted == quantity


def test_taking_back_reverses_the_last_count_and_says_which(phone: KeepingPhone) -> None:
    line, quantity = at_the_bolts(phone)
    phone.tap_pad(3)
    phone.tap("Take back")
    assert phone.kinds(2) == ["counted", "reversed"]
    assert in_tray(phone, line) == 2
    assert phone.says("Taken back: 1 ")
    assert phone.signals.said[-1].endswith(f"2 out, {quantity - 2} left")
    phone.tap_pad(1)
    assert not phone.says("Taken back")


def test_only_what_was_counted_on_this_pad_is_taken_back(phone: KeepingPhone) -> None:
    at_the_bolts(phone)
    phone.tap_pad(2)
    at_the_bolts(phone)
    assert phone.screen.take_back.disabled
    phone.tap_pad(1)
    phone.tap("Take back")
    assert phone.screen.take_back.disabled
    assert phone.screen.pad.counted == 2


def test_a_killed_app_comes_back_to_the_pad_with_the_true_figure(phone: KeepingPhone) -> None:
    line, _ = at_the_bolts(phone)
    phone.tap_pad(4)
    phone.kill_and_start()
    assert (phone.name, phone.screen.line) == ("count_pad", line)
    assert phone.screen.pad.counted == in_tray(phone, line) == 4
    phone.tap("Take back")
    assert in_tray(phone, line) == 3


def test_bolts_go_home_on_a_closure_that_was_set_down(phone: KeepingPhone) -> None:
    act = phone.until("count back")
    while phone.desk.state.lines[act.line].kind != "fastener":
        phone.hands.do(act)
        act = phone.until("count back")
    phone.go("count_pad", line=act.line, source=act.place, target="")
    assert phone.screen.target == act.target
    phone.tap_pad(act.quantity)
    assert phone.desk.state.quantity(act.line, act.target) == act.quantity
    assert phone.says(f"{act.quantity} of {act.quantity} ")
    assert phone.signals.said[-1] == f"all {act.quantity} back"


def test_what_cannot_go_home_yet_is_refused_with_the_reasons(phone: KeepingPhone) -> None:
    act = phone.until("work done")
    line = next(line for line, place in phone.desk.state.balances if place == places.TRAY)
    phone.go("count_pad", line=line, source=places.TRAY, target="")
    phone.tap_pad(1)
    assert phone.name == "refusal"
    assert act.do == "work done"


def test_fewer_than_there_should_be_is_recorded_with_a_photo(phone: KeepingPhone) -> None:
    phone.take_photo()
    _, quantity = at_the_bolts(phone)
    phone.act()
    if phone.name == "change_line":
        phone.tap(has="Fewer here")
    assert phone.name == "short"
    assert not phone.screen.act_ready
    phone.tap(has="Photo of the empty hole")
    phone.chooses_photo()
    phone.act()
    assert phone.name == "count_pad"
    fact = phone.journal.entries(phone.desk.work.id)[-1].fact
    assert isinstance(fact, Short)
    assert phone.name_of(fact.photo) == "IMG_0001.jpg"
    assert phone.screen.pad.total == quantity - 1
    assert phone.screen.missing == 1


def test_another_line_of_the_closure_is_two_taps_away(phone: KeepingPhone) -> None:
    at_the_bolts(phone)
    phone.tap_pad(2)
    phone.act()
    phone.tap(has="M8 flange nut")
    assert [name for name, _ in phone.desk.trail] == ["teardowns", "board", "count_pad"]
    phone.tap_pad(1)
    last = phone.journal.entries(phone.desk.work.id)[-1].fact
    assert isinstance(last, Counted)
    assert last.moves[0].line == "inlet-manifold.nut-m8"


def test_a_rag_taken_out_of_stores_and_put_away(phone: KeepingPhone) -> None:
    phone.until("count out")
    state = phone.desk.state
    rag = next(line.id for line in state.lines.values() if line.kind == "rag")
    total = state.quantity(rag, places.STORES)
    phone.go("count_pad", line=rag)
    phone.tap_pad(2)
    assert phone.desk.state.quantity(rag, places.BENCH) == 2
    phone.go("count_pad", line=rag, source=places.BENCH)
    assert f"of {total} back" in phone.texts()
    phone.tap_pad(2)
    assert phone.desk.state.quantity(rag, places.STORES) == total


def test_a_count_writes_only_the_words_that_changed(phone: KeepingPhone) -> None:
    """What else is on the screen keeps its texture: that is what keeps the frame after a tap short."""
    at_the_bolts(phone)
    phone.tap_pad(2)
    before = {label: (label.text, label.texture) for label in touch.labels(phone.shell)}
    phone.tap_pad(1)
    labels = touch.labels(phone.shell)
    on_pad = set(touch.labels(touch.find(phone.screen, cls=TapArea)))
    changed = [before[label][0] for label in labels if label.texture is not before[label][1] and label not in on_pad]
    assert len(before) == len(labels)
    assert changed == [str(phone.screen.out - 1)], "only the tally's figure beside the pad itself"


@pytest.mark.parametrize(
    ("density", "scale", "wide", "high"), [(2.625, 1.0, 65, 131), (2.625, 1.5, 65, 131), (2.0, 1.0, 57, 114)]
)
def test_it_fits_the_phone_and_the_glove(
    phone: KeepingPhone, density: float, scale: float, wide: float, high: float
) -> None:
    touch.phone(density, scale, wide, high)
    _, quantity = at_the_bolts(phone)
    for taps in (3, quantity - 3):
        phone.tap_pad(taps)
        targets = touch.measure_targets(phone.shell)
        assert touch.clipped(phone.shell) == []
        assert touch.too_small(targets) == []
        assert touch.too_close(targets) == []


def test_a_part_too_large_for_the_tray_is_laid_on_the_bench(phone: KeepingPhone) -> None:
    act = phone.until("count out", "coolant-crossover.pipe")
    phone.go("count_pad", line=act.line, source=act.place, target=act.target)
    phone.tap(has="Other line or place")
    phone.tap("Lay it on the bench instead")
    assert phone.says("Crossover pipe, coolant crossover to the bench")
    phone.tap_pad()
    assert phone.desk.state.places_of(act.line) == {places.BENCH: 1}
