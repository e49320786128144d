"""Openings: clocks that run, covers counted in and out, the dirty one to the bench."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from screens import touch
from screens.counting_phone import CountingPhone

from checklists import places
from checklists.times import seconds_after


@pytest.fixture
def phone(tmp_path: Path, kivy_window: Any) -> CountingPhone:
    """The manifold is off; inlet port 1 is to be covered next."""
    phone = CountingPhone(tmp_path)
    phone.begin("inlet-manifold-inline-four")
    phone.hands.do(phone.until("lift", closure="inlet-manifold"))
    act = phone.until("cover")
    phone.go("openings", opening=act.opening)
    return phone


def step(phone: CountingPhone, seconds: float) -> None:
    phone.now = seconds_after(phone.now, seconds)
    phone.screen.tick()


def test_the_one_asked_for_comes_first_with_its_size_and_cover(phone: CountingPhone) -> None:
    said = phone.texts()
    assert said.index("Inlet port 1 at the head") < said.index("Inlet port 2 at the head")
    assert phone.says("Clear size: oval 42 x 34.5 mm")
    assert phone.says("Cover: Port cap, or a rag too big to be drawn in.")


def test_the_clock_runs_while_it_stands_uncovered_and_the_total_stays(phone: CountingPhone) -> None:
    since = phone.desk.state.opening_states["inlet-1"].since
    phone.now = since
    step(phone, 247)
    assert phone.screen.badge.detail == "4:07"
    phone.act()
    step(phone, 1000)
    assert phone.screen.badge.state == "covered"
    assert phone.screen.badge.detail == ""
    assert phone.says("uncovered for 4:07 in all")
    phone.tap(has="out again")
    step(phone, 60)
    assert phone.screen.badge.detail == "1:00"
    assert phone.says("uncovered for 5:07 in all")


def test_covering_counts_one_cap_in_and_a_second_tap_covers_nothing_else(phone: CountingPhone) -> None:
    caps = phone.desk.state.quantity("port-cap", places.STORES)
    phone.act()
    assert phone.kinds(1) == ["opening covered"]
    assert phone.desk.state.quantity("port-cap", places.STORES) == caps - 1
    assert phone.signals.said == [f"1 port cap in, {caps - 1} left"]
    phone.act()
    assert phone.kinds(1) == ["opening covered"]
    assert phone.screen.opening == "inlet-2"
    assert phone.screen.badge.state == "uncovered"


def test_a_rag_can_be_chosen_instead(phone: CountingPhone) -> None:
    phone.tap("Rag")
    assert phone.screen.act_text == "Cover it with 1 rag"
    phone.act()
    assert phone.desk.state.quantity("rag", places.cover_of("inlet-1")) == 1


def test_a_torn_cover_goes_to_the_bench(phone: CountingPhone) -> None:
    phone.act()
    phone.tap("It is torn or dirty")
    assert phone.desk.state.quantity("port-cap", places.BENCH) == 1
    assert phone.kinds(2) == ["opening covered", "opening uncovered"]


def test_while_closing_up_it_comes_out_and_is_looked_into(phone: CountingPhone) -> None:
    act = phone.until("uncover")
    phone.go("openings", opening=act.opening)
    phone.act()
    assert phone.kinds(1) == ["opening uncovered"]
    phone.go("openings", opening=act.opening)
    assert phone.screen.act_text == "Look inside and photograph it"
    phone.act()
    assert (phone.name, phone.screen.opening) == ("look", act.opening)


def test_without_covers_it_leads_to_the_items(phone: CountingPhone) -> None:
    from checklists import builders

    state = phone.desk.state
    for line in builders.cover_lines(state):
        here = state.quantity(line, places.STORES)
        phone.hands.record(builders.move(line, here, places.STORES, places.BENCH), phone.desk.who)
    phone.go("openings", opening="inlet-1")
    assert phone.screen.act_text == "Bring a cover onto the tally"
    phone.act()
    assert phone.name == "items"


def test_over_a_clock_that_was_set_back_no_time_is_claimed(phone: CountingPhone) -> None:
    step(phone, 90)
    step(phone, -3600)
    touch.settle(3)
    assert phone.says("how long cannot be told: the clock was set back")
    assert phone.says("uncovered  clock set back") or phone.says("uncovered\nclock set back")
    assert not phone.says("0:00")
    assert touch.faults(phone.shell) == []
    phone.go("board")
    assert phone.says("uncovered, clock set back")
    assert not phone.says("uncovered for")
    assert touch.faults(phone.shell) == []
