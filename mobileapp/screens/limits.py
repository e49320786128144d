"""Limits: is a measurement inside, outside, or too close to call? Figures stay as typed, in their own unit."""

from __future__ import annotations

from functools import partial
from typing import Any

from checklists.facts import Fact
from checklists.facts_measured import Measured
from checklists.gauges import instrument_of
from checklists.measured_limits import judge_limit
from checklists.workshop.limits import Judged, Limits, combined_u, judge_measurement, percent
from checklists.workshop.uncertainty import USUAL_K
from checklists.workshop.units import Figure, NotUnderstood, Unit, read_figure
from mobileapp import look
from mobileapp.screens.form_parts import Choice, Choices, Faulty, FormField
from mobileapp.screens.workshop_parts import BAD, GOOD, OPEN, GaugeFields, Part, ToolScreen, sentences, verdict
from mobileapp.widgets.band import Band, Scale
from mobileapp.widgets.text import Small, Words

_VERDICTS = {"inside": ("Inside", GOOD), "outside": ("Outside", BAD), "too close to call": ("Too close to call", OPEN)}
OWN = ""
_JOIN = "/"


class LimitsScreen(ToolScreen):
    """`closure` and `limit` choose one of the sheet's limits; what is measured of it is recorded."""

    ask = "Judge the reading"
    record_text = "Record the measurement"

    def build(self, closure: str = "", limit: str = "", **_: Any) -> None:
        """The answer's place, which limit, the reading and the instrument."""
        choices = self._choices()
        first = f"{closure}{_JOIN}{limit}" if limit else choices[0].value
        self.desk.draft.setdefault("which", first)
        self.start("Limits", "Type the limits and the reading, each with its unit: 0.525 in stays 0.525 in.")
        which: Part = ("", lambda: Choices(self.desk, "which", "What is measured", choices, self.desk.again))
        least: Part = ("least", partial(self._field, "least", "Least allowed (may be left empty)", "0.522 in"))
        most: Part = ("most", partial(self._field, "most", "Most allowed (may be left empty)", "0.525 in"))
        gauge = partial(GaugeFields, self.desk, self.stale, "Instrument", "0.0005 in", "0.0005 in", "depth micrometer")
        ends: list[Part] = [least, most] if self._own else [("least", self._stated)]
        self.lay(*([which] if len(choices) > 1 else []), *ends,
                 ("reading", partial(self._field, "reading", "Reading", "0.5235 in")), ("gauge", gauge))  # fmt: skip

    def _field(self, key: str, label: str, hint: str) -> FormField:
        return FormField(self.desk, key, label, self.stale, hint=hint)

    def _choices(self) -> list[Choice]:
        own = Choice(OWN, "Limits typed in", "nothing is recorded")
        if self.desk.service is None:
            return [own]
        t = self.desk.state
        made = []
        for closure in t.closures.values():
            for limit in closure.limits:
                judged = judge_limit(t, closure.id, limit.id)
                how = f"{closure.name}: {judged.verdict if judged else 'not measured'}"
                made.append(Choice(f"{closure.id}{_JOIN}{limit.id}", limit.name, how))
        return [*made, own]

    @property
    def _own(self) -> bool:
        return self._limit() is None

    def _limit(self) -> Any:
        closure, _, limit = str(self.desk.draft["which"]).partition(_JOIN)
        known = self.desk.state.closures.get(closure) if self.desk.service else None
        return next((each for each in known.limits if each.id == limit), None) if known else None

    def _stated(self) -> Faulty:
        limit = self._limit()
        ends = " to ".join(filter(None, (limit.least, limit.most)))
        which = ends if limit.least and limit.most else f"at {'least' if limit.least else 'most'} {ends}"
        return Faulty(Words(text=f"{limit.name}: {which}", bold=True))

    # --- the answer

    def _read(self) -> tuple[Limits, Figure] | None:
        limit = self._limit()
        typed = (limit.least, limit.most) if limit else (self.least.text, self.most.text)
        fields = (self.least, self.least if limit else self.most, self.reading)
        ends = [read_figure(text, "length") if text else None for text in typed]
        reading = read_figure(self.reading.text, "length")
        for field, figure in zip(fields, (*ends, reading), strict=True):
            field.say_fault(figure.words if isinstance(figure, NotUnderstood) else "")
        if any(isinstance(each, NotUnderstood) for each in (*ends, reading)):
            return None
        limits = Limits(*ends)  # type: ignore[arg-type]
        if faults := limits.faults():
            fields[1].say_fault(" ".join(faults))
            return None
        assert isinstance(reading, Figure)
        return limits, reading

    def answer(self) -> list[Any]:
        """The verdict, the band with its guard bands and the reading, the words."""
        read = self._read()
        instrument = instrument_of(self.gauge.gauge, "length")
        self.gauge.error.say_fault(instrument.words if isinstance(instrument, NotUnderstood) else "")
        if read is None or isinstance(instrument, NotUnderstood):
            return []
        limits, reading = read
        judged = judge_measurement(reading, instrument, limits)
        word, how = _VERDICTS[judged.verdict]
        spread = USUAL_K * combined_u(reading, instrument)
        note = f"inside with a probability of {percent(judged.conforms)}"
        if judged.never:
            note = "no reading this coarse can be called inside"
        key = Small(text="Blue: allowed. Hatched: guard band. Yellow: the reading with its uncertainty.", ink=look.DIM)
        return [verdict(word, how, note), Band(scale_of(limits, reading, judged, spread)), key, sentences(judged.words)]

    def fact(self) -> Fact | None:
        """The measurement, of a limit of the sheet."""
        if self._own or self.desk.state.ended:
            return None
        closure, _, limit = str(self.desk.draft["which"]).partition(_JOIN)
        return Measured(closure, limit, self.reading.text, self.gauge.gauge)


def scale_of(limits: Limits, reading: Figure, judged: Judged, spread: float) -> Scale:
    """Limits, guard bands and reading in the unit of the limits; the texts are those that were typed."""
    end = limits.least or limits.most
    unit: Unit = end.unit if end else reading.unit
    size = float(unit.factor)
    low, high = (float(each.to(unit)) if each else None for each in (limits.least, limits.most))
    at = float(reading.to(unit))
    texts = [each.text if each else "" for each in (limits.least, limits.most)]
    return Scale(low, high, texts[0], texts[1], (at, at), reading.text, spread / size, judged.guard / size)
