"""How a refusal looks: an unmistakable NO over the whole width, then every reason, each leading to its mending."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from kivy.properties import NumericProperty, StringProperty

from checklists.reasons import Reason
from mobileapp.desk import Desk
from mobileapp.screens.lead import ON_THE_FORM, way_to_mend
from mobileapp.screens.stamps import when
from mobileapp.widgets.glyph import Glyph  # noqa: F401  (refusal_view.kv uses it)
from mobileapp.widgets.plate import Faced
from mobileapp.widgets.row import ReasonRow
from mobileapp.widgets.rules import load_rules
from mobileapp.widgets.text import Words  # noqa: F401  (refusal_view.kv uses it)

#: Most critical first: what may be inside, then what was found inside, then the rest as the rules name it.
_FIRST = ("missing", "in the engine", "lying loose", "cover in place", "find open")


class Verdict(Faced):
    """The plate that says NO, or that nothing stands against it any more."""

    word = StringProperty("NO")
    shape = StringProperty("refused")
    what = StringProperty("")
    count = NumericProperty(0)

    def how_many(self, count: float) -> str:
        """How many reasons stand against it."""
        return "1 reason" if count == 1 else f"{int(count)} reasons"


def most_critical_first(reasons: Iterable[Reason]) -> list[Reason]:
    """The reasons in the order in which they matter; within a rank as the rules gave them."""
    return sorted(reasons, key=lambda r: _FIRST.index(r.code) if r.code in _FIRST else len(_FIRST))


def no_plate(what: str, reasons: Iterable[Reason]) -> Verdict:
    """NO, with what was refused and how many reasons there are."""
    return Verdict(tone="yellow", word="NO", shape="refused", what=what, count=len(list(reasons)))


def free_plate(what: str) -> Verdict:
    """What was refused before, now that nothing stands against it."""
    return Verdict(tone="sky", word="", shape="gate", what=what)


def reason_rows(desk: Desk, reasons: Iterable[Reason], on_form: Callable[[], None]) -> list[ReasonRow]:
    """Every reason as a row that leads to where it is put right; `on_form` leads back to the form it was tried on."""
    now = desk.clock()
    rows = []
    for number, reason in enumerate(most_critical_first(reasons), 1):
        row = ReasonRow(
            number=str(number),
            what=reason.words,
            where="" if reason.place_words in reason.words else reason.place_words,
            since=when(reason.since, now),
            who=reason.who,
            do_next=reason.do_next,
        )
        row.bind(on_tap=lambda _, reason=reason: mend(desk, reason, on_form))
        rows.append(row)
    return rows


def first_to_mend(reasons: Iterable[Reason]) -> Reason:
    """The reason whose mending the large key offers."""
    return most_critical_first(reasons)[0]


def mend(desk: Desk, reason: Reason, on_form: Callable[[], None]) -> None:
    """Go where a reason is put right."""
    if reason.code in ON_THE_FORM:
        on_form()
        return
    name, args = way_to_mend(reason, desk.state)
    desk.go(name, **args)


load_rules(__file__)
