"""Rows of a list: a name with its state, tappable, leading somewhere."""

from __future__ import annotations

from kivy.properties import BooleanProperty, OptionProperty, StringProperty

from mobileapp.widgets.glyph import Glyph  # noqa: F401  (row.kv uses it)
from mobileapp.widgets.plate import Faced, PlateButton
from mobileapp.widgets.rules import load_rules
from mobileapp.widgets.state_badge import TONE_OF, StateBadge  # noqa: F401  (row.kv uses StateBadge)
from mobileapp.widgets.tappable import Tappable


class StateRow(Tappable, Faced):
    """A closure or opening by name, with its state badge and what can be said of it in `note`."""

    text = StringProperty("")
    note = StringProperty("")
    state = OptionProperty("fitted", options=list(TONE_OF))
    detail = StringProperty("")


class ReasonRow(Tappable, Faced):
    """One reason against closing. Tapping it leads to where it is put right.

    `what` is the reason in words; `where`, `since` and `who` say what is known; `do_next` says what to do.
    """

    number = StringProperty("")
    what = StringProperty("")
    where = StringProperty("")
    since = StringProperty("")
    who = StringProperty("")
    do_next = StringProperty("")

    def known(self, where: str, since: str, who: str) -> str:
        """What is known of it, one fact a line."""
        facts = (("last", where), ("since", since), ("by", who))
        return "\n".join(f"{word} {fact}" for word, fact in facts if fact)


class ChoiceRow(PlateButton):
    """A row to choose: struck when chosen. Rows of one `group` in one parent exclude each other.

    With no group it is a thing to acknowledge, and tapping again takes that back.
    """

    chosen = BooleanProperty(False)
    group = StringProperty("")

    def on_tap(self) -> None:
        """Choose this row, and let the others of its group go."""
        if not self.group:
            self.chosen = not self.chosen
            return
        for row in self.parent.children if self.parent else ():
            if isinstance(row, ChoiceRow) and row.group == self.group and row is not self:
                row.chosen = False
        self.chosen = True


load_rules(__file__)
