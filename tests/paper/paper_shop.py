"""A job with a journal and photos of its own, worked by what the next act says, to test what is printed of it."""

from __future__ import annotations

import io
from dataclasses import fields, replace
from pathlib import Path

from careful_worker import CarefulWorker
from photos.photo_maker import exif_block, jpeg, scene
from pypdf import PdfReader

from checklists.account.parts import Account
from checklists.closing_account import make_account
from checklists.facts import Cleared, Closed, Fact, HandTurned, Person, Photographed, Released, Signed
from checklists.next_act import Act, next_act
from checklists.sheet import Sheet
from mobileapp.journal import open_journal
from mobileapp.paper.closing_sheet import closing_sheet, shas_of
from mobileapp.paper.pictures import prepare_all
from mobileapp.photos import PhotoStore
from mobileapp.photos.store import beside
from mobileapp.service import TeardownService
from mobileapp.shelf import load_sheet

PEOPLE = (Person("Ines Vardal", "fitter"), Person("Tomas Reke", "deckhand"))
SIGNATURE = ((100, 700, 160, 300, 220, 700, 130, 520, 205, 520), (300, 650, 420, 380, 520, 700, 640, 420, 860, 610))
JOB = "job-1"


class PaperShop(CarefulWorker):
    """The careful worker with a real journal and real photos; what is signed, is signed by hand."""

    def __init__(self, folder: Path, sheet: str | Sheet = "rocker-cover", people: tuple[Person, ...] = PEOPLE) -> None:
        self.path = folder / "journal.sqlite"
        self.journal = open_journal(self.path, make_id=lambda: "phone-a")
        self.store = PhotoStore(beside(self.path))
        self.service = TeardownService(self.journal, lambda: self.now, JOB, people[0].name)
        self.taken = 0
        super().__init__(load_sheet(sheet) if isinstance(sheet, str) else sheet, people)

    def record(self, fact: Fact, who: str) -> None:
        if isinstance(fact, Photographed):
            self.photograph(fact.about, who, fact.moment)
            return
        self.service.who = who
        if (photo := getattr(fact, "photo", "")) and not isinstance(fact, Photographed):
            fact = replace(fact, photo=self.photograph("teardown:", who))
        if isinstance(fact, Cleared | Signed | Closed | Released | HandTurned):
            fact = replace(fact, head=self.service.head, signature=SIGNATURE)
        self._write(fact)
        assert not photo or self.store.has(fact.photo)
        self.teardown = self.service.state

    def with_photo(self, fact: Fact) -> tuple[Fact, ...]:
        """Just the act: real photos are taken where it is recorded."""
        return (fact,)

    def _write(self, fact: Fact) -> None:
        outcome = self.service.record(fact)
        assert outcome.done, f"{fact.kind} refused: {[reason.words for reason in outcome.reasons]}"
        self.now = f"{self.now[:11]}{_a_second_after(self.now[11:19])}{self.now[19:]}"

    def photograph(self, about: str, who: str, moment: str = "other") -> str:
        """Take a photo that is like no other, keep and record it; its hash."""
        self.taken += 1
        taken = f"2026:03:02 {self.now[11:19]}"
        size = (640, 480) if self.taken % 3 else (480, 640)
        data = jpeg(scene(*size, seed=self.taken), exif_block(taken=taken))
        kept = self.store.keep(data, self.now, f"photo {self.taken}.jpg")
        self.service.who = who
        wanted = {field.name for field in fields(Photographed)}
        values = {name: value for name, value in kept._asdict().items() if name in wanted}
        self._write(Photographed(photo=kept.sha, about=about, moment=moment, **values))
        self.teardown = self.service.state
        return kept.sha

    def work_until(self, do: str, closure: str = "") -> Act:
        """Follow the next act until that one is due; it is not done yet."""
        while (act := next_act(self.teardown, self.now)).do != do or closure not in ("", act.closure):
            assert act.do != "ended"
            self.do(act)
        return act

    # --- on paper

    def account(self) -> Account:
        """The account as it stands."""
        return make_account(JOB, self.journal.entries(JOB), self.journal.heads(JOB))

    def sheet(self, paper: str = "A4") -> bytes:
        """The closing sheet as it stands."""
        account = self.account()
        return closing_sheet(account, prepare_all(self.store, shas_of(account)), paper)

    def close(self) -> None:
        """Let go of the journal."""
        self.journal.close()


def _a_second_after(time: str) -> str:
    seconds = sum(int(part) * unit for part, unit in zip(time.split(":"), (3600, 60, 1), strict=True)) + 1
    return f"{seconds // 3600:02d}:{seconds // 60 % 60:02d}:{seconds % 60:02d}"


def opened(pdf: bytes) -> PdfReader:
    """The PDF in an independent reader, which must not have to forgive anything."""
    return PdfReader(io.BytesIO(pdf), strict=True)


def words_of(pdf: bytes) -> list[str]:
    """The text of each page, as that reader sees it, in single spaces."""
    return [" ".join(page.extract_text().split()) for page in opened(pdf).pages]


def said(account: Account) -> str:
    """Everything an account says, in one text."""
    return "\n".join(_texts(account))


def _texts(part: object) -> list[str]:
    if isinstance(part, str):
        return [part]
    return [text for one in part for text in _texts(one)] if isinstance(part, tuple) else []
