"""The strip of photos, and one looked at closely: small first, then sharper; fingers and keys."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from PIL import Image
from screens import touch
from screens.photo_work import PhotoWork

from mobileapp.screens.photo_view import CHUNK
from mobileapp.screens.pixels import CLOSE_SIDE, pixels_of
from mobileapp.widgets.zoom_view import MOST, ZoomView


@pytest.fixture
def work(kivy_window: Any, tmp_path: Path) -> Iterator[PhotoWork]:
    work = PhotoWork(tmp_path)
    work.keeps("opening:inlet-1", "baseline", "port.png")
    yield work
    work.let_go()


def view(work: PhotoWork) -> ZoomView:
    return touch.find(work.screen, cls=ZoomView)


def looks_at_it(work: PhotoWork) -> ZoomView:
    work.shows("photo_view")
    work.wait()
    work.tap(has="Inlet port 1 at the head")
    work.wait()
    work.wait()
    return view(work)


def test_the_strip_says_what_each_photo_belongs_to_when_and_by_whom(work: PhotoWork) -> None:
    work.keeps("closure:inlet-manifold", "lift check", "lid.png")
    work.shows("board")
    work.tap("Photos")
    assert work.says("2 kept") is False
    rows = [text for text in work.texts() if ": " in text]
    assert rows == ["Inlet manifold: lift check", "Inlet port 1 at the head: baseline"], "newest first"
    assert work.says("08:00, Ada Berg")
    work.wait()
    pictures = [w for w in touch.visible(work.screen) if getattr(w, "texture", None) and hasattr(w, "fit_mode")]
    assert len(pictures) == 2


def test_many_photos_come_in_pieces(work: PhotoWork) -> None:
    for number in range(CHUNK + 1):
        work.keeps("teardown:", "other", f"n{chr(65 + number) * (number + 1)}.png")
    work.shows("photo_view")
    assert not work.says("Inlet port 1")
    work.tap("2 older")
    assert work.says("Inlet port 1")


def test_a_photo_is_shown_large_with_the_cameras_time_or_its_absence_said(work: PhotoWork) -> None:
    shown = looks_at_it(work)
    assert tuple(shown.texture.size) == (640, 480)
    assert work.says("The camera wrote no time. Kept 08:00, Ada Berg.")


def test_large_keys_zoom_in_and_out(work: PhotoWork) -> None:
    shown = looks_at_it(work)
    before = touch.box_of(shown)
    work.act()
    assert shown.zoom == pytest.approx(1.6)
    assert work.says("1.6 x")
    work.tap("−")
    assert shown.zoom == pytest.approx(1.0)
    assert work.key("−").disabled
    for _ in range(8):
        work.act()
    assert shown.zoom == MOST
    assert not work.screen.act_ready
    assert touch.box_of(shown) == before, "the picture grows inside its place"


def test_the_picture_has_room_on_a_small_phone(work: PhotoWork) -> None:
    shown = looks_at_it(work)
    assert shown.height > touch.mm(30)
    assert shown.width > touch.mm(50)


def test_one_finger_drags_and_the_picture_keeps_to_its_edges(work: PhotoWork) -> None:
    shown = looks_at_it(work)
    for _ in range(4):
        work.act()
    touch.draw(shown, ((0.5, 0.5), (0.7, 0.5)))
    assert shown.centre[0] < 0.5, "dragged right, one sees more of its left"
    for _ in range(6):
        touch.draw(shown, ((0.1, 0.5), (0.9, 0.5)))
    assert shown.centre[0] == pytest.approx(shown.width / (2 * shown.fitted[0] * shown.zoom))


def test_two_fingers_pinch(work: PhotoWork) -> None:
    shown = looks_at_it(work)
    x, y = shown.to_window(*shown.center)
    one, other = touch.Finger(x - 20, y).down(), touch.Finger(x + 20, y).down()
    touch.settle(1)
    one.move(x - 60, y)
    other.move(x + 60, y)
    touch.settle(1)
    one.up()
    other.up()
    touch.settle(2)
    assert shown.zoom == pytest.approx(3.0, rel=0.05)


def test_twelve_megapixels_never_reach_the_screen(tmp_path: Path) -> None:
    path = tmp_path / "large.jpg"
    Image.new("RGB", (4000, 3000), "grey").save(path)
    pixels = pixels_of(path, CLOSE_SIDE)
    assert pixels is not None
    assert pixels.size == (2048, 1536)
    assert len(pixels.data) == 2048 * 1536 * 3


def test_a_photo_that_was_altered_is_said(work: PhotoWork) -> None:
    (sha,) = work.state.photos
    path = work.store.path(sha)
    path.chmod(0o644)
    path.write_bytes(path.read_bytes()[:200])
    for small in path.parent.rglob(f"{sha}.jpg"):
        small.unlink()
    work.shows("photo_view", sha=sha)
    work.wait()
    assert work.says(sha[:12])


def five_photos(work: PhotoWork) -> None:
    for name, about in (("b.png", "inlet-2"), ("c.png", "inlet-1"), ("d.png", "inlet-3"), ("e.png", "inlet-1")):
        work.keeps(f"opening:{about}", "closeout", name)


def turns(work: PhotoWork, key: str) -> str:
    """Tap it, and what the screen then shows."""
    work.tap(key)
    work.wait()
    work.wait()
    return str(work.state.photos[work.screen.sha][0].name)


def test_next_and_previous_go_along_the_strip_of_the_teardown(work: PhotoWork) -> None:
    five_photos(work)
    work.shows("photo_view")
    work.wait()
    work.tap(has="Inlet port 3")
    assert work.screen.title == "2 of 5"
    assert [turns(work, "Next") for _ in range(3)] == ["c.png", "b.png", "port.png"]
    assert work.says("Inlet port 1 at the head: baseline")
    assert work.screen.title == "5 of 5"
    assert work.key("Next").disabled, "the strip has an end"
    assert turns(work, "Previous") == "b.png"
    assert not work.key("Next").disabled
    work.back()
    assert work.says("Inlet port 3 at the head: closeout"), "one step back is the strip"


def test_the_photos_of_one_thing_stay_among_themselves(work: PhotoWork) -> None:
    five_photos(work)
    work.shows("photo_view", about="opening:inlet-1")
    work.tap(has="baseline")
    assert work.screen.title == "3 of 3"
    assert [turns(work, "Previous") for _ in range(2)] == ["c.png", "e.png"]
    assert work.key("Previous").disabled


def test_the_next_photo_is_as_near_and_at_the_same_spot(work: PhotoWork) -> None:
    five_photos(work)
    shown = looks_at_it(work)
    work.act()
    work.act()
    touch.draw(shown, ((0.7, 0.6), (0.3, 0.4)))
    zoom, centre = shown.zoom, list(shown.centre)
    turns(work, "Previous")
    assert view(work) is shown
    assert (shown.zoom, list(shown.centre)) == (pytest.approx(zoom), pytest.approx(centre))
    assert tuple(shown.texture.size) == (640, 480)


def test_a_picture_that_comes_late_is_not_shown_as_another_one(work: PhotoWork) -> None:
    five_photos(work)
    sha = next(iter(work.state.photos))
    work.store.path(sha).unlink()
    for small in work.store.folder.rglob(f"{sha}.jpg"):
        small.unlink()
    work.shows("photo_view", sha=list(work.state.photos)[1])
    work.tap("Next")
    work.tap("Previous")
    work.wait()
    work.wait()
    assert not work.says(sha[:12]), "that the other one cannot be opened is not said of this one"
    assert view(work).texture is not None


def test_a_stopped_app_comes_back_to_the_photo_that_was_looked_at(work: PhotoWork) -> None:
    five_photos(work)
    work.shows("photo_view", sha=list(work.state.photos)[2])
    turns(work, "Next")
    seen = work.screen.sha
    work.kill_and_start()
    assert work.screen.sha == seen
    assert work.screen.title == "4 of 5"


def test_a_single_photo_has_no_keys_for_others(work: PhotoWork) -> None:
    looks_at_it(work)
    assert work.screen.title == "Photo"
    assert "Next" not in work.texts()


@pytest.mark.parametrize("scale", [1.0, 1.5])
@pytest.mark.parametrize("high", [115, 131, 150])
def test_the_turning_keys_are_large_and_leave_the_picture_room(work: PhotoWork, scale: float, high: int) -> None:
    five_photos(work)
    touch.phone(density=1.5, font_scale=scale, high_mm=high)
    looks_at_it(work)
    assert touch.faults(work.shell) == []
    assert view(work).height > touch.mm(20)
