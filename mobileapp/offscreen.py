"""Draw widgets and screens without a display, at a phone's size, density and font scale, to PNG files.

    from mobileapp import offscreen
    offscreen.render(lambda: BoardScreen(...), Path("board.png"), density=2.625, font_scale=1.5)

The window is opened once, at kivy_env.OFFSCREEN_SIZE; SDL's offscreen surface cannot grow after that, so a larger
size is refused. The first `render` of a process opens it with smooth edges, unless it was prepared otherwise before.
Density and font scale can change at any time, for widgets made afterwards: hence a factory.
Kivy measures mm by the window's dots per inch and sp by its density; on a phone both say the same, so both are set.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from mobileapp import kivy_env

#: A phone of 65 x 131 mm: 1080 x 2160 at 420 dots per inch.
PHONE = (1080, 2160)
PHONE_DENSITY = 2.625
_FRAMES_TO_SETTLE = 12


class TooLarge(ValueError):
    """The size asked for does not fit the window that was opened."""


def open_window(smooth: bool = False) -> Any:
    """The offscreen window, dressed in our colours and fonts; the same one every time.

    Whoever opens it first says whether edges are drawn smooth, which costs time.
    """
    if not kivy_env.prepare(offscreen=True, smooth=smooth):
        raise RuntimeError("Kivy was set up for a display already; drawing offscreen needs its own process.")
    from kivy.base import EventLoop
    from kivy.core.window import Window

    from mobileapp import look

    if EventLoop.status == "idle":
        look.dress_window()
        EventLoop.start()
    return Window


def resize(size: tuple[int, int], density: float, font_scale: float = 1.0) -> None:
    """Give the window a phone's size in pixels, its density (160 dots per inch is 1) and the font scale."""
    window = open_window()
    if any(wanted > most for wanted, most in zip(size, kivy_env.OFFSCREEN_SIZE, strict=True)):
        raise TooLarge(f"{size} does not fit {kivy_env.OFFSCREEN_SIZE}: ask for a smaller size.")
    from kivy.metrics import Metrics

    Metrics.dpi = 160 * density
    Metrics.density = density
    Metrics.fontscale = font_scale
    window.size = size


def settle(frames: int = _FRAMES_TO_SETTLE) -> None:
    """Run the event loop until layout has come to rest."""
    from kivy.base import EventLoop

    for _ in range(frames):
        EventLoop.idle()


def picture() -> Any:
    """What the window shows, as a Pillow image."""
    from kivy.graphics.opengl import GL_RGBA, GL_UNSIGNED_BYTE, glReadPixels
    from PIL import Image

    window = open_window()
    window.dispatch("on_draw")
    width, height = map(int, window.size)
    data = glReadPixels(0, 0, width, height, GL_RGBA, GL_UNSIGNED_BYTE)
    upside_down = Image.frombytes("RGBA", (width, height), bytes(data))
    return upside_down.transpose(Image.Transpose.FLIP_TOP_BOTTOM).convert("RGB")


@contextmanager
def shown(factory: Callable[[], Any]) -> Iterator[Any]:
    """The widget `factory` makes, filling the window until the block ends."""
    window = open_window()
    widget = factory()
    window.add_widget(widget)
    settle()
    try:
        yield widget
    finally:
        window.remove_widget(widget)
        settle(2)


def render(
    factory: Callable[[], Any],
    path: Path,
    size: tuple[int, int] = PHONE,
    density: float = PHONE_DENSITY,
    font_scale: float = 1.0,
) -> Path:
    """Draw what `factory` makes into a PNG file at `path`; call it as often as you like."""
    open_window(smooth=True)
    resize(size, density, font_scale)
    with shown(factory):
        path.parent.mkdir(parents=True, exist_ok=True)
        picture().save(path)
    return path
