"""Count by weight: tare, a weighed sample, the full bag; the number, how sure it is, and what the scale cannot tell."""

from __future__ import annotations

from functools import partial
from typing import Any

from checklists import places
from checklists.by_weight import ONE_LINE_ONLY, whose_count
from checklists.facts import Fact
from checklists.facts_measured import WeighCounted
from checklists.judge_measured import one_weighs, weigh_count_of
from checklists.workshop.weighing import WeighCount
from mobileapp.screens.form_parts import Choice, Choices, FormField, Stepper
from mobileapp.screens.workshop_parts import BAD, GOOD, OPEN, GaugeFields, Part, ToolScreen, sentences, verdict

NOT_OF_IT = ""
_JOIN = "|"
_AT = frozenset({"tray", "bench", "stores"})


class WeighScreen(ToolScreen):
    """`line` and `place` say what is in the bag; that count is recorded as an independent one, and moves nothing."""

    ask = "Count by weight"
    record_text = "Record this count"

    def build(self, line: str = "", place: str = "", **_: Any) -> None:
        """The answer's place and the fields."""
        choices = self._lines()
        wanted = f"{line}{_JOIN}{place}" if line and place else NOT_OF_IT
        self.desk.draft.setdefault("which", wanted)
        self.start("Count by weight", "Weigh the empty bag, then some pieces that you have counted, then the full bag.")
        self.desk.draft.setdefault("scatter", "1 %")
        pieces = partial(Stepper, self.desk, "pieces", "How many those were", first=10, changed=self.stale)
        which: Part = ("", partial(Choices, self.desk, "which", "What is in the bag", choices, self.stale))
        self.lay(
            self._field("tare", "Empty bag", "3.2 g"),
            self._field("sample", "Counted pieces together", "61.5 g"),
            ("pieces", pieces),
            self._field("gross", "Full bag", "251.4 g"),
            ("gauge", partial(GaugeFields, self.desk, self.stale, "Scale", "0.1 g", "0.2 g")),
            self._field("scatter", "How much single pieces differ", "1 %"),
            *([which] if len(choices) > 1 else []),
        )

    def _field(self, key: str, label: str, hint: str) -> Part:
        return key, partial(FormField, self.desk, key, label, self.stale, hint=hint)

    def _lines(self) -> list[Choice]:
        other = Choice(NOT_OF_IT, "Something else", "nothing is recorded")
        if self.desk.service is None:
            return [other]
        t = self.desk.state
        return [other] + [
            Choice(f"{line}{_JOIN}{place}", t.lines[line].name, t.say_place(place))
            for (line, place), quantity in t.balances.items()
            if quantity > 0 and t.lines[line].kind == "fastener" and places.family(place) in _AT
        ]

    def _weighed(self, number: int = 0) -> WeighCounted:
        line, _, place = str(self.desk.draft["which"]).partition(_JOIN)
        return WeighCounted(line, place, number, self.gross.text, self.tare.text, self.sample.text,
                            self.pieces.number, self.scatter.text, self.gauge.gauge)  # fmt: skip

    def answer(self) -> list[Any]:
        """The number as a plate, then how sure it is; what cannot be read is said below."""
        counted = weigh_count_of(self._weighed())
        if not isinstance(counted, WeighCount):
            return [verdict("Not worked out yet", OPEN), sentences([reason.words for reason in counted])]
        self.number = counted.number
        if counted.number is not None:
            told = [*counted.words, self._most(counted)]
            if self.fact():
                beside = self._beside_the_tables()
                told += [*([beside] if beside else []), "It confirms the tally, and moves nothing.", ONE_LINE_ONLY]
            return [verdict(f"{counted.number} in the bag", GOOD), sentences(told)]
        if counted.verdict == "cannot tell":
            return [verdict("The scale cannot tell", OPEN), sentences(counted.words)]
        return [verdict("No whole number fits", BAD), sentences(counted.words)]

    def _beside_the_tables(self) -> str:
        """One of the sample against what the line is said to be."""
        from checklists.workshop.mass_of_spec import beside_the_tables
        from mobileapp.tables import fastener_tables

        fact = self._weighed()
        one = one_weighs(fact)
        return beside_the_tables(self.desk.state.lines[fact.line].name, one, fastener_tables()) if one else ""

    def _most(self, counted: WeighCount) -> str:
        return f"This scale and sample tell up to {counted.most} at a time (k = {counted.k:g})."

    def fact(self) -> Fact | None:
        """The count, of a line of the tally, where the scale can tell."""
        counted = weigh_count_of(self._weighed())
        if not self.desk.draft["which"] or not isinstance(counted, WeighCount) or counted.number is None:
            return None
        return None if self.desk.state.ended else self._weighed(counted.number)

    def record_note(self) -> str:
        """What kind of count it is."""
        line, _, place = str(self.desk.draft["which"]).partition(_JOIN)
        return f"by weight, {whose_count(self.desk.state, line, place, self.desk.who)}"
