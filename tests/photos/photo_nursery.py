"""Raises children that keep and record photos, and kills them. Run by test_photo_kill as its own program.

Each line on standard input is `folder delay number`: a child keeps and records one photo after another, writing the
hash of each that it was told is recorded. After `delay` seconds it gets SIGKILL. With a delay of `between` the child
kills itself at the worst moment instead: after the photo is kept, before its event.
"""

import os
import signal
import sys
import time
from pathlib import Path

from photos.photo_maker import jpeg, scene

from checklists import builders
from checklists.facts import Person
from mobileapp import evidence
from mobileapp.journal import open_journal
from mobileapp.photos import PhotoStore, beside
from mobileapp.service import TeardownService
from mobileapp.shelf import load_sheet

NOW = "2026-03-02T08:15:30.250+01:00"
ADA = Person("Ada Berg", "fitter")


def at_work(folder: Path) -> tuple[TeardownService, PhotoStore]:
    """The job in that folder, begun where it is not."""
    journal = open_journal(folder / "journal.sqlite")
    service = TeardownService(journal, lambda: NOW, "job-1", ADA.name)
    if not service.state.history:
        service.record(builders.start(load_sheet("rocker-cover"), "Port engine", (ADA,), "it knocks", ""))
    return service, PhotoStore(beside(journal.path))


def photograph_for_ever(folder: Path, number: int) -> None:
    """Never returns."""
    service, store = at_work(folder)
    for n in range(1_000_000):
        outcome = evidence.keep_photo(service, store, picture(number, n), "teardown:", "other")
        assert isinstance(outcome, evidence.Outcome)
        assert outcome.entry is not None
        os.write(1, f"{outcome.entry.fact.photo}\n".encode())


def picture(number: int, n: int) -> bytes:
    """A photo no other child takes."""
    return jpeg(scene(96, 72, seed=number * 1000 + n))


class KilledBetween(PhotoStore):
    """A store in a process that is killed as soon as the photo is kept."""

    def keep(self, *args: object, **kwargs: object) -> None:  # type: ignore[override]
        """Keep it, tell its hash, and die."""
        kept = super().keep(*args, **kwargs)
        os.write(1, f"{kept.sha}\n".encode())
        os.kill(os.getpid(), signal.SIGKILL)


def killed_between(folder: Path, number: int) -> None:
    """Never returns."""
    service, store = at_work(folder)
    evidence.keep_photo(service, KilledBetween(store.folder), picture(number, 0), "teardown:", "other")


def main() -> None:
    """One child after another."""
    for line in sys.stdin:
        folder, delay, number = line.split()
        child = os.fork()
        if child == 0:
            (killed_between if delay == "between" else photograph_for_ever)(Path(folder), int(number))
        if delay != "between":
            time.sleep(float(delay))
            os.kill(child, signal.SIGKILL)
        _, status = os.waitpid(child, 0)
        os.write(1, b"killed %d\n" % os.WTERMSIG(status))


if __name__ == "__main__":
    main()
