"""An eye for tests: finds what a screen shows, and measures it on the rendered window.

Sizes and distances in millimetres, contrast from pixels, texts that do not fit or are broken.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations
from pathlib import Path
from typing import Any, NamedTuple

from mobileapp import kivy_env

kivy_env.prepare(offscreen=True)

from kivy.base import EventLoop  # noqa: E402
from kivy.metrics import dp, mm  # noqa: E402
from kivy.uix.label import Label  # noqa: E402
from kivy.uix.scrollview import ScrollView  # noqa: E402

from mobileapp import look, offscreen  # noqa: E402
from mobileapp.widgets.tappable import Tappable  # noqa: E402
from mobileapp.widgets.text import Words  # noqa: E402
from mobileapp.writing import parts  # noqa: E402

Box = tuple[float, float, float, float]


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
    parts = [part for part in visible(root) if is_touchable(part)]
    return [
        Target(
            part,
            words_of(part) or type(part).__name__,
            part.width / mm(1),
            part.height / mm(1),
            boxes_of(part),
        )
        for part in parts
    ]


def is_touchable(part: Any) -> bool:
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
    return not sticks_out(box_of(label), frame, upright=True)


def text_contrast(label: Any, pixels: Any) -> float:
    """Contrast of a label's letters against what is behind them, from rendered pixels.

    Behind is the commonest colour; the letters are what differs most from it, leaving out the outermost hundredth of
    all that differs (a stray dot is not a letter; a minus sign is a small part of its box, and is one).
    """
    left, low, right, high = _text_box(label)
    crop = pixels.crop((int(left), int(pixels.height - high), int(right + 1), int(pixels.height - low)))
    counts = crop.getcolors(crop.width * crop.height)
    behind = _share(max(counts)[1])
    ranked = sorted(
        ((look.contrast(_share(colour), behind), count) for count, colour in counts), reverse=True
    )
    to_skip = (crop.width * crop.height - max(counts)[0]) / 100
    for ratio, count in ranked:
        to_skip -= count
        if to_skip < 0:
            return float(ratio)
    return float(ranked[-1][0])


def dim(root: Any) -> list[str]:
    """Texts that stand out less than seven to one, from the pixels; what lies further down is scrolled to as well."""
    left, faults = labels(root), []
    while left:
        pixels = shot()
        seen = [label for label in left if in_view(label)]
        for label in seen:
            ratio = text_contrast(label, pixels)
            if ratio < 7:
                faults.append(f"{label.text!r} stands out {ratio:.1f} to one")
        left = [label for label in left if label not in seen]
        left = left if not left or _turn_page(left) else left[1:]
    return faults


def _turn_page(left: list[Any]) -> bool:
    """Scroll as a person would until the first of them is seen, and what follows it on one page; whether it is now."""
    scroll = scroll_around(left[0])
    if scroll is None:
        return False
    top = box_of(left[0])[3]
    page = [label for label in left if scroll_around(label) is scroll and 0 <= top - box_of(label)[1] <= scroll.height]
    scroll.scroll_to(page[-1] if page else left[0], padding=0, animate=False)
    for _ in range(3):
        EventLoop.idle()
    return in_view(left[0])


def tiny(root: Any) -> list[str]:
    """Words that had to become smaller than small print to fit their place (17 sp; 12 dp are the least)."""
    return [
        f"{label.text!r} is in letters of {label.font_size / mm(1):.1f} mm"
        for label in labels(root)
        if isinstance(label, Words) and label.font_size < dp(12)
    ]


def faults(root: Any) -> list[str]:
    """Everything a hand or an eye would stumble over on this screen, as it stands."""
    targets = measure_targets(root)
    found = [*clipped(root), *broken_words(root), *too_small(targets), *too_close(targets), *dim(root), *tiny(root)]
    return [str(fault) for fault in found]


def _text_box(label: Any) -> Box:
    """The part of a label its words can be in."""
    left, low, right, high = box_of(label)
    wide, tall = label.texture_size
    middle, waist = (left + right) / 2, (low + high) / 2
    return _clip(
        (middle - wide / 2, waist - tall / 2, middle + wide / 2, waist + tall / 2), (left, low, right, high)
    )


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
        if sticks_out(box, frame, upright):
            return type(parent).__name__
        if not upright:
            return ""
        parent = parent.parent
    window = EventLoop.window
    return "the window" if sticks_out(box, (0, 0, window.width, window.height), True) else ""


def sticks_out(box: Box, frame: Box, upright: bool) -> bool:
    sideways = box[0] < frame[0] - 1 or box[2] > frame[2] + 1
    return sideways or (upright and (box[1] < frame[1] - 1 or box[3] > frame[3] + 1))


def broken_words(root: Any) -> list[str]:
    """Texts in which a line ends in the middle of a word."""
    faults = []
    for label in labels(root):
        lines = [
            " ".join("".join(word.text for word in line.words).split()) for line in _written(label)._cached_lines
        ]
        drawn = "".join(part.drawn for part in parts(label.text))
        if " ".join(" ".join(lines).split()) != " ".join(drawn.split()):
            faults.append(f"{label.text!r} is broken into {lines}")
    return faults


def _written(label: Any) -> Any:
    return (isinstance(label, Words) and label.written) or label._label


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
