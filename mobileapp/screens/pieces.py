"""Pieces of a broken part: do they add up to the whole, and how large a piece could still be missing?"""

from __future__ import annotations

from functools import partial
from typing import Any

from checklists.broken_parts import (
    BASES,
    DIMENSIONS,
    LENGTH_WITHIN,
    TWIN,
    account_by,
    account_of,
    ball_at_openings,
    length_account_of,
    likeness_of,
    smallest_of,
)
from checklists.facts import Fact
from checklists.facts_measured import PartBroken, PieceWeighed
from checklists.gauges import grams_of, instrument_of
from checklists.state import Teardown
from checklists.words import how_many
from checklists.workshop.expected_mass import WorkedOut
from checklists.workshop.pieces import Account, LengthAccount
from checklists.workshop.units import NotUnderstood
from mobileapp.screens.form_parts import Choice, Choices, FormField, Stack, Stepper, key_row, remember
from mobileapp.screens.photo_field import PhotoField
from mobileapp.screens.pieces_size import SizeFields, on_record
from mobileapp.screens.workshop_parts import BAD, GOOD, OPEN, GaugeFields, Part, ToolScreen, sentences, verdict
from mobileapp.widgets.ball import Ball
from mobileapp.widgets.text import Heading, Small, Words

ALONE, BROKE = "alone", "broke"
MORE, ANEW = "more", "anew"
_ONES = [
    Choice(MORE, "One more broke", "its pieces are added to those of the one before"),
    Choice(ANEW, "It is that same one", "what was said of it was wrong"),
]
SHORT_IN_LENGTH = "Short by its length"
_VERDICTS = {
    "adds up": ("Adds up", GOOD),
    "short": ("A piece is missing", BAD),
    "too much": ("Too much", BAD),
    "cannot tell": ("Cannot tell", OPEN),
}
_PASSES = {"passes": "could pass", "might pass": "might pass", "cannot pass": "cannot pass"}


class PiecesScreen(ToolScreen):
    """`part` weighs a piece of that broken part; `form` "broke" says what broke, "alone" works it out for itself."""

    ask = "Add them up"

    def build(self, part: str = "", form: str = "", **_: Any) -> None:
        """The list of broken parts, or one of the forms."""
        self.part, self.form = part, form
        service = self.desk.service
        if service is None or form == ALONE:
            self.form = ALONE
            self._alone()
        elif part in service.state.unaccounted:
            self.form = BROKE
            self.desk.draft.setdefault("line", part)
            self._broke(service.state)
        elif part in service.state.broken:
            self.form = "piece"
            self._weigh_piece(service.state)
        elif form == BROKE:
            self._broke(service.state)
        else:
            self._list(service.state)

    # --- the list

    def _list(self, t: Teardown) -> None:
        self.title, self.fresh = "Broken parts", False
        for line in [part for part in t.broken if part not in t.unaccounted]:
            account = account_of(t, line)
            length = length_account_of(t, line)
            word, (tone, shape) = _verdict(account, length) if account else ("No piece is weighed yet", OPEN)
            note = f"{word}, {how_many(len(t.broken[line].pieces), 'piece')} weighed"
            self.add_widget(key_row(t.lines[line].name, partial(self.desk.go, "pieces", part=line), note, shape, tone))
        for line in t.unaccounted:
            go = partial(self.desk.go, "pieces", part=line)
            self.add_widget(key_row(t.lines[line].name, go, "broken; say what the whole weighs", "refused", "yellow"))
        if not t.broken and not t.unaccounted:
            self.add_widget(Words(text="No part is known to be broken."))
        if not t.ended:
            broke = partial(self.desk.go, "pieces", form=BROKE)
            self.add_widget(key_row("A part broke", broke, "say what the whole weighs", "loosened"))
        alone = partial(self.desk.go, "pieces", form=ALONE)
        self.add_widget(key_row("Only work it out", alone, "nothing is recorded", "look"))

    # --- the fields of the forms

    def _field(self, key: str, label: str, hint: str) -> Part:
        return key, partial(FormField, self.desk, key, label, self.stale, hint=hint)

    def _whole(self) -> list[Part]:
        draft = self.desk.draft
        draft.setdefault("basis", TWIN)
        draft.setdefault("smallest", "2 mm")
        bases = [Choice(TWIN, "An identical part weighed"), Choice(DIMENSIONS, "Its dimensions and density")]
        assert [each.value for each in bases] == list(BASES)
        return [
            self._field("mass", "Mass of the whole part", "84.6 g"),
            self._field("likeness", "How far the one that broke can differ", "0.2 g"),
            self._field("smallest", "Smallest piece that does harm", "2 mm"),
            ("basis", partial(Choices, self.desk, "basis", "The mass rests on", bases, self._lay_dimensions)),
            ("dimensions", Stack),
        ]

    def _lay_dimensions(self) -> None:
        """Where the mass rests on dimensions, what it is worked out from."""
        self.dimensions.clear_widgets()
        if self.basis.value == DIMENSIONS:
            self.dimensions.add_widget(SizeFields(self.desk, self._fill_mass))
        self.stale()

    def _fill_mass(self, found: WorkedOut) -> None:
        self.mass.text, self.likeness.text = found.mass, found.within
        self.stale()

    def _all_laid(self) -> None:
        if not self.left and self.form in (ALONE, BROKE):
            self._lay_dimensions()
        super()._all_laid()

    def _scale(self) -> Part:
        return "gauge", partial(GaugeFields, self.desk, self.stale, "Scale", "0.1 g", "0.2 g")

    def _length(self, label: str) -> list[Part]:
        return [
            self._field("length", label, "32.0 mm"),
            self._field("within", f"How far that can be off (empty: {LENGTH_WITHIN})", "0.2 mm"),
        ]

    # --- worked out alone

    def _alone(self) -> None:
        self.start("Pieces", "Weigh the whole (or one like it), then every piece, each set down alone.")
        whole = self._whole()
        number = partial(Stepper, self.desk, "number", "Pieces found", first=2, most=20, changed=self._lay_fields)
        self.lay(*whole[3:], *whole[:3], self._scale(), ("number", number), ("masses", self._masses))

    def _masses(self) -> Stack:
        self.masses = Stack()
        self._lay_fields()
        return self.masses

    def _lay_fields(self) -> None:
        fields = [
            FormField(self.desk, f"piece {n}", f"Piece {n}", self.stale, hint="41.3 g")
            for n in range(1, self.number.number + 1)
        ]
        self.masses.clear_widgets()
        for field in fields:
            self.masses.add_widget(field)
        self.fields = fields
        self.stale()

    def _account(self) -> Account | None:
        """The account of what is typed; what cannot be read is said at its field."""
        scale = instrument_of(self.gauge.gauge, "mass")
        read = [(self.mass, grams_of(self.mass.text)), (self.gauge.step, scale),
                (self.likeness, likeness_of(self.basis.value, self.likeness.text)),
                (self.smallest, smallest_of(self.smallest.text))]  # fmt: skip
        pieces = [(field, grams_of(field.text)) for field in self.fields]
        for field, figure in (*read, *pieces):
            field.say_fault(figure.words if isinstance(figure, NotUnderstood) else "")
        if grams_of(self.mass.text) == 0:
            self.mass.say_fault("The whole part weighs nothing; weigh one like it.")
        if any(isinstance(figure, NotUnderstood) for _, figure in (*read, *pieces)):
            return None
        gauge = self.gauge.gauge
        whole = PartBroken("", False, self.basis.value, self.mass.text, self.likeness.text, self.smallest.text, gauge,
                           density=self._sizes()[0])  # fmt: skip
        weighed = [PieceWeighed("", str(n), field.text, "", gauge, "") for n, field in enumerate(self.fields)]
        return account_by(whole, weighed)

    def answer(self) -> list[Any]:
        """The verdict with its ball; for a form of the teardown, what will be recorded."""
        if self.form == ALONE:
            account = self._account()
            return said(account) if account else []
        fact = self._typed()
        assert fact is not None
        return [Words(text=f"To be recorded: {_words(self.desk.state, fact)}", bold=True)]

    # --- recorded

    def _broke(self, t: Teardown) -> None:
        self.ask = "Look over what is recorded"
        which: list[Part] = []
        if self.part in t.unaccounted:
            # What broke is known from the tally.
            again = " Its pieces count with those of the one that broke before." if self.part in t.broken else ""
            self.start(f"Broke: {t.lines[self.part].name}", f"What should the whole weigh?{again}")
        else:
            self.start("A part broke", "Which part, and what should the whole weigh?")
            parts = [line for line in t.lines.values() if line.kind in ("part", "fastener", "tool")]
            choices = [Choice(line.id, line.name, t.say_place(line.home)) for line in parts]
            which = [("", partial(Choices, self.desk, "line", "What broke", choices, self.stale))]
            if t.broken:
                self.desk.draft.setdefault("one", MORE)
                which.append(("", partial(Choices, self.desk, "one", "Of one that broke before", _ONES, self.stale)))
        self.desk.draft.setdefault("when", "after")
        when = [Choice("after", "It broke during this work"), Choice("before", "It was broken before")]
        whole = self._whole()
        length = self._length("Length of the whole (may be left empty)")
        self.lay(*which, *whole[3:], *whole[:3], self._scale(), *length,
                 ("", partial(Choices, self.desk, "when", "When", when, self.stale)))  # fmt: skip

    def _weigh_piece(self, t: Teardown) -> None:
        self.ask, broken = "Look over what is recorded", t.broken[self.part]
        self.start(t.lines[self.part].name, "")
        account, length = account_of(t, self.part), length_account_of(t, self.part)
        self.said.clear_widgets()
        for part in said(account, length) if account else [verdict("No piece is weighed yet", OPEN)]:
            self.said.add_widget(part)
        if ways := ball_at_openings(t, self.part):
            names = [f"It {_PASSES[way.verdict]}: {t.openings[way.opening].name}." for way in ways]
            self.said.add_widget(sentences(names))
        if t.ended:
            self.act_text = ""
            return
        self.add_widget(Heading(text="Weigh a piece"))
        self.desk.draft.setdefault("piece", str(len(broken.pieces) + 1))
        photo = partial(
            PhotoField, self.desk, "photo", label="Photo of the piece", about=f"line:{self.part}", moment="piece"
        )
        known: list[Part] = [
            ("", partial(Small, text=f"Piece {name}: {piece.mass}, weighed by {mark.who}"))
            for name, (piece, mark) in broken.pieces.items()
        ]
        self.lay(
            ("", photo),
            self._field("piece", "Number of the piece", "1"),
            self._field("mass", "Its mass", "41.3 g"),
            self._scale(),
            *self._length("Its length (may be left empty)"),
            *known,
        )

    def _typed(self) -> Fact | None:
        draft = self.desk.draft
        if self.form == BROKE:
            return PartBroken(str(draft.get("line", "")), draft.get("when") == "before", self.basis.value,
                              self.mass.text, self.likeness.text, self.smallest.text, self.gauge.gauge,
                              self.length.text, self.within.text, *self._sizes(),
                              another=self._another(str(draft.get("line", ""))))  # fmt: skip
        if self.form == "piece":
            return PieceWeighed(self.part, self.piece.text, self.mass.text, self.length.text, self.gauge.gauge,
                                str(draft.get("photo", "")), self.within.text)  # fmt: skip
        return None

    def _another(self, part: str) -> bool:
        """One more of a line of which one broke before, as the tally says it or as it is chosen."""
        t = self.desk.state
        return part in t.broken and (part in t.unaccounted or self.desk.draft.get("one") == MORE)

    def _sizes(self) -> tuple[str, str]:
        return on_record(self.desk, self.mass.text) if self.basis.value == DIMENSIONS else ("", "")

    def fact(self) -> Fact | None:
        """What broke, or a piece weighed."""
        return self._typed() if self.form in (BROKE, "piece") else None

    def recorded(self) -> None:
        """To the part's pieces; after a piece, ready for the next one."""
        if self.form == BROKE:
            self.desk.instead("pieces", part=str(self.desk.draft["line"]))
            return
        gauge = {key: self.desk.draft.get(key, "") for key in ("step", "error", "within")}
        self.desk.trail[-1] = ("pieces", {"part": self.part})
        for key, text in gauge.items():
            remember(self.desk, key, text)
        self.desk.again()

    def on_act(self) -> None:
        """On the list there is no large key."""
        if self.act_text:
            super().on_act()


def _verdict(account: Account, length: LengthAccount | None) -> tuple[str, tuple[str, str]]:
    """The mass's verdict; where a length is short that the mass does not miss, that."""
    if length is not None and length.verdict == "short" and account.verdict != "short":
        return SHORT_IN_LENGTH, BAD
    return _VERDICTS[account.verdict]


def said(account: Account, length: LengthAccount | None = None) -> list[Any]:
    """A verdict, what is short with its uncertainty, and the ball that is missing or could hide, as large as it is."""
    word, how = _verdict(account, length)
    parts: list[Any] = [verdict(word, how)]
    words = (*account.words, *([length.words] if length else []))
    if length is not None and word == SHORT_IN_LENGTH:
        parts.append(sentences([length.words]))
        words = account.words
    if account.verdict == "short":
        parts += [Small(text="Missing, as a ball of its true size:"), Ball(account.ball, *account.ball_range)]
    elif account.hidden > 0:
        parts += [Small(text="This weighing could hide a ball of this size:"), Ball(account.hidden)]
    return [*parts, sentences(words)]


def _words(t: Teardown, fact: Fact) -> str:
    if isinstance(fact, PieceWeighed):
        return f"piece {fact.piece}, {fact.mass}."
    line = t.lines.get(str(getattr(fact, "line", "")))
    more = "one more " if getattr(fact, "another", False) else ""
    return f"{more}{line.name if line else 'no part chosen yet'}, broken; the whole {getattr(fact, 'mass', '')}."
