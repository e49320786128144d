"""Phones that send packs to each other, and what a hand does with a pack."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from screens import touch
from screens.photo_work import PhotoWork

from checklists.facts import Person
from mobileapp.desk import Desk
from mobileapp.shell import Shell

MARA = Person("Mara Voss", "fitter")


class PackWork(PhotoWork):
    """At work, and packs of another phone lie in its downloads."""

    def _switch_on(self) -> tuple[Desk, Shell]:
        desk, shell = super()._switch_on()
        desk.pack_folders = (str(self.folder / "downloads"),)
        return desk, shell

    def _id(self) -> str:
        return f"{self.folder.name}-{super()._id()}"

    def done(self) -> None:
        """What was begun is done, and the screen says so."""
        self.wait()
        touch.settle(5)


def phone(folder: Path) -> Iterator[PackWork]:
    (folder / "downloads").mkdir(parents=True)
    made = PackWork(folder)
    yield made
    made.let_go()


def exported(work: PackWork) -> Path:
    work.shows("packs")
    work.tap("Export this teardown")
    work.done()
    return work.folder / "packs" / f"{work.desk.work.id}.countback.zip"


def sent(pack: Path, to: PackWork) -> None:
    (to.folder / "downloads" / pack.name).write_bytes(pack.read_bytes())


def takes_in(work: PackWork, name: str) -> None:
    work.shows("packs")
    work.tap(name)
    work.done()
    work.act()
    work.done()
