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
