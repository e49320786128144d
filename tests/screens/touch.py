"""A hand for tests: real taps in the offscreen window, and a clock that is stepped.

    window = open_window()              the `kivy_window` fixture gives it, and empties it afterwards
    show(widget)                        fills the window with it
    tap(find(root, text="Take back"))   a real touch, down and up
    settle()                            a third of a second of frames, not drawn; nothing ever sleeps
"""

from __future__ import annotations

from typing import Any

from mobileapp import kivy_env

kivy_env.prepare(offscreen=True)

from kivy.animation import Animation  # noqa: E402
from kivy.base import EventLoop  # noqa: E402
from kivy.clock import Clock  # noqa: E402
from kivy.input.motionevent import MotionEvent  # noqa: E402
from kivy.lang import Builder  # noqa: E402
from kivy.metrics import mm  # noqa: E402, F401
from kivy.uix.textinput import TextInput  # noqa: E402
from screens.eye import (  # noqa: E402, F401  (tests reach the eye through the hand)
    Spacing,
    Target,
    box_of,
    boxes_of,
    broken_words,
    clipped,
    dim,
    faults,
    find,
    find_all,
    in_view,
    is_touchable,
    labels,
    measure_targets,
    scroll_around,
    shot,
    spacings,
    sticks_out,
    text_contrast,
    texts,
    too_close,
    too_small,
    visible,
    words_of,
)

from mobileapp import offscreen  # noqa: E402
from mobileapp.screens.base import BaseScreen  # noqa: E402
from mobileapp.widgets.tally_field import TallyField  # noqa: E402, F401

FRAME = 1 / 60


class SteppedTime:
    """The time Kivy's clock reads under test: it moves when a frame is asked for, never by itself."""

    def __init__(self, start: float) -> None:
        self.now = start

    def __call__(self) -> float:
        return self.now


_time: list[SteppedTime] = []


def open_window() -> Any:
    """The offscreen window, with Kivy's clock stepped by hand."""
    window = offscreen.open_window()
    if not _time:
        _time.append(SteppedTime(Clock.time()))
        Clock.time = _time[0]
    return window


def settle(frames: int = 20) -> None:
    """Let frames pass, each a sixtieth of a second. Nothing is drawn: nobody looks, and `picture` draws for itself."""
    for _ in range(frames):
        _time[0].now += FRAME
        _undrawn_frame()


def drawn(frames: int = 1) -> None:
    """Let frames pass that are put on the glass as well: for what is measured, or looked at on the way."""
    for _ in range(frames):
        _time[0].now += FRAME
        EventLoop.idle()


def _undrawn_frame() -> None:
    """All that Kivy does for a frame but putting it on the glass, which takes two fifths of a test's time."""
    Clock.tick()
    EventLoop.dispatch_input()
    Builder.sync()
    Clock.tick_draw()
    Builder.sync()


def show(widget: Any) -> Any:
    """Put `widget` alone into the window and let it come to rest."""
    clear(shown_next=widget)
    open_window().add_widget(widget)
    settle()
    EventLoop.idle()  # and once it is drawn, so that what cannot be drawn fails here
    return widget


def clear(shown_next: Any = None) -> None:
    """Empty the window. What will not be shown again is left as the shell leaves it: else its clocks run for ever."""
    window = open_window()
    for widget in window.children[:]:
        window.remove_widget(widget)
        screen = getattr(widget, "screen", widget)
        if widget is not shown_next and isinstance(screen, BaseScreen):
            screen.leave()
    if shown_next is None:
        # A scroll bar that still fades would hold its screen in memory. Kivy has no open way to all that moves.
        for fading in list(Animation._instances):
            for moved in list(fading._widgets.values()):
                fading.cancel(moved["widget"])


def phone(density: float = 1.0, font_scale: float = 1.0, wide_mm: float = 65, high_mm: float = 131) -> None:
    """Make the window a phone of this size; for widgets made from now on."""
    open_window()
    dots = 160 * density / 25.4
    offscreen.resize((round(wide_mm * dots), round(high_mm * dots)), density, font_scale)


class Finger(MotionEvent):
    """One contact on the glass."""

    def __init__(self, x: float, y: float) -> None:
        super().__init__(type(self).__name__, id(self), self._share(x, y), is_touch=True, type_id="touch")
        self.profile = ["pos"]

    def _share(self, x: float, y: float) -> dict[str, float]:
        window = EventLoop.window
        return {"x": x / (window.width - 1.0), "y": y / (window.height - 1.0)}

    def depack(self, args: dict[str, float]) -> None:
        self.sx, self.sy = args["x"], args["y"]
        super().depack(args)

    def down(self) -> Finger:
        EventLoop.post_dispatch_input("begin", self)
        return self

    def move(self, x: float, y: float) -> Finger:  # type: ignore[override]
        super().move(self._share(x, y))
        EventLoop.post_dispatch_input("update", self)
        return self

    def up(self) -> Finger:
        EventLoop.post_dispatch_input("end", self)
        return self


def spot_of(widget: Any) -> tuple[float, float]:
    """Where a finger would land on it, in the window, after bringing it into view."""
    bring_into_view(widget)
    left, low, right, high = boxes_of(widget)[0]
    x, y = (left + right) / 2, (low + high) / 2
    window = EventLoop.window
    on_screen = 0 <= x < window.width and 0 <= y < window.height
    assert on_screen, f"{words_of(widget)!r} is off screen at {x:.0f}, {y:.0f}"
    return x, y


def bring_into_view(widget: Any) -> None:
    """Scroll as a person would, if it lies in a scrolling place and cannot be seen whole."""
    scroll = scroll_around(widget)
    if scroll is not None and sticks_out(box_of(widget), box_of(scroll), upright=True):
        scroll.scroll_to(widget, padding=0, animate=False)
        settle(4)


def tap(widget: Any, frames: int = 20) -> None:
    """One tap in the middle of `widget`."""
    finger = Finger(*spot_of(widget)).down()
    settle(1)
    finger.up()
    settle(frames)


def type_into(field: Any, text: str) -> None:
    """Tap a field and type; the field's old text stays in front of it."""
    tap(field)
    entry = field if isinstance(field, TextInput) else field.entry
    assert entry.focus, f"tapping {field.label!r} did not start typing"
    entry.insert_text(text)
    settle(2)


#: A quick signature, as shares of the field from its top left.
NAME = ((0.1, 0.8), (0.25, 0.2), (0.35, 0.8), (0.5, 0.3), (0.7, 0.7), (0.9, 0.4))


def draw(field: Any, line: Any = NAME) -> None:
    """Draw one stroke on a field with a finger."""
    bring_into_view(field)
    left, low, right, high = box_of(field)
    spots = [(left + x * (right - left), high - y * (high - low)) for x, y in line]
    finger = Finger(*spots[0]).down()
    for spot in spots[1:]:
        settle(1)
        finger.move(*spot)
    finger.up()
    settle(3)
