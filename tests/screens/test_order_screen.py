"""The tightening order: from the sheet with each tick recorded, a ring chosen, bolts placed by tapping."""

from pathlib import Path
from typing import Any

import pytest
from photos.photo_maker import LIES, exif_block, jpeg, scene
from screens import touch
from screens.shop_hand import AtTheBench

from checklists.facts import Reversed
from checklists.facts_measured import Tightened
from mobileapp.screens.order_backdrop import BACKDROP_SIDE, show_behind
from mobileapp.screens.pixels import pixels_of
from mobileapp.shelf import load_sheet
from mobileapp.widgets.flange import Flange


@pytest.fixture
def work(kivy_window: Any, tmp_path: Path) -> AtTheBench:
    return AtTheBench(tmp_path, load_sheet("lift-pump-and-side-cover"))


def flange(work: AtTheBench) -> Flange:
    return touch.find(work.shell, cls=Flange)


def test_each_fastener_of_the_sheets_map_is_ticked_with_one_tap_and_recorded(work):
    work.opens("order")
    work.tap(text="Side cover")
    assert work.says("Pass 1 of 2: 50 %")
    assert work.says("4 to 5 lbf.ft of 8 to 10 lbf.ft")
    first = work.screen.upcoming.bolt
    assert flange(work).upcoming == first
    work.act()
    assert work.last == Tightened("side-cover", first, 50)
    assert flange(work).done == [first]
    for _ in range(9):
        work.act()
    assert work.says("Pass 2 of 2: 100 %")
    assert flange(work).done == []
    for _ in range(10):
        work.act()
    assert work.says("Every fastener is ticked")
    ticked = [entry.fact for entry in work.entries if isinstance(entry.fact, Tightened)]
    assert sorted((fact.percent, fact.number) for fact in ticked) == [(p, n) for p in (50, 100) for n in range(1, 11)]


def test_a_tick_is_taken_back_with_a_key_kept_apart_and_is_due_again(work):
    work.opens("order", closure="side-cover")
    assert work.screen.take_back.disabled
    first = work.screen.upcoming.bolt
    work.act()
    second = work.screen.upcoming.bolt
    work.act()
    assert set(flange(work).done) == {first, second}
    assert touch.faults(work.shell) == []
    touch.tap(work.screen.take_back)
    assert isinstance(work.last, Reversed)
    assert flange(work).done == [first]
    assert (flange(work).upcoming, work.screen.upcoming.bolt) == (second, second)
    assert work.says("1 of 20 ticked")
    touch.tap(work.screen.take_back)
    assert work.screen.take_back.disabled


def test_after_the_last_tick_is_taken_back_the_plan_goes_on(work):
    work.opens("order", closure="side-cover")
    for _ in range(20):
        work.act()
    assert work.says("Every fastener is ticked")
    touch.tap(work.screen.take_back)
    assert work.says("Pass 2 of 2: 100 %")
    work.act()
    assert work.says("Every fastener is ticked")


def test_a_ring_of_four_goes_crosswise_and_records_nothing(work):
    work.put_down()
    work.opens("order")
    work.chooses("Bolts in a ring")
    for _ in range(4):
        touch.tap(touch.find(work.screen, text="−"), frames=3)
    assert sorted(flange(work).numbers) == [1, 2, 3, 4]
    work.act()
    assert work.says("Order: 1, 3, 2, 4")
    assert work.says("Nothing is recorded.")
    work.act()
    assert flange(work).done == [1]
    work.tap(text="Take the last tick away")
    assert flange(work).done == []


def test_bolts_are_placed_by_tapping_on_the_field_and_numbered_clockwise(work):
    work.put_down()
    work.opens("order")
    work.chooses("Placed by tapping")
    field = flange(work)
    touch.bring_into_view(field)
    for across, up in ((0.2, 0.2), (0.8, 0.8), (0.8, 0.2), (0.2, 0.8)):
        x, y = field.to_window(field.x + across * field.width, field.y + up * field.height)
        touch.Finger(x, y).down().up()
        touch.settle()
    assert field.numbers == [3, 1, 2, 4]
    assert work.says("4 bolts, 3 passes")
    work.tap(text="Take the last one away")
    assert len(field.points) == 3


def test_the_makers_stages_are_the_passes_and_the_wrench_is_set_as_the_maker_writes(work):
    work.put_down()
    work.opens("order")
    work.chooses("Bolts in a ring")
    work.types("Maker's figure (may be left empty)", "30 Nm, 60 Nm, 90 Nm")
    assert work.says("8 bolts, 3 passes: the maker's stages")
    work.types("Maker's figure (may be left empty)", "20 Nm (15 lbf.in)")
    assert work.says("20 N.m and 15 lbf.in are not the same torque")
    work.types("Maker's figure (may be left empty)", "30 Nm, 60 Nm, 90 Nm")
    work.act()
    assert work.says("Pass 1 of 3: 33 %")
    assert work.says("30 Nm of 90 N.m")
    assert touch.faults(work.shell) == []


def test_an_angle_has_no_share_and_each_pass_is_one_of_the_makers_words(work):
    work.put_down()
    work.opens("order")
    work.chooses("Bolts in a ring")
    work.types("Maker's figure (may be left empty)", "30 N.m + 90 deg")
    work.act()
    assert work.screen.next_said.text == "Pass 1 of 3"
    assert work.says("of the maker's 30 N.m + 90 deg")


def test_passes_that_fall_are_refused_in_words(work):
    work.put_down()
    work.opens("order")
    work.chooses("Bolts in a ring")
    work.types("Passes, in % of the torque", "70, 30, 100")
    assert work.says("Each pass must be tighter than the one before.")
    assert not work.screen.act_ready


def test_a_tick_on_a_closure_that_is_off_is_refused_with_the_reason(work):
    work.hands.do(work.works_until("lift", "side-cover"))
    work.opens("order", closure="side-cover")
    work.act()
    assert work.name == "refusal"
    assert work.says("Not ticked: Side cover")
    assert work.says("Set it down first.")


def test_a_photo_lies_behind_the_field_to_tap_on(work):
    work.put_down()
    work.opens("order")
    work.chooses("Placed by tapping")
    work.takes_photo("Photo to tap on (may be left out)")
    work.waits()
    assert work.name == "order"
    assert flange(work).placing
    assert flange(work).backdrop.size == (640, 480), "every dot of a small photo"


def test_a_large_photo_behind_the_bolts_is_sharp_enough_for_its_place_and_the_right_way_up(work):
    path, turned = work.folder / "flange.jpg", 6  # the camera was held upright: its file lies on its side
    path.write_bytes(jpeg(scene(2000, 3000).transpose(LIES[turned][0]), exif_block(orientation=turned)))
    work.put_down()
    work.opens("order")
    work.chooses("Placed by tapping")
    show_behind(work.desk, flange(work), str(path))
    work.waits()
    shown = flange(work).backdrop.size
    assert shown == (round(BACKDROP_SIDE * 2 / 3), BACKDROP_SIDE)
    assert shown[1] >= 3 * flange(work).height, "a dot of the photo for every dot of a glass three times as fine"
    red, green, blue = pixels_of(path, BACKDROP_SIDE).data[:3]
    assert red > 150 > max(green, blue), "the red corner is top left again"


def test_a_file_that_is_no_photo_leaves_the_field_as_it_was(work):
    (work.folder / "notes.jpg").write_text("ten bolts")
    work.put_down()
    work.opens("order")
    work.chooses("Placed by tapping")
    show_behind(work.desk, flange(work), str(work.folder / "notes.jpg"))
    work.waits()
    assert flange(work).backdrop is None
