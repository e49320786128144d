"""Packs: a teardown to another phone, another phone's work into this one, everything backed up."""

from __future__ import annotations

from functools import partial
from pathlib import Path
from typing import Any

from mobileapp import look
from mobileapp.device.share import PACK, where
from mobileapp.errand import Errand
from mobileapp.screens import pack_errands, pack_files
from mobileapp.screens.aside import work_aside
from mobileapp.screens.base import BaseScreen
from mobileapp.screens.form_parts import FormField, facts, key_row
from mobileapp.screens.stamps import when
from mobileapp.widgets.plate import Plate
from mobileapp.widgets.text import Body, Heading, Small

CHUNK = 6
_STAY = "Stay here: it is done whole or not at all, and this screen says what came of it."
_DROP = " A drop can be logged meanwhile."


class PacksScreen(BaseScreen):
    """`pack` is a file that was chosen: what it holds, verified, before anything of it is taken in."""

    def build(self, pack: str = "", **_: Any) -> None:
        """What came of the last act, and what can be done; or the chosen file. While something runs, only that."""
        self.pack, self.left = pack, False
        self.title = "Take in a pack" if pack else "Packs"
        if errand := pack_errands.running(self.desk):
            self._say_that_it_runs(errand)
            return
        pack_errands.learn(self.desk, pack)
        self._say_outcome()
        if pack:
            self._look_into()
        else:
            self._offer_giving()
            self._offer_taking()

    def leave(self) -> None:
        """What is only being looked into is not shown any more."""
        super().leave()
        self.left = True

    # --- while it runs

    def _say_that_it_runs(self, errand: Errand) -> None:
        note = _STAY + (_DROP if self.desk.service is not None else "")
        self.running = Plate(tone="sky", shape="look", text=errand.doing, note=note, glyph_mm=10)
        self.add_widget(self.running)
        self.act_text, self.act_ready = errand.doing, False

    def on_back(self) -> None:
        """The way back, and the phone's back key. Not in the middle of it."""
        if pack_errands.running(self.desk) is None:
            super().on_back()
            return
        self.desk.signals.refused()
        self.running.tone, self.running.text = "yellow", f"{self.act_text} Not back yet"

    # --- what came of it

    def _say_outcome(self) -> None:
        draft = self.desk.draft
        if fault := draft.get("fault") or draft.get("stopped"):
            self.add_widget(Plate(tone="yellow", shape="refused", text=fault, text_size_sp=look.BODY, glyph_mm=7))
        if draft.get("lost"):
            self.add_widget(key_row("Pack without it", partial(self._export, True), "the pack says that it is missing"))
        if done := draft.get("done"):
            self.add_widget(Plate(tone="sky", shape="gate", text=done, note="\n".join(draft.get("said", []))))
        if written := draft.get("written"):
            self.add_widget(facts("", [where(Path(written))]))
            self.add_widget(key_row("Share this file", self._share, draft.get("shared", "")))
        self._offer_brought()

    def _share(self) -> None:
        path = Path(str(self.desk.draft["written"]))
        self.desk.draft["shared"] = self.desk.share.file(path, PACK, path.name)
        self.desk.again()

    # --- giving

    def _offer_giving(self) -> None:
        if self.desk.service is not None:
            self.add_widget(Heading(text="To another phone"))
            note = f"{self.desk.state.machine}, with its photos"
            self.add_widget(key_row("Export this teardown", partial(self._export, False), note))
        self.add_widget(Heading(text="Everything on this phone"))
        self.add_widget(key_row("Back up everything", self._back_up, "all teardowns and photos in one file"))

    def _export(self, without_lost: bool) -> None:
        work = self.desk.work
        target = self.desk.folder("packs") / f"{pack_files.plain_name(work.id)}{pack_files.ENDING}"
        act = partial(pack_files.export, Path(self.desk.journal.path), work.id, target, without_lost)
        pack_errands.give(self.desk, "The pack is written", act)

    def _back_up(self) -> None:
        target = self.desk.folder("packs") / f"backup-{self.desk.clock()[:10]}{pack_files.ENDING}"
        act = partial(pack_files.back_up, Path(self.desk.journal.path), target)
        pack_errands.give(self.desk, "The backup is written", act)

    # --- taking in

    def _offer_taking(self) -> None:
        self.add_widget(Heading(text="Take in a pack, or restore a backup"))
        self.add_widget(Small(text="What is known already changes nothing. What two phones recorded is merged."))
        folders = [self.desk.folder("packs"), *map(Path, self.desk.pack_folders)]
        files = pack_files.found_in(folders)
        most = max(CHUNK, int(self.desk.draft.get("shown", CHUNK)))
        for file in files[:most]:
            self.add_widget(self._row(file))
        if not files:
            self.add_widget(Body(text="No pack was found in our own folder or in the downloads."))
        if (more := len(files) - most) > 0:
            self.add_widget(key_row(f"{more} older", partial(self._more, most + CHUNK), shape="more"))
        self.typed = FormField(self.desk, "path", "Or name a file", hint=f"/sdcard/Download/job{pack_files.ENDING}")
        self.add_widget(self.typed)
        self.add_widget(key_row("Look into this file", self._look_into_typed))

    def _row(self, file: pack_files.PackFile) -> Any:
        note = f"{pack_files.size_words(file.size)}, {when(_stamp(file.changed), self.desk.clock())}"
        return key_row(file.name, partial(self.desk.go, "packs", pack=file.path), note, "set down")

    def _more(self, most: int) -> None:
        self.desk.draft["shown"] = most
        self.desk.again()

    def _look_into_typed(self) -> None:
        if self.typed.text:
            self.desk.go("packs", pack=self.typed.text)
        else:
            self.typed.say_fault("No file is named. Choose one above, or type its path.")

    def _look_into(self) -> None:
        self.add_widget(Heading(text=Path(self.pack).name))
        if self.desk.draft.get("done") or self.desk.draft.get("fault"):
            return
        self.waiting = Body(text="Verifying every byte of it…")
        self.add_widget(self.waiting)
        work_aside(partial(pack_files.look_into, Path(self.pack)), self._looked, pack_errands.FAULTS, long=True)

    def _looked(self, contents: Any) -> None:
        if self.left:
            return
        self.body.remove_widget(self.waiting)
        if isinstance(contents, Exception):
            self.desk.signals.refused()
            self.desk.draft.update(pack_errands.refused_words(contents))
            self.desk.again()
            return
        self.add_widget(facts("It holds", pack_files.contents_words(contents)))
        self.act_text, self.act_shape, self.act_tone, self.act_ready = "Take it in", "set down", "orange", True
        self.act_note = ""

    def on_act(self) -> None:
        """Take it in: all of it or nothing."""
        if self.pack and self.act_ready:
            pack_errands.take_in(self.desk, self.pack)

    def _offer_brought(self) -> None:
        brought = set(self.desk.draft.get("brought", []))
        for card in self.desk.journal.teardowns():
            if card.teardown in brought:
                note = f"{card.out} out, {card.in_engine} in the engine, {card.missing} missing"
                self.add_widget(key_row(f"Open {card.machine}", partial(self._open, card.teardown), note))

    def _open(self, teardown: str) -> None:
        self.desk.open(teardown)
        self.desk.to_board()


def _stamp(changed: float) -> str:
    from datetime import datetime

    return datetime.fromtimestamp(changed).astimezone().isoformat(timespec="milliseconds")
