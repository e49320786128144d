"""The tightening order: the flange with its numbers, which bolt comes next in which pass, and a tick for each."""

from __future__ import annotations

from functools import partial
from math import cos, pi, sin
from typing import Any

from kivy.metrics import mm
from kivy.uix.widget import Widget

from checklists import builders
from checklists.facts_measured import Tightened
from checklists.sheet import Closure
from checklists.state import SIGNED
from checklists.tightening_plan import plan_of
from checklists.workshop.tightening import Step, TighteningOrder, pass_faults, pass_target, tightening_order
from checklists.workshop.tightening import tightening_steps as steps_of
from checklists.workshop.torque import figures_apart
from checklists.workshop.torque_figure import AngleFigure, TorqueFigure, read_torque, stage_percents
from checklists.workshop.units import NotUnderstood
from mobileapp import look
from mobileapp.screens.aside import in_steps
from mobileapp.screens.base import BaseScreen
from mobileapp.screens.form_parts import Choice, Choices, FormField, Stack, Stepper, key_row, remember
from mobileapp.screens.order_backdrop import show_behind
from mobileapp.screens.photo_field import PhotoField
from mobileapp.screens.workshop_parts import NOTHING_RECORDED
from mobileapp.widgets.flange import Flange
from mobileapp.widgets.plate import Plate, TakeBackButton
from mobileapp.widgets.text import Small, Words

Point = tuple[float, float]
RING, RECTANGLE, PLACED = "ring", "rectangle", "placed"
_LAYOUTS = [
    Choice(RING, "Bolts in a ring"),
    Choice(RECTANGLE, "Two rows, or a rectangle"),
    Choice(PLACED, "Placed by tapping", "on a field or a photo"),
]
_MOST = 40


class OrderScreen(BaseScreen):
    """`closure` takes positions, passes and torque from the sheet; else a layout is chosen, and `ticking` ticks it."""

    #: Whether every field is there, and whether another screen has taken this one's place.
    laid, left = False, False

    def build(self, closure: str = "", ticking: bool = False, layout: dict[str, Any] | None = None, **_: Any) -> None:
        """Choose a layout, or tick."""
        self.closure = self._mapped(closure)
        self.layout = layout or {}
        self.ticking = ticking or self.closure is not None
        if self.ticking:
            self._tick_form()
        else:
            self._layout_form(closure)

    def _mapped(self, closure: str) -> Closure | None:
        """The closure where its sheet gives a map and passes."""
        known = self.desk.state.closures.get(closure) if self.desk.service else None
        return known if known is not None and plan_of(known) else None

    # --- choose a layout

    def _layout_form(self, closure: str) -> None:
        self.title = "Tightening order"
        draft = self.desk.draft
        draft.setdefault("passes", "30, 70, 100")
        for key in self._from_sheet():
            self.add_widget(key)
        self.flange = Flange()
        self.flange.bind(on_place=lambda _, x, y: self._place(x, y))
        self.numbers = Stack(gap_mm=4)
        self.act_text, self.act_shape, self.act_ready = "Tighten in this order", "go", False
        self._asked = ""
        choices = partial(Choices, self.desk, "layout", "How the bolts sit", _LAYOUTS, self._lay)
        in_steps([lambda: self._add(choices()), lambda: self._add(self.numbers), self._add_fields], at_once=1)

    def _add(self, part: Any) -> None:
        if not self.left:
            self.add_widget(part)

    def _add_fields(self) -> None:
        self.passes = FormField(self.desk, "passes", "Passes, in % of the torque", self._lay, hint="30, 70, 100")
        self.figure = FormField(self.desk, "figure", "Maker's figure (may be left empty)", self._lay, hint="24 N.m")
        self._add(self.passes)
        self._add(self.figure)
        self.laid = not self.left
        self._lay()

    def leave(self) -> None:
        """What is not laid yet is not laid any more."""
        super().leave()
        self.left = True

    def _from_sheet(self) -> list[Any]:
        if self.desk.service is None:
            return []
        t = self.desk.state
        rows = [key_row(c.name, partial(self.desk.go, "order", closure=c.id), _map_words(c, t.tightened.get(c.id, {})),
                        "fitted") for c in t.closures.values() if plan_of(c)]  # fmt: skip
        return [Small(text="From the sheet"), *rows, Small(text="Or another flange")] if rows else []

    def _lay(self) -> None:
        """The parts that this layout needs, and the flange as it is so far."""
        if not self.laid:
            return
        layout = str(self.desk.draft.get("layout", ""))
        if layout != self._asked:
            self._asked = layout
            self.numbers.clear_widgets()
            for part in self._asking(layout):
                self.numbers.add_widget(part)
        points = self._points()
        order = tightening_order(points) if points else None
        self.flange.points = [list(point) for point in points]
        self.flange.numbers = list(order.numbers) if order else []
        lacking = self._lacking(points)
        self.act_ready, self.act_note = not lacking, lacking or self._told(points)

    def _asking(self, layout: str) -> list[Any]:
        self.flange.placing = layout == PLACED
        if layout == RING:
            return [Stepper(self.desk, "ring", "Bolts", 2, _MOST, 8, self._lay), self.flange]
        if layout == RECTANGLE:
            along = Stepper(self.desk, "long", "Bolts along the long side", 2, 20, 5, self._lay)
            across = Stepper(self.desk, "short", "Bolts along the short side", 1, 10, 2, self._lay)
            return [along, across, self.flange]
        if layout == PLACED:
            photo = PhotoField(self.desk, "photo", label="Photo to tap on (may be left out)")
            show_behind(self.desk, self.flange, str(self.desk.draft.get("photo", "")))
            away = key_row("Take the last one away", self._unplace, shape="take back")
            return [Small(text="Tap where each bolt sits."), self.flange, away, photo]
        return []

    def _place(self, x: float, y: float) -> None:
        spots = list(self.desk.draft.get("spots", []))
        if len(spots) < _MOST:
            remember(self.desk, "spots", [*spots, [_kept_in(x), _kept_in(y)]])
            self._lay()

    def _unplace(self) -> None:
        remember(self.desk, "spots", list(self.desk.draft.get("spots", []))[:-1])
        self._lay()

    def _points(self) -> list[Point]:
        draft = self.desk.draft
        layout = draft.get("layout")
        if layout == RING:
            return ring(int(draft.get("ring", 8)))
        if layout == RECTANGLE:
            return rectangle(int(draft.get("long", 5)), int(draft.get("short", 2)))
        return [(float(x), float(y)) for x, y in draft.get("spots", [])] if layout == PLACED else []

    def _percents(self) -> list[int]:
        """The passes: those of the maker's stages where the figure gives some, else as typed."""
        return list(stage_percents(_figure(self.figure.text))) or percents_of(self.passes.text)

    def _told(self, points: list[Point]) -> str:
        percents = self._percents()
        said = f"{len(points)} bolts, {len(percents)} passes"
        return said if percents == percents_of(self.passes.text) else f"{said}: the maker's stages"

    def _lacking(self, points: list[Point]) -> str:
        percents = self._percents()
        faults = pass_faults(percents) if percents or self.passes.text else ("There is no pass.",)
        self.passes.say_fault(faults[0] if faults else "")
        figure = read_torque(self.figure.text) if self.figure.text else None
        self.figure.say_fault(figure.words if isinstance(figure, NotUnderstood) else " ".join(figures_apart(figure)))
        if not self.desk.draft.get("layout"):
            return "First: how the bolts sit"
        if len(points) < 2:
            return "First: where the bolts sit"
        return "First: the passes" if faults else "First: the figure" if isinstance(figure, NotUnderstood) else ""

    # --- tick

    def _tick_form(self) -> None:
        if self.closure is not None:
            points = [(float(x), -float(y) if self.closure.y_down else float(y)) for x, y in self.closure.positions]
            percents, torque = list(self.closure.passes), self.closure.torque
            self.title = self.closure.name
        else:
            points = [(float(x), float(y)) for x, y in self.layout["points"]]
            percents, torque = list(self.layout["percents"]), str(self.layout["torque"])
            self.title = "Tightening order"
        self.order: TighteningOrder = tightening_order(points)
        self.steps: tuple[Step, ...] = steps_of(self.order, percents)
        self.torque = _figure(torque)
        self.next_said = Plate(tone="bone", shape="go")
        height = _height_for(points)
        self.flange = Flange(points=[list(p) for p in points], numbers=list(self.order.numbers), height=height)
        self.listing = Words(text=f"Order: {', '.join(map(str, self.order.order))}")
        for part in (self.next_said, self.flange, self.listing):
            self.add_widget(part)
        if self.closure is not None:
            # Kept apart from what is tapped at every fastener, so that no glove strays onto it.
            self.take_back = TakeBackButton(pos_hint={"right": 1})
            self.take_back.bind(on_tap=lambda _: self._take_back())
            for part in (_gap(), self.take_back, _gap()):
                self.add_widget(part)
        else:
            self.add_widget(key_row("Take the last tick away", self._untick, shape="take back"))
            self.add_widget(Small(text=NOTHING_RECORDED))
        self._show_step()

    def _done(self) -> set[tuple[int, int]]:
        """Ticked steps, as (bolt, percent)."""
        if self.closure is not None:
            return set(self.desk.state.tightened.get(self.closure.id, {}))
        ticks = int(self.desk.draft.get("ticks", 0))
        return {(step.bolt, step.percent) for step in self.steps[:ticks]}

    def _show_step(self) -> None:
        done = self._done()
        left = [step for step in self.steps if (step.bolt, step.percent) not in done]
        self.upcoming = left[0] if left else None
        at = left[0].percent if left else self.steps[-1].percent
        self.flange.done = [bolt for bolt, percent in done if percent == at]
        self.flange.upcoming = left[0].bolt if left else 0
        passes = max(step.passing for step in self.steps)
        if left:
            self.next_said.tone, self.next_said.shape = "bone", "go"
            share = "" if isinstance(self.torque, AngleFigure) else f": {left[0].percent} %"
            self.next_said.text = f"Pass {left[0].passing} of {passes}{share}"
            self.next_said.note = self._target(left[0].percent)
            self.act_text, self.act_shape, self.act_tone = f"Tick number {left[0].bolt}", "back", "sky"
        else:
            self.next_said.text, self.next_said.tone, self.next_said.shape = "Every fastener is ticked", "sky", "gate"
            self.next_said.note, self.act_text = "", ""
        self.act_note = f"{len(done)} of {len(self.steps)} ticked" if left else ""
        if self.closure is not None:
            self._say_take_back(self.closure.id)

    def _say_take_back(self, closure: str) -> None:
        """The last tick that stands, where nothing was signed on it yet."""
        t = self.desk.state
        self.last_tick = builders.last_tick(t, closure)
        signed = t.closure_states[closure].stage == SIGNED or bool(t.ended)
        self.take_back.disabled = self.last_tick is None or signed
        tick = self.last_tick.fact if self.last_tick else None
        self.take_back.note = f"number {tick.number}, {tick.percent} %" if isinstance(tick, Tightened) else ""

    def _take_back(self) -> None:
        if self.last_tick is not None and self.desk.record(builders.undo(self.last_tick, "ticked by mistake")):
            self.refresh()
            self._show_step()

    def _target(self, percent: int) -> str:
        if self.torque is None:
            return "by the maker's figure"
        if isinstance(self.torque, AngleFigure):
            return f"of the maker's {self.torque.text}"
        target = pass_target(self.torque, percent)
        last = self.torque.alone if self.torque.stages else self.torque.text
        return target if target == self.torque.text else f"{target} of {last}"

    def _untick(self) -> None:
        remember(self.desk, "ticks", max(0, int(self.desk.draft.get("ticks", 0)) - 1))
        self._show_step()

    def on_act(self) -> None:
        """Tick the step that is due; or begin to tick."""
        if not self.ticking:
            layout = {"points": [list(point) for point in self._points()], "percents": self._percents(),
                      "torque": self.figure.text}  # fmt: skip
            self.desk.go("order", ticking=True, layout=layout)
        elif self.closure is not None and self.upcoming is not None:
            if self.desk.record(Tightened(self.closure.id, self.upcoming.bolt, self.upcoming.percent)):
                self.refresh()
                self._show_step()
        elif self.upcoming is not None:
            remember(self.desk, "ticks", int(self.desk.draft.get("ticks", 0)) + 1)
            self._show_step()


def _gap() -> Widget:
    return Widget(size_hint_y=None, height=mm(look.APART_MM - 2 * look.GAP_MM))


def ring(count: int) -> list[Point]:
    """So many bolts on a circle, the first at the top."""
    return [(sin(2 * pi * n / count), cos(2 * pi * n / count)) for n in range(count)]


def rectangle(along: int, across: int) -> list[Point]:
    """The rim of a rectangle with so many bolts along each side; one row where `across` is 1."""
    spots = [(float(x), float(y)) for y in range(across) for x in range(along)]
    inside = {(float(x), float(y)) for y in range(1, across - 1) for x in range(1, along - 1)}
    return [spot for spot in spots if spot not in inside]


def _kept_in(share: float) -> float:
    """A little away from the field's edge, so that the whole bolt is seen."""
    return round(min(0.92, max(0.08, share)), 4)


def percents_of(text: str) -> list[int]:
    """Passes as typed: "30, 70, 100 %"; anything else gives none."""
    words = text.replace("%", " ").replace(",", " ").replace(";", " ").split()
    return [int(word) for word in words] if all(word.isdigit() and len(word) < 4 for word in words) else []


def _figure(text: str) -> TorqueFigure | AngleFigure | None:
    read = read_torque(text) if text else None
    return None if isinstance(read, NotUnderstood) else read


def _map_words(closure: Closure, done: Any) -> str:
    steps = len(closure.positions) * len(closure.passes)
    return f"{len(done)} of {steps} ticked" if done else f"{len(closure.positions)} bolts, {len(closure.passes)} passes"


def _height_for(points: list[Point]) -> float:
    """As high as the layout needs at the width of a phone: a long low flange leaves room for the rest."""
    wide = max(x for x, _ in points) - min(x for x, _ in points)
    high = max(y for _, y in points) - min(y for _, y in points)
    return float(mm(min(50.0, max(26.0, 13 + 37 * (high / wide if wide else 2)))))
