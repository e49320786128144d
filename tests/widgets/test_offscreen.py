"""Drawing without a display, as often as wanted, at any phone's size and density; and quietly."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
from PIL import Image
from screens import touch
from widgets.samples import board, count_back

from mobileapp import kivy_env, offscreen


def test_pictures_come_out_at_the_size_asked_for(kivy_window: Any, tmp_path: Path) -> None:
    for name, size, density in (("one", (1080, 2160), 2.625), ("two", (412, 824), 1.0), ("three", (720, 1280), 2.0)):
        path = offscreen.render(board, tmp_path / "new" / f"{name}.png", size, density)
        with Image.open(path) as image:
            assert image.size == size
            assert len(image.getcolors(1 << 24)) > 20


def test_the_same_screen_gives_the_same_pixels_again(kivy_window: Any, tmp_path: Path) -> None:
    first = offscreen.render(board, tmp_path / "a.png", (412, 824), 1.0).read_bytes()
    offscreen.render(count_back, tmp_path / "between.png", (720, 1280), 2.0, font_scale=1.5)
    assert offscreen.render(board, tmp_path / "b.png", (412, 824), 1.0).read_bytes() == first


def test_a_millimetre_follows_the_density(kivy_window: Any) -> None:
    """Set while running, it holds for widgets made afterwards: no new process is needed."""
    for density in (1.0, 2.625):
        touch.phone(density)
        assert touch.mm(25.4) == pytest.approx(160 * density)


def test_a_size_beyond_the_window_is_refused(kivy_window: Any, tmp_path: Path) -> None:
    with pytest.raises(offscreen.TooLarge, match="smaller size"):
        offscreen.render(board, tmp_path / "x.png", (4000, 4000))


def test_a_screen_leaves_the_window_as_it_found_it(kivy_window: Any, tmp_path: Path) -> None:
    offscreen.render(board, tmp_path / "a.png", (412, 824), 1.0)
    assert kivy_window.children == []


@pytest.mark.parametrize("density", ["1", "2.625"])
def test_a_process_that_starts_at_a_density_measures_the_same(density: str, tmp_path: Path) -> None:
    """As on a phone, where density and dots per inch are there before the first import."""
    source = Path(__file__).parents[2]
    program = (
        "from mobileapp import kivy_env; kivy_env.prepare(offscreen=True)\n"
        "from mobileapp import offscreen; offscreen.open_window()\n"
        "from kivy.metrics import mm; from mobileapp.widgets.plate import PlateButton\n"
        "key = PlateButton(text='Lift it', width=mm(60)); offscreen.settle()\n"
        "print(round(key.height / mm(20), 3), round(mm(25.4)))\n"
    )
    environment = {
        "PATH": "", "HOME": str(tmp_path), "PYTHONPATH": str(source), "KIVY_METRICS_DENSITY": density,
        "KIVY_DPI": str(160 * float(density)),
    }  # fmt: skip
    done = subprocess.run(
        [sys.executable, "-c", program], capture_output=True, text=True, env=environment, timeout=60, check=False
    )
    assert (done.stdout.split(), done.stderr) == (["1.0", str(round(160 * float(density)))], "")
    assert list(tmp_path.iterdir()) == []


def test_a_display_is_used_when_there_is_one(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv("WAYLAND_DISPLAY", raising=False)
    monkeypatch.setenv("DISPLAY", ":0")
    assert kivy_env.has_display()
    monkeypatch.delenv("DISPLAY")
    assert kivy_env.has_display() is not sys.platform.startswith("linux")
