"""Packs: a teardown to another phone, another phone's work into this one, everything backed up."""

from __future__ import annotations

from functools import partial
from pathlib import Path
from typing import Any

from mobileapp import look
from mobileapp.device.share import PACK, where
from mobileapp.journal.errors import JournalError
from mobileapp.packs.errors import PackError, PhotoLost
from mobileapp.screens import pack_files
from mobileapp.screens.aside import work_aside
from mobileapp.screens.base import BaseScreen
from mobileapp.screens.form_parts import FormField, facts, key_row
from mobileapp.screens.stamps import when
from mobileapp.widgets.plate import Plate
from mobileapp.widgets.text import Body, Heading, Small

FAULTS = (PackError, JournalError, OSError)
CHUNK = 6


class PacksScreen(BaseScreen):
    """`pack` is a file that was chosen: what it holds, verified, before anything of it is taken in."""

    def build(self, pack: str = "", **_: Any) -> None:
        """What came of the last act, and what can be done; or the chosen file."""
        self.pack, self.left = pack, False
        self.title = "Take in a pack" if pack else "Packs"
        self._say_outcome()
        if pack:
            self._look_into()
        else:
            self._offer_giving()
            self._offer_taking()

    def leave(self) -> None:
        """What is being done is done all the same; it does not bring this screen back."""
        super().leave()
        self.left = True

    # --- what came of it

    def _say_outcome(self) -> None:
        draft = self.desk.draft
        if fault := draft.get("fault"):
            self.add_widget(Plate(tone="yellow", shape="refused", text=fault, text_size_sp=look.BODY, glyph_mm=7))
        if draft.get("lost"):
            self.add_widget(key_row("Pack without it", partial(self._export, True), "the pack says that it is missing"))
        if done := draft.get("done"):
            self.add_widget(Plate(tone="sky", shape="gate", text=done, note="\n".join(draft.get("said", []))))
        if written := draft.get("written"):
            self.add_widget(facts("", [where(Path(written))]))
            self.add_widget(key_row("Share this file", self._share, draft.get("shared", "")))

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
        self._busy("Packing…")
        act = partial(pack_files.export, Path(self.desk.journal.path), work.id, target, without_lost)
        work_aside(act, partial(self._given, "The pack is written"), FAULTS, long=True)

    def _back_up(self) -> None:
        target = self.desk.folder("packs") / f"backup-{self.desk.clock()[:10]}{pack_files.ENDING}"
        self._busy("Packing…")
        act = partial(pack_files.back_up, Path(self.desk.journal.path), target)
        work_aside(act, partial(self._given, "The backup is written"), FAULTS, long=True)

    def _given(self, words: str, done: Any) -> None:
        if self.left:
            return
        if isinstance(done, Exception):
            self._refused(done)
        else:
            self._outcome(done=words, said=pack_files.packed_words(done), written=str(done.path))

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
            self._offer_brought()
            return
        self.waiting = Body(text="Verifying every byte of it…")
        self.add_widget(self.waiting)
        work_aside(partial(pack_files.look_into, Path(self.pack)), self._looked, FAULTS, long=True)

    def _looked(self, contents: Any) -> None:
        if self.left:
            return
        self.body.remove_widget(self.waiting)
        if isinstance(contents, Exception):
            self._refused(contents)
            return
        self.add_widget(facts("It holds", pack_files.contents_words(contents)))
        self.act_text, self.act_shape, self.act_tone, self.act_ready = "Take it in", "set down", "orange", True
        self.act_note = ""

    def on_act(self) -> None:
        """Take it in: all of it or nothing."""
        if not self.pack or not self.act_ready:
            return
        self._busy("Taking it in…")
        act = partial(pack_files.take_in, Path(self.pack), Path(self.desk.journal.path))
        work_aside(act, self._taken, FAULTS, long=True)

    def _taken(self, done: Any) -> None:
        if not isinstance(done, Exception):
            self._read_again()
        if self.left:
            self.desk.again()  # the screen that is there now shows what came in
            return
        if isinstance(done, Exception):
            self._refused(done)
        else:
            brought = [news.teardown for news in done.teardowns]
            self._outcome(done="Taken in", said=pack_files.unpacked_words(done), brought=brought)

    def _read_again(self) -> None:
        """The teardown in hand may have been merged with what another phone recorded."""
        work = self.desk.service
        if work is not None:
            try:
                self.desk.open(work.id, work.who)
            except JournalError as fault:
                self.desk.go("trouble", words=str(fault))

    def _offer_brought(self) -> None:
        brought = set(self.desk.draft.get("brought", []))
        for card in self.desk.journal.teardowns():
            if card.teardown in brought:
                note = f"{card.out} out, {card.in_engine} in the engine, {card.missing} missing"
                self.add_widget(key_row(f"Open {card.machine}", partial(self._open, card.teardown), note))

    def _open(self, teardown: str) -> None:
        self.desk.open(teardown)
        self.desk.to_board()

    # --- both

    def _busy(self, words: str) -> None:
        self.act_text, self.act_note, self.act_ready = words, "", False

    def _refused(self, fault: Exception) -> None:
        self.desk.signals.refused()
        words = f"The storage did not take it ({fault}). Free some space, then try again."
        self._outcome(fault=words if isinstance(fault, OSError) else str(fault), lost=isinstance(fault, PhotoLost))

    def _outcome(self, **said: Any) -> None:
        for key in ("fault", "lost", "done", "said", "written", "shared", "brought"):
            self.desk.draft.pop(key, None)
        self.desk.draft.update(said)
        self.desk.again()


def _stamp(changed: float) -> str:
    from datetime import datetime

    return datetime.fromtimestamp(changed).astimezone().isoformat(timespec="milliseconds")
