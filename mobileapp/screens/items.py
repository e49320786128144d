"""Tools, rags, covers, own things, parts: where each is, and everything that can happen to it."""

from __future__ import annotations

from functools import partial
from typing import Any

from kivy.metrics import mm
from kivy.uix.widget import Widget

from checklists import builders, places
from checklists.facts import moves_of
from mobileapp import look
from mobileapp.screens import item_forms
from mobileapp.screens.base import BaseScreen
from mobileapp.screens.form_parts import CHUNK, key_row
from mobileapp.screens.item_acts import GROUPS, acts, group_note, lines_of_group, one_tap, where_words
from mobileapp.widgets.plate import Plate, TakeBackButton
from mobileapp.widgets.text import Body

_ONE_TAP = ("use", "out", "away", "tear", "scrap")


class ItemsScreen(BaseScreen):
    """Groups; then a group in pieces of at most nine; then one line; then, where more must be said, a form (`do`)."""

    def build(self, line: str = "", group: str = "", page: int = 0, do: str = "", **_: Any) -> None:
        """One of the four."""
        self.line, self.do = line, do
        self.form: item_forms.ItemForm | None = None
        self.rows: dict[str, Any] = {}
        if line in self.desk.state.lines and do:
            self._form()
        elif line in self.desk.state.lines:
            self._line()
        elif group:
            self._group(group, page)
        else:
            self._groups()

    def _groups(self) -> None:
        self.title = "Items"
        for name, words, _kinds, shape in GROUPS:
            self.add_widget(
                key_row(
                    words,
                    partial(self.desk.go, "items", group=name),
                    group_note(self.desk.state, name),
                    shape,
                )
            )
        self.add_widget(
            key_row("Add a new line", partial(self.desk.go, "grow", form="line"), "before it is used", "more")
        )

    def _group(self, group: str, page: int) -> None:
        t = self.desk.state
        self.title = next((words for name, words, *_ in GROUPS if name == group), "Items")
        lines = lines_of_group(t, group)
        for line in lines[page * CHUNK : (page + 1) * CHUNK]:
            name = line.name
            if places.family(line.home) == "fitted":
                name = f"{name}, {t.closures[places.named(line.home)].name}"
            self.add_widget(
                key_row(name, partial(self.desk.go, "items", line=line.id), where_words(t, line.id))
            )
        if not lines:
            self.add_widget(Body(text="Nothing of this kind is on the tally."))
        if len(lines) > (page + 1) * CHUNK:
            further = partial(self.desk.go, "items", group=group, page=page + 1)
            self.add_widget(key_row(f"{len(lines) - (page + 1) * CHUNK} more", further))

    # --- one line

    def _line(self) -> None:
        self.title = self.desk.state.lines[self.line].name
        self.where = Plate(tone="bone", text_size_sp=look.KEY)
        self.add_widget(self.where)
        for act in acts(self.desk.state, self.line):
            self.rows[act.do] = key_row(act.text, partial(self._do, act.do), act.note, act.shape)
            self.add_widget(self.rows[act.do])
        self.add_widget(Widget(size_hint_y=None, height=mm(look.APART_MM - 2 * look.GAP_MM)))
        self.take_back = TakeBackButton(pos_hint={"right": 1})
        self.take_back.bind(on_tap=lambda _: self._undo())
        self.add_widget(self.take_back)

    def refresh(self) -> None:
        """The tally; and on a line's page only the words that changed."""
        super().refresh()
        if not self.rows:
            return
        t = self.desk.state
        now = acts(t, self.line)
        if [act.do for act in now] != list(self.rows):
            self.desk.again()
            return
        self.where.text = where_words(t, self.line)
        for act in now:
            row = self.rows[act.do]
            row.note, row.disabled = act.note, not act.ready or bool(t.ended)
        last = builders.last_undoable(t)
        mine = last is not None and any(move.line == self.line for move in moves_of(last.fact))
        self.take_back.disabled = not mine

    def _do(self, do: str) -> None:
        t = self.desk.state
        if do == "count":
            home = t.lines[self.line].home
            out = t.quantity(self.line, home) > 0 and t.work_done is None
            source, target = (home, places.TRAY) if out else (builders.where_away(t, self.line), home)
            self.desk.go("count_pad", line=self.line, source=source, target=target)
        elif do not in _ONE_TAP:
            self.desk.go("items", line=self.line, do=do)
        elif self.desk.record(one_tap(t, self.line, do)):
            self.refresh()

    def _undo(self) -> None:
        outcome = self.desk.guarded(self.desk.work.undo)
        if outcome is not None:
            self.refresh()

    # --- the forms

    def _form(self) -> None:
        self.form = item_forms.FORMS[self.do](self.desk, self.line, self._ready)
        self.title = self.form.title
        self.add_widget(
            Plate(
                tone="bone",
                text=self.desk.state.lines[self.line].name,
                note=where_words(self.desk.state, self.line),
            )
        )
        for part in self.form.parts:
            self.add_widget(part)
        self._ready()

    def _ready(self) -> None:
        if self.form is None:
            return
        lacking = self.form.lacking()
        self.act_text, self.act_ready = self.form.says(), not lacking
        self.act_note = f"First: {lacking}" if lacking else ""

    def on_act(self) -> None:
        """Do what the form says; then the line's own page shows the new figures, or what broke is accounted for."""
        if self.form is None or self.form.lacking() or not self.desk.record(self.form.fact()):
            return
        if self.do == "break":
            self.desk.instead("pieces", part=self.line)
        else:
            self.desk.back()
