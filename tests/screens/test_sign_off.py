"""Sign-off: the values behind it, a person's name touched, and every statement on record only when it may be made."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from screens import touch
from screens.at_the_desk import ADA, JONAS
from screens.at_work import MANIFOLD, NUT, AtWork

from checklists import builders, places
from checklists.facts import Cleared, Closed, HandTurned, Refitted, Released, Signed, WorkDone
from mobileapp.screens.refusal_view import Verdict
from mobileapp.widgets.count_pad import TapArea

RESIDUAL = "A correct count is not proof of an empty engine."
CROSSOVER = "coolant-crossover"


@pytest.fixture
def work(kivy_window: Any, tmp_path: Path) -> AtWork:
    return AtWork(tmp_path)


def test_from_the_end_of_the_work_to_the_closed_teardown(work):
    """One story: work done, cleared, set down, signed with its torque, turned by hand, closed."""
    work.works_until("work done")
    work.shows("sign_off", what="work done")
    assert work.says(RESIDUAL)
    work.act()
    assert (work.name, work.last) == ("board", WorkDone(""))

    work.works_until("clear", MANIFOLD)
    head = work.desk.work.head
    work.shows("sign_off", what="clear", closure=MANIFOLD)
    for words in ("12 of 12 fasteners off, 4 of 4 openings looked into and clear",
                  "Inlet port 2 at the head: looked into at 08:", "Second count at 08:", f"by {JONAS.name}: agreed.",
                  RESIDUAL, "Next: Set the Inlet manifold down"):
        assert work.says(words), words
    work.act()
    assert not isinstance(work.last, Cleared), "nobody had touched a name"
    work.tap(JONAS.name)
    assert work.says("Sign with your finger: Jonas Wieland, second counter")
    assert work.says("Not signed yet")
    work.act()
    assert not isinstance(work.last, Cleared), "the name was not written"
    work.signs()
    assert work.says("Signed")
    work.act()
    assert isinstance(work.last, Cleared)
    assert_is_name(work.last.signature)
    assert (work.last.closure, work.last.head, work.entries[-1].who) == (MANIFOLD, head, JONAS.name)
    assert work.last.statement == builders.clearance_statement(work.state, MANIFOLD)

    work.shows("sign_off", what="set down", closure=MANIFOLD)
    assert work.says("Cleared to refit at 08:")
    work.act()
    assert work.last == Refitted(MANIFOLD)

    work.works_until("sign", MANIFOLD)
    work.shows("sign_off", what="sign", closure=MANIFOLD)
    assert work.says("10 of 10 M8 x 45 flange bolts home")
    assert work.says("Sheet: 24 N.m")
    assert work.says("The maker's figure wins.")
    work.tap(ADA.name)
    work.act()
    assert not isinstance(work.last, Signed), "the torque was not said"
    work.types("Torque used", "26 N.m")
    work.tap("Use 26 N.m all the same")
    work.signs()
    work.act()
    assert isinstance(work.last, Signed)
    assert (work.last.torque, work.entries[-1].who) == ("26 N.m", ADA.name)

    work.works_until("turn by hand")
    work.shows("sign_off", what="turn by hand")
    work.tap(ADA.name)
    work.act()
    assert not isinstance(work.last, HandTurned), "it was not said what was felt"
    work.tap("Two turns, free all the way")
    work.act()
    assert not isinstance(work.last, HandTurned), "it was not signed"
    head = work.desk.work.head
    work.signs()
    work.act()
    turned = work.last
    assert isinstance(turned, HandTurned)
    assert (turned.statement, turned.head) == ("Two turns, free all the way", head)
    assert_is_name(turned.signature)

    work.works_until("close")
    work.shows("sign_off", what="close")
    assert work.says("2 of 2 opened closures signed")
    assert work.says(RESIDUAL)
    work.tap(ADA.name)
    work.signs()
    work.act()
    assert isinstance(work.last, Closed)
    assert_is_name(work.last.signature)
    assert work.state.ended == "closed"


def assert_is_name(strokes: tuple[tuple[int, ...], ...]) -> None:
    """One stroke, where the finger drew it: thousandths of the field, from its top left."""
    (stroke,) = strokes
    wanted = [round(1000 * part) for spot in touch.NAME for part in spot]
    assert all(abs(one - other) <= 6 for one, other in zip(stroke, wanted, strict=True)), stroke


def test_a_dot_is_no_signature_and_it_can_be_cleared(work):
    work.works_until("sign", CROSSOVER)
    work.shows("sign_off", what="sign", closure=CROSSOVER)
    work.tap("I used 10 N.m")
    work.tap(JONAS.name)
    work.signs(((0.5, 0.5), (0.51, 0.5)))
    assert work.says("A dot is no signature yet: write your name")
    work.act()
    assert not isinstance(work.last, Signed)
    work.signs()
    work.tap("Clear the signature")
    assert work.says("Not signed yet")
    work.signs()
    work.tap(ADA.name)
    assert work.says("Not signed yet"), "what Jonas drew is not Ada's signature"
    assert work.says("Sign with your finger: Ada Berg, fitter")
    work.act()
    assert not isinstance(work.last, Signed)


def test_while_a_reason_stands_the_screen_is_the_refusal(work):
    work.works_until("lift", MANIFOLD)
    work.hands.do(work.works_until("lift", MANIFOLD))
    work.shows("sign_off", what="clear", closure=MANIFOLD)
    assert touch.find(work.screen, cls=Verdict).what == "Not cleared: Inlet manifold"
    assert not work.screen.act_text
    work.shows("sign_off", what="sign", closure=MANIFOLD)
    assert touch.find(work.screen, cls=Verdict).what == "Not signed: Inlet manifold"
    work.shows("sign_off", what="close")
    assert touch.find(work.screen, cls=Verdict).what == "Not closed: this teardown"
    before = len(work.entries)
    work.screen.dispatch("on_act")
    assert len(work.entries) == before


def test_alone_the_second_look_is_named_a_re_inspection(kivy_window, tmp_path):
    work = AtWork(tmp_path, people=(ADA,))
    work.works_until("clear", MANIFOLD)
    work.shows("sign_off", what="clear", closure=MANIFOLD)
    assert work.says("Re-inspection by the same person, after a pause, at 08:1")


def test_resistance_felt_is_no_statement_but_a_find(work):
    work.works_until("turn by hand")
    work.shows("sign_off", what="turn by hand")
    assert touch.in_view(touch.find(work.screen, text="Never the starter. Stop at the first resistance."))
    work.tap("It stopped, dragged or knocked")
    work.types("In your own words (may be left empty)", "Knock at 3 o'clock")
    assert work.screen.act_text == "Stop. Log it as a find"
    work.act()
    assert not any(isinstance(entry.fact, HandTurned) for entry in work.entries)
    assert work.name == "find"
    assert work.fields("What it seems to be")[0].text == "Knock at 3 o'clock"


def test_release_takes_two_deliberate_steps_and_is_no_closure(work):
    work.works_until("work done")
    work.does(builders.drop(work.state, NUT, 1, "", places.TRAY))
    work.shows("sign_off", what="release")
    assert touch.find(work.screen, cls=Verdict).what == "Not released: this teardown", "nobody searched for it yet"
    work.does(builders.search(work.state, NUT, "bilge", "magnet", "nothing"))
    work.shows("sign_off", what="release")
    assert touch.find(work.screen, cls=Verdict).what == "Not released: this teardown", "nobody else searched for it yet"
    work.does(builders.search(work.state, NUT, "bilge", "mirror", "nothing"), JONAS.name)
    work.shows("missing")
    work.tap("It will not be found")
    assert work.says("1 M8 flange nut, dropped since 08:0")
    assert work.says("M8 flange nut: bilge by magnet (Ada Berg, ")
    work.act()
    assert work.screen.act_note == "First: the reason"
    work.types("Why it is released though it is not clear", "The boat must leave the lock")
    work.types("What else was searched (may be left empty)", "Ports, tray, bilge, twice, torch and magnet")
    work.tap(ADA.name)
    before = len(work.entries)
    work.act()
    assert len(work.entries) == before, "the first step records nothing"
    assert work.says("This is not a closure.")
    assert work.says("may break the engine at the first turn")
    work.act()
    assert len(work.entries) == before, "nobody agreed yet"
    work.kill_and_start()
    assert work.says("The boat must leave the lock"), "the second step survives a killed app"
    work.tap("I know that this is not a closure")
    work.act()
    assert len(work.entries) == before, "nobody signed yet"
    work.signs()
    work.act()
    assert isinstance(work.last, Released)
    assert work.last.reason == "The boat must leave the lock"
    assert work.last.search.startswith("M8 flange nut: searched bilge by magnet (Ada Berg, ")
    ends = ": nothing). By a second person as well: bilge. Ports, tray, bilge, twice, torch and magnet"
    assert work.last.search.endswith(ends)
    assert_is_name(work.last.signature)
    assert work.state.ended == "released, not clear"


def test_a_torque_far_from_the_sheets_is_asked_about_and_stands_as_typed_when_it_is_meant(work):
    work.works_until("sign", MANIFOLD)
    work.shows("sign_off", what="sign", closure=MANIFOLD)
    work.tap(ADA.name)
    work.signs()
    work.types("Torque used", "240 N.m")
    assert work.says("That is ten times the sheet's figure: the decimal point?")
    assert work.screen.act_note == "First: look at the torque again"
    work.act()
    assert not isinstance(work.last, Signed)
    work.tap("Use 240 N.m all the same")
    work.types("Torque used", "90 N.m")
    work.act()
    assert not isinstance(work.last, Signed), "it was another figure that was meant"
    work.tap("Use 90 N.m all the same")
    work.act()
    assert not isinstance(work.last, Signed), "it was signed for another figure"
    work.signs()
    work.kill_and_start()
    work.act()
    assert isinstance(work.last, Signed)
    assert work.last.torque == "90 N.m"


def test_a_torque_without_its_unit_is_no_torque(work):
    work.works_until("sign", MANIFOLD)
    work.shows("sign_off", what="sign", closure=MANIFOLD)
    work.tap(ADA.name)
    work.signs()
    for typed, said in (("24", "The unit is missing"), ("tight", "is not a number with a unit")):
        work.types("Torque used", typed)
        assert work.says(said)
        assert not work.says("all the same")
        assert work.screen.act_note == "First: the torque with its unit"
        work.act()
        assert not isinstance(work.last, Signed)
    work.tap("I used 24 N.m")
    assert not work.says("The unit is missing")
    work.signs()
    work.act()
    assert isinstance(work.last, Signed)


def test_half_a_signature_survives_a_killed_app(work):
    work.works_until("sign", CROSSOVER)
    work.shows("sign_off", what="sign", closure=CROSSOVER)
    work.tap("I used 10 N.m")
    work.tap(JONAS.name)
    work.signs()
    work.kill_and_start()
    assert work.fields("Torque used")[0].text == "10 N.m"
    assert work.says("Signed")
    work.act()
    assert isinstance(work.last, Signed)
    assert (work.last.torque, work.entries[-1].who) == ("10 N.m", JONAS.name)


def test_what_stood_against_a_signature_is_put_right_and_leads_back_to_it(work):
    work.works_until("clear", MANIFOLD)
    work.does(builders.move("mirror", 1, places.STORES, places.ENGINE))
    work.shows("sign_off", what="clear", closure=MANIFOLD)
    work.tap(has="inspection mirror in or over")
    touch.tap(touch.find(work.screen, cls=TapArea))
    assert work.screen.act_text == "Back to what was refused"
    work.act()
    assert work.name == "sign_off"


def test_what_was_signed_stands_under_nothing_else(work):
    """Ada signs the last step of a release; then somebody goes back, touches another name, writes another reason."""
    reason = "Why it is released though it is not clear"
    work.shows("sign_off", what="release")
    work.types(reason, "The part is awaited")
    work.chooses(ADA.name)
    work.act()
    work.chooses("I know that this is not a closure")
    work.signs()
    assert work.screen.act_ready
    work.back()
    work.act()
    assert work.says("Not signed yet"), "one step back takes the signature away"
    work.signs()
    work.back()
    work.types(reason, "The owner says run it")
    work.chooses(JONAS.name)
    work.act()
    work.chooses("I know that this is not a closure")
    assert (work.screen.act_ready, work.screen.act_note) == (False, "First: sign with your finger")
    before = len(work.entries)
    work.act()
    assert len(work.entries) == before


def test_another_torque_wants_to_be_signed_for_itself(work):
    work.works_until("sign", CROSSOVER)
    work.shows("sign_off", what="sign", closure=CROSSOVER)
    work.tap("I used 10 N.m")
    work.tap(JONAS.name)
    work.signs()
    assert work.screen.act_ready
    work.types("Torque used", "11 N.m")
    assert work.says("Not signed yet"), "what was signed for is 10 N.m"
    work.types("Torque used", "10 N.m")
    assert work.screen.act_note == "First: sign with your finger"
