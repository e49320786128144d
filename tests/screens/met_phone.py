"""A phone that met another: each had written something onto the sheet before."""

from __future__ import annotations

from pathlib import Path

from screens.counting_phone import CountingPhone

from checklists import builders
from checklists.sheet import Sheet
from mobileapp.journal.store import open_journal
from mobileapp.service import TeardownService


def met_phone(folder: Path, ours: Sheet, theirs: Sheet) -> CountingPhone:
    """Ada's phone, on which `ours` was written, after it took in Jonas's, on which `theirs` was."""
    phone = CountingPhone(folder)
    work = phone.begin("inlet-manifold-inline-four")
    with open_journal(folder / "theirs.sqlite", clock=lambda: phone.now, make_id=lambda: "their-phone") as journal:
        journal.receive(work.id, phone.journal.rows(work.id))
        other = TeardownService(journal, lambda: phone.now, work.id, "Jonas Wieland")
        assert other.record(builders.grow(theirs)).done
        assert work.record(builders.grow(ours)).done
        phone.journal.receive(work.id, journal.rows(work.id))
    phone.desk.open(work.id, "Ada Berg")
    return phone
