"""Torque: does the maker's figure, as typed, fit the thread? It catches slips of the pen; the maker's figure wins."""

from __future__ import annotations

from functools import partial
from typing import Any

from checklists.workshop.torque import (
    LUBRICATION,
    WINS,
    Band,
    TorqueCheck,
    check_torque,
    lubrication_for,
    torque_band,
)
from checklists.workshop.torque_figure import AngleFigure, TorqueFigure, read_torque
from checklists.workshop.units import NotUnderstood, Unit
from mobileapp import look
from mobileapp.screens.form_parts import Choice, Choices, FormField, key_row
from mobileapp.screens.workshop_parts import BAD, GOOD, OPEN, OfferedField, Part, ToolScreen, sentences, verdict
from mobileapp.widgets.band import Band as BandDrawing
from mobileapp.widgets.band import Scale
from mobileapp.widgets.text import Small, Words

_VERDICTS = {
    "plausible": ("Plausible", GOOD),
    "slip": ("Looks like a slip", BAD),
    "does not fit": ("Does not fit the thread", BAD),
    "not judged": ("Not judged", OPEN),
}
_CHOICES = [
    Choice("not said", "Not said", "allows for all of these"),
    Choice("dry", "Dry"),
    Choice("oiled", "Oiled"),
    Choice("anti-seize", "Anti-seize"),
]
assert {choice.value for choice in _CHOICES} == set(LUBRICATION)


class TorqueScreen(ToolScreen):
    """`spec` and `figure` fill the fields the first time."""

    ask = "Check the figure"

    def build(self, spec: str = "", figure: str = "", **_: Any) -> None:
        """The answer's place, the fields, and what the sheet says of its fasteners."""
        draft = self.desk.draft
        draft.setdefault("lubrication", "not said")
        for key, text in (("spec", spec), ("figure", figure)):
            if text:
                draft.setdefault(key, text)
        self.start("Torque", "Type the fastener and the maker's figure, each as it is written.")
        figure_said = "Maker's figure, with its unit"
        self.lay(
            ("spec", lambda: OfferedField(self.desk, "spec", "Fastener", self.stale, hint="M8x25 8.8")),
            ("figure", lambda: FormField(self.desk, "figure", figure_said, self.stale, hint="24 N.m")),
            *self._from_sheet(),
            ("lubrication", lambda: Choices(self.desk, "lubrication", "Threads are", _CHOICES, self.stale)),
        )

    def _from_sheet(self) -> list[Part]:
        if self.desk.service is None:
            return []
        known = [(c, f) for c in self.desk.state.closures.values() if c.torque for f in c.fasteners]
        rows: list[Part] = [
            ("", partial(key_row, f.spec, partial(self._take, f.spec, c.torque), f"{c.name}: {c.torque}", "fitted"))
            for c, f in known
        ]
        return [("", partial(Small, text="Or from the sheet")), *rows] if rows else []

    def _take(self, spec: str, torque: str) -> None:
        self.spec.text, self.figure.text = spec, torque
        self.on_act()

    def answer(self) -> list[Any]:
        """The verdict, the band with the mark, the words; faults stand at their fields."""
        from checklists.workshop.fastener_spec import read_spec
        from mobileapp.tables import fastener_tables

        tables = fastener_tables()
        reading = read_spec(self.spec.text, tables)
        figure = read_torque(self.figure.text)
        unread = isinstance(figure, NotUnderstood)
        self.figure.say_fault(figure.words if isinstance(figure, NotUnderstood) else "")
        by_angle = isinstance(figure, AngleFigure)
        self.spec.say_faults(reading.faults)
        if unread or (not by_angle and not reading.understood):
            return []
        assert not isinstance(figure, NotUnderstood)
        thread = reading.spec.thread if reading.spec else None
        band = None
        if thread and reading.spec:
            prepared = lubrication_for(figure, self.lubrication.value)
            band = torque_band(thread, reading.spec.bolt_strength, prepared, tables)
        return _parts(figure, band, check_torque(figure, band), reading.notes)


def _parts(
    figure: TorqueFigure | AngleFigure, band: Band | None, check: TorqueCheck, notes: tuple[str, ...]
) -> list[Any]:
    word, how = _VERDICTS[check.verdict]
    words = [each for each in check.words if each != WINS]
    parts: list[Any] = [verdict(word, how)]
    if band is not None and isinstance(figure, TorqueFigure):
        parts.append(BandDrawing(scale_of(figure, band)))
    caution = Words(text=f"{WINS} This only catches slips.", bold=True, ink=look.YELLOW)
    return [*parts, sentences(words), caution, *[Small(text=note) for note in notes]]


def scale_of(figure: TorqueFigure, band: Band) -> Scale:
    """The band and the figure in the figure's own unit."""
    unit = figure.unit
    size = float(unit.factor)
    low, high = float(figure.low) / size, float(figure.high) / size
    return Scale(band.low / size, band.high / size, _said(band.low, unit), _said(band.high, unit), (low, high),
                 figure.alone if figure.stages or figure.beside else figure.text, usual=band.usual / size)  # fmt: skip


def _said(newton_metres: float, unit: Unit) -> str:
    return f"{float(f'{newton_metres / float(unit.factor):.2g}'):g} {unit.name}"
