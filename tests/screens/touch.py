"""A hand and an eye for tests: real taps in the offscreen window, a stepped clock, and what can be measured.

    window = open_window()              the `kivy_window` fixture gives it, and empties it afterwards
    show(widget)                        fills the window with it
    tap(find(root, text="Take back"))   a real touch, down and up
    settle()                            a third of a second of frames; nothing ever sleeps
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations
from pathlib import Path
from typing import Any, NamedTuple

from mobileapp import kivy_env

kivy_env.prepare(offscreen=True)

from kivy.base import EventLoop  # noqa: E402
from kivy.clock import Clock  # noqa: E402
from kivy.input.motionevent import MotionEvent  # noqa: E402
from kivy.metrics import Metrics, mm  # noqa: E402
from kivy.uix.label import Label  # noqa: E402
from kivy.uix.scrollview import ScrollView  # noqa: E402
from kivy.uix.textinput import TextInput  # noqa: E402

from mobileapp import look, offscreen  # noqa: E402
from mobileapp.widgets.tally_field import TallyField  # noqa: E402, F401
from mobileapp.widgets.tappable import Tappable  # noqa: E402

FRAME = 1 / 60
Box = tuple[float, float, float, float]


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
    """Let frames pass, each a sixtieth of a second."""
    for _ in range(frames):
        _time[0].now += FRAME
        EventLoop.idle()


def show(widget: Any) -> Any:
    """Put `widget` alone into the window and let it come to rest."""
    clear()
    open_window().add_widget(widget)
    settle()
    return widget


def clear() -> None:
    """Empty the window."""
    window = open_window()
    for widget in window.children[:]:
        window.remove_widget(widget)


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
    if scroll is not None and _sticks_out(box_of(widget), box_of(scroll), upright=True):
        scroll.scroll_to(widget, padding=0, animate=False)
        settle(4)


def tap(widget: Any, frames: int = 20) -> None:
    """One tap in the middle of `widget`."""
    finger = Finger(*spot_of(widget)).down()
    settle(1)
    finger.up()
    settle(frames)


# ---- finding


def visible(root: Any) -> Iterator[Any]:
    """`root` and everything in it that is shown, parents first, in reading order."""
    if not root.opacity:
        return
    yield root
    for child in reversed(root.children):
        yield from visible(child)


def words_of(widget: Any) -> str:
    """The words on a widget."""
    return str(getattr(widget, "text", "") or getattr(widget, "what", "") or "")


def find_all(root: Any, text: str = "", has: str = "", id: str = "", cls: type | None = None) -> list[Any]:
    """Everything shown in `root` with exactly this text, with `has` in its text, with this kv id, of this class."""
    return [
        widget
        for widget in visible(root)
        if (not text or words_of(widget) == text)
        and (not has or has in words_of(widget))
        and (not id or any(id in other.ids and other.ids[id] == widget.proxy_ref for other in root.walk()))
        and (cls is None or isinstance(widget, cls))
    ]


def find(root: Any, text: str = "", has: str = "", id: str = "", cls: type | None = None) -> Any:
    """The first of `find_all`; says what there is when nothing matches."""
    found = find_all(root, text, has, id, cls)
    if not found:
        there = sorted({words_of(widget) for widget in visible(root)} - {""})
        raise LookupError(f"nothing with text={text!r} has={has!r} id={id!r} cls={cls}; there is: {there}")
    return found[0]


def texts(root: Any) -> list[str]:
    """Every piece of text shown, in reading order."""
    return [label.text for label in visible(root) if isinstance(label, Label) and label.text]


# ---- measuring


class Target(NamedTuple):
    """One touchable part as a hand meets it: millimetres, and its boxes in the window."""

    widget: Any
    words: str
    width_mm: float
    height_mm: float
    boxes: list[Box]


class Spacing(NamedTuple):
    """How far two parts are apart, and how far they must be."""

    one: str
    other: str
    apart_mm: float
    needed_mm: float


def box_of(widget: Any) -> Box:
    """Left, low, right, high in the window."""
    return (*widget.to_window(widget.x, widget.y), *widget.to_window(widget.right, widget.top))


def boxes_of(widget: Any) -> list[Box]:
    """The touchable boxes of a widget in the window."""
    if hasattr(widget, "touch_boxes"):
        return [
            (*widget.to_window(left, low), *widget.to_window(right, high))
            for left, low, right, high in widget.touch_boxes()
        ]
    return [box_of(widget)]


def scroll_around(widget: Any) -> Any:
    """The scrolling place a widget lies in, if any."""
    parent = widget.parent
    while parent is not None and parent is not EventLoop.window:
        if isinstance(parent, ScrollView):
            return parent
        parent = parent.parent
    return None


def measure_targets(root: Any) -> list[Target]:
    """Every touchable part shown in `root`."""
    parts = [part for part in visible(root) if _is_touchable(part)]
    return [
        Target(part, words_of(part) or type(part).__name__, part.width / mm(1), part.height / mm(1), boxes_of(part))
        for part in parts
    ]


def _is_touchable(part: Any) -> bool:
    if not (part.width and part.height):
        return False
    return isinstance(part, Tappable) or type(part).__name__ == "Field"


def spacings(targets: list[Target]) -> list[Spacing]:
    """The distance of each pair of parts that can be touched at the same time."""
    pairs = []
    for one, other in combinations(targets, 2):
        mine, theirs = _in_view(one), _in_view(other)
        if mine and theirs:
            apart = min(_distance(a, b) for a in mine for b in theirs) / mm(1)
            needed = max(getattr(part.widget, "apart_mm", look.GAP_MM) for part in (one, other))
            pairs.append(Spacing(one.words, other.words, apart, needed))
    return pairs


def _in_view(target: Target) -> list[Box]:
    scroll = scroll_around(target.widget)
    if scroll is None:
        return target.boxes
    clipped = [_clip(box, box_of(scroll)) for box in target.boxes]
    return [box for box in clipped if box[0] < box[2] and box[1] < box[3]]


def _clip(box: Box, frame: Box) -> Box:
    left, low, right, high = box
    return max(left, frame[0]), max(low, frame[1]), min(right, frame[2]), min(high, frame[3])


def _distance(one: Box, other: Box) -> float:
    across = max(one[0] - other[2], other[0] - one[2], 0)
    along = max(one[1] - other[3], other[1] - one[3], 0)
    return float((across**2 + along**2) ** 0.5)


def shot(path: Path | None = None) -> Any:
    """What the window shows, as a Pillow image; saved to `path` if one is given."""
    image = offscreen.picture()
    if path is not None:
        image.save(path)
    return image


def labels(root: Any) -> list[Any]:
    """Every label shown that has words."""
    return [label for label in visible(root) if isinstance(label, Label) and label.text.strip()]


def in_view(label: Any) -> bool:
    """Whether its whole box can be seen."""
    window = EventLoop.window
    frame = (0.0, 0.0, float(window.width), float(window.height))
    scroll = scroll_around(label)
    frame = _clip(frame, box_of(scroll)) if scroll is not None else frame
    return not _sticks_out(box_of(label), frame, upright=True)


def text_contrast(label: Any, pixels: Any) -> float:
    """Contrast of a label's letters against what is behind them, from rendered pixels.

    Behind is the commonest colour; the letters are what differs most from it, leaving out the outermost hundredth.
    """
    left, low, right, high = _text_box(label)
    crop = pixels.crop((int(left), int(pixels.height - high), int(right + 1), int(pixels.height - low)))
    counts = crop.getcolors(crop.width * crop.height)
    behind = _share(max(counts)[1])
    ranked = sorted(
        ((look.contrast(_share(colour), behind), count) for count, colour in counts), reverse=True
    )
    to_skip = crop.width * crop.height / 100
    for ratio, count in ranked:
        to_skip -= count
        if to_skip < 0:
            return float(ratio)
    return float(ranked[-1][0])


def _text_box(label: Any) -> Box:
    """The part of a label its words can be in."""
    left, low, right, high = box_of(label)
    wide, tall = label.texture_size
    middle, waist = (left + right) / 2, (low + high) / 2
    return _clip((middle - wide / 2, waist - tall / 2, middle + wide / 2, waist + tall / 2), (left, low, right, high))


def _share(colour: tuple[int, ...]) -> tuple[float, ...]:
    return tuple(part / 255 for part in colour)


def clipped(root: Any) -> list[str]:
    """Texts that do not fit: larger than their box, out of a part they belong to, or off the side of the screen."""
    faults = []
    for label in labels(root):
        wide, tall = label.texture_size
        if wide > label.width + 1 or tall > label.height + 1:
            faults.append(f"{label.text!r} is {wide}x{tall} in a box of {label.width:.0f}x{label.height:.0f}")
        outside = _first_outside(label)
        if outside:
            faults.append(f"{label.text!r} sticks out of {outside}")
    return faults


def _first_outside(label: Any) -> str:
    box, parent = box_of(label), label.parent
    while parent is not None and parent is not EventLoop.window:
        frame = box_of(parent)
        upright = not isinstance(parent, ScrollView)
        if _sticks_out(box, frame, upright):
            return type(parent).__name__
        if not upright:
            return ""
        parent = parent.parent
    window = EventLoop.window
    return "the window" if _sticks_out(box, (0, 0, window.width, window.height), True) else ""


def _sticks_out(box: Box, frame: Box, upright: bool) -> bool:
    sideways = box[0] < frame[0] - 1 or box[2] > frame[2] + 1
    return sideways or (upright and (box[1] < frame[1] - 1 or box[3] > frame[3] + 1))


def broken_words(root: Any) -> list[str]:
    """Texts in which a line ends in the middle of a word."""
    faults = []
    for label in labels(root):
        lines = [" ".join("".join(word.text for word in line.words).split()) for line in label._label._cached_lines]
        if " ".join(" ".join(lines).split()) != " ".join(label.text.split()):
            faults.append(f"{label.text!r} is broken into {lines}")
    return faults


def too_small(targets: list[Target], least_mm: float = look.KEY_MM) -> list[str]:
    """Parts smaller than a glove needs, with their size."""
    return [
        f"{part.words!r} is {part.width_mm:.1f} x {part.height_mm:.1f} mm"
        for part in targets
        if min(part.width_mm, part.height_mm) < least_mm - 0.05
    ]


def too_close(targets: list[Target]) -> list[str]:
    """Pairs of parts closer than they must be."""
    return [
        f"{pair.one!r} and {pair.other!r} are {pair.apart_mm:.1f} mm apart, {pair.needed_mm} wanted"
        for pair in spacings(targets)
        if pair.apart_mm < pair.needed_mm - 0.05
    ]


def type_into(field: Any, text: str) -> None:
    """Tap a field and type; the field's old text stays in front of it."""
    tap(field)
    entry = field if isinstance(field, TextInput) else field.entry
    assert entry.focus, f"tapping {field.label!r} did not start typing"
    entry.insert_text(text)
    settle(2)


def fonts_are_at(scale: float) -> bool:
    """Whether the window draws at this font scale."""
    return bool(Metrics.fontscale == scale)
