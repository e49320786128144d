"""A small workboat job for the journal's tests: a thermostat housing with four bolts comes off and goes back."""

import shutil
import sqlite3
from decimal import Decimal
from pathlib import Path

from checklists import builders, state, teardown
from checklists.facts import Counted, Entry, Joined, Lifted, Looked, Move, Person, WorkDone
from checklists.sheet import Closure, Fastener, Line, Opening, Shape, Sheet, Space
from mobileapp.journal import Card, ClosureRow, Journal, open_journal, prove
from mobileapp.journal.schema import TRIGGERS

BOLT = "housing.m8"
SHEET = Sheet(
    name="Thermostat housing off",
    machine="inline-four diesel",
    spaces=(Space("jacket", "Coolant jacket", "A stray item blocks the coolant."),),
    openings=(Opening("neck", "Neck", "jacket", Shape("circle", (Decimal("54.0"),)), "housing", "Rag."),),
    closures=(Closure("housing", "Housing", (Fastener("m8", "M8 x 30 bolt", 4),), (), "22 N.m", (), False),),
    items=(Line("rag", "Shop rag", "rag", 3, "stores"),),
)
WHO = "Ilse Brandt"


def at(minute: int, hour: int = 8) -> str:
    """A time on the day of the job."""
    return f"2026-03-02T{hour:02d}:{minute:02d}:30.250+01:00"


def start():
    """The first fact of a job on the housing."""
    return builders.start(SHEET, "harbour workboat Petrel", (Person(WHO, "fitter"),), "It overheats.", "Dry.")


def bolt_out(quantity: int = 1) -> Counted:
    """Bolts counted out into the tray."""
    return Counted((Move(BOLT, quantity, "fitted/housing", "tray"),))


def bolt_back(quantity: int = 1) -> Counted:
    """Bolts counted home."""
    return Counted((Move(BOLT, quantity, "tray", "fitted/housing"),))


def job() -> list:
    """A short job: some facts move items, some do not, and the last one does not."""
    return [
        start(),
        Joined(Person("Jonas Lund", "second fitter")),
        *[bolt_out() for _ in range(4)],
        Lifted("housing", "photos/housing-off.jpg"),
        Looked("neck", True, "clean", "photos/neck.jpg"),
        *[bolt_back() for _ in range(2)],
        WorkDone("thermostat renewed"),
    ]


def derived(journal: Journal, name: str, entry: Entry):
    """The card and closure rows of a teardown after one more entry, as the app keeps them."""
    now = teardown.fold([*journal.entries(name)])
    figures = state.tally(now)
    card = Card(name, now.machine, now.sheet.name, now.started.at, now.ended, *figures, entry.at)
    rows = [ClosureRow(c, now.closures[c].name, s.stage, s.since, s.who) for c, s in now.closure_states.items()]
    return card, rows


def play(journal: Journal, name: str, facts: list, minute: int = 0, who: str = WHO) -> list[Entry]:
    """Record facts one after another, a minute apart, with the derived rows."""
    return [
        journal.append(name, fact, at(minute + n), who, derive=lambda e: derived(journal, name, e))
        for n, fact in enumerate(facts)
    ]


def on_other_phone(path: Path, device: str) -> Journal:
    """The same file as another phone would hold it after a merge: from here on its entries are that phone's."""
    with sqlite3.connect(path) as conn:
        conn.execute("UPDATE device SET id = ?", (device,))
    conn.close()
    return open_journal(path)


def write_two_phones(path: Path) -> None:
    """Two jobs in one file, one of them worked on from two phones that had seen each other's entries."""
    with open_journal(path, make_id=lambda: "phone-a", clock=lambda: at(0)) as journal:
        play(journal, "job-1", job()[:5])
        play(journal, "job-2", job()[:3], minute=20)
    with on_other_phone(path, "phone-b") as journal:
        play(journal, "job-1", job()[5:8], minute=5, who="Jonas Lund")
    with on_other_phone(path, "phone-a") as journal:
        play(journal, "job-1", job()[8:], minute=8)
        play(journal, "job-2", job()[3:4], minute=23)


class Tamper:
    """A file opened by somebody who drops the triggers, changes what they like, and puts the triggers back."""

    def __init__(self, source: Path, folder: Path) -> None:
        self.path = folder / "tampered.sqlite"
        shutil.copyfile(source, self.path)
        self.conn = sqlite3.connect(self.path, isolation_level=None)
        for trigger in ("event_never_changed", "event_never_deleted", "event_never_replaced"):
            self.conn.execute(f"DROP TRIGGER {trigger}")

    def rows(self) -> list[dict]:
        """Every entry's row."""
        cursor = self.conn.execute("SELECT * FROM event ORDER BY id")
        names = [column[0] for column in cursor.description]
        return [dict(zip(names, row, strict=True)) for row in cursor]

    def write(self, rows: list[dict]) -> None:
        """Put these rows in place of all there are."""
        self.conn.execute("BEGIN")
        self.conn.execute("DELETE FROM event")
        for row in rows:
            marks = ", ".join("?" * len(row))
            self.conn.execute(f"INSERT INTO event ({', '.join(row)}) VALUES ({marks})", tuple(row.values()))
        self.conn.execute("COMMIT")

    def findings(self) -> list:
        """Close the file up again and have it proven."""
        for trigger in TRIGGERS:
            self.conn.execute(trigger)
        self.conn.close()
        return prove(self.path)
