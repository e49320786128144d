"""What a durable count and opening a long teardown cost, as ratios measured in one run on one disk.

Baselines: a bare sqlite3 INSERT and COMMIT of the very bytes of the event row, with the same pragmas; and reading
and json-parsing the very rows. Ours and theirs take turns, so that the disk's moods hit both alike. Read the
microseconds as well: where the bare insert takes milliseconds, the disk's wait hides what we add, and the ratio
says little.
"""

import gc
import json
import sqlite3
from statistics import median
from time import perf_counter

import pytest

from checklists import builders
from checklists.facts import Acknowledged, Person
from checklists.teardown import fold
from mobileapp.journal import open_journal, prove
from mobileapp.service import TeardownService, card
from mobileapp.shelf import load_sheet

pytestmark = pytest.mark.bench

WHO = "Ilse Brandt"
SHEET = "inlet-manifold-inline-four"
ROUNDS = 1500
COLUMNS = "teardown, device, seq, tick, at, who, kind, body, seen, prev, hash, arrival"


@pytest.fixture(autouse=True)
def _garbage_as_in_the_app():
    """The app looks for garbage less often than Python does by itself."""
    usual = gc.get_threshold()
    gc.set_threshold(50_000, 20, 50)
    yield
    gc.set_threshold(*usual)


class SteppedClock:
    """Moves on by a second at every reading."""

    def __init__(self):
        self.seconds = 8 * 3600

    def __call__(self):
        self.seconds += 1
        hours, rest = divmod(self.seconds, 3600)
        return f"2026-03-{2 + hours // 24:02d}T{hours % 24:02d}:{rest // 60:02d}:{rest % 60:02d}.250+01:00"


def begin(journal, name, clock):
    """A teardown of the shipped sheet, its cautions read, ready for counting."""
    service = TeardownService(journal, clock, name, WHO)
    sheet = load_sheet(SHEET)
    started = builders.start(sheet, "workboat", [Person(WHO, "fitter")], "It overheats.", "Dry.")
    assert service.record(started).done
    for caution in sheet.cautions:
        assert service.record(Acknowledged(caution.id)).done
    return service


def counts(service):
    """Count one item out and back, out and back, for ever."""
    item = next(line.id for line in service.state.sheet.items if line.quantity)
    while True:
        yield builders.count_out(service.state, item)
        yield builders.count_back(service.state, item)


class Bare:
    """A table of the event's columns and nothing else, with the same pragmas."""

    def __init__(self, path):
        self.conn = sqlite3.connect(path, isolation_level=None)
        self.conn.execute("PRAGMA journal_mode = WAL")
        self.conn.execute("PRAGMA synchronous = FULL")
        self.conn.execute(f"CREATE TABLE event (id INTEGER PRIMARY KEY, {COLUMNS})")

    def insert(self, row):
        self.conn.execute("BEGIN IMMEDIATE")
        self.conn.execute(f"INSERT INTO event ({COLUMNS}) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)", row)
        self.conn.execute("COMMIT")


def timed(act, *values):
    begun = perf_counter()
    result = act(*values)
    return perf_counter() - begun, result


def table(title, rows):
    print(f"\n{title}")
    for name, ours, theirs, limit in rows:
        print(f"  {name:<52} {ours * 1e6:9.1f} us {theirs * 1e6:9.1f} us   {ours / theirs:5.2f}x  (limit {limit}x)")


def last_row(path):
    conn = sqlite3.connect(path)
    row = conn.execute(f"SELECT {COLUMNS} FROM event ORDER BY id DESC LIMIT 1").fetchone()
    conn.close()
    return row


def settle(bare, row, service, only_journal, facts):
    """Count until each log has been through a checkpoint: a log that still grows costs more to synchronise."""
    for _ in range(2000):
        bare.insert(row)
    for _ in range(600):
        fact = next(facts)
        assert service.record(fact).done
        only_journal.journal.append("job", fact, only_journal.clock(), WHO)


def test_a_durable_count_against_a_bare_insert(tmp_path):
    clock = SteppedClock()
    bare = Bare(tmp_path / "bare.sqlite")
    with open_journal(tmp_path / "journal.sqlite") as journal, open_journal(tmp_path / "plain.sqlite") as plain:
        service = begin(journal, "job", clock)
        only_journal = begin(plain, "job", clock)
        whole, alone, theirs = [], [], []
        facts = counts(service)
        assert service.record(next(facts)).done
        assert service.record(next(facts)).done
        row = last_row(journal.path)
        settle(bare, row, service, only_journal, facts)
        for _ in range(ROUNDS):
            fact = next(facts)
            seconds, outcome = timed(service.record, fact)
            assert outcome.done
            whole.append(seconds)
            alone.append(timed(only_journal.journal.append, "job", fact, clock(), WHO)[0])
            theirs.append(timed(bare.insert, row)[0])
    bare.conn.close()
    figures = [
        ("a count: journal alone, against a bare insert", median(alone), median(theirs), 2.0),
        ("a count: rules and journal, against a bare insert", median(whole), median(theirs), 2.0),
    ]
    table("One durable count (median)", figures)
    assert prove(tmp_path / "journal.sqlite") == []
    assert all(ours / bare_ours <= limit for _, ours, bare_ours, limit in figures)


FILL = f"""
WITH RECURSIVE
    jobs(j) AS (SELECT 1 UNION ALL SELECT j + 1 FROM jobs WHERE j < :jobs),
    steps(s) AS (SELECT 1 UNION ALL SELECT s + 1 FROM steps WHERE s < :steps)
INSERT INTO event ({COLUMNS})
SELECT 'job-' || j, 'phone-a', s, s, '2026-03-02T08:15:30.250+01:00', 'Ilse Brandt', 'counted',
    '{{"moves":[["manifold.m8",1,"fitted/manifold","tray"]]}}', '{{}}',
    lower(hex(randomblob(32))), lower(hex(randomblob(32))), lower(hex(randomblob(32)))
FROM jobs, steps
"""


def filled(path, jobs, steps):
    """A journal with so many rows of the usual look, put in with plain SQL, the triggers in place."""
    journal = open_journal(path)
    with journal.transaction() as conn:
        conn.execute(FILL, {"jobs": jobs, "steps": steps})
        conn.execute("INSERT INTO head SELECT teardown, device, max(seq), max(tick), hash FROM event GROUP BY teardown")
        conn.execute(
            "INSERT INTO balance SELECT j.teardown, 'line-' || l.seq, 'tray', 1 FROM head AS j,"
            " (SELECT seq FROM event WHERE teardown = 'job-1' AND seq <= 20) AS l"
        )
    with sqlite3.connect(path) as conn:
        conn.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    conn.close()
    return journal


def test_a_count_at_a_million_entries_against_a_thousand(tmp_path):
    clock = SteppedClock()
    with filled(tmp_path / "big.sqlite", 1000, 1000) as big, filled(tmp_path / "small.sqlite", 1, 1000) as small:
        services = begin(big, "job", clock), begin(small, "job", clock)
        facts = [counts(service) for service in services]
        seconds = [[], []]
        for turn in range(2 * ROUNDS):
            which = turn % 2
            spent, outcome = timed(services[which].record, next(facts[which]))
            assert outcome.done
            seconds[which].append(spent)
        with big.transaction() as conn:
            assert conn.execute("SELECT count(*) FROM event").fetchone()[0] > 1_000_000
    ours, theirs = map(median, seconds)
    table("One durable count (median)", [("1,000,000 entries in the file, against 1,000", ours, theirs, 1.2)])
    assert ours / theirs <= 1.2


def read_and_parse(conn):
    """The baseline: the teardown's rows in their order, each body parsed."""
    rows = conn.execute(
        "SELECT kind, body, at, who, device, seq, tick FROM event WHERE teardown = 'job' ORDER BY tick, device"
    ).fetchall()
    return [json.loads(row[1]) for row in rows]


def ten_thousand(path, distinct):
    """A teardown of 10,000 entries: single counts of every line that may be counted, out and back.

    Where `distinct`, each goes to a tray of its own, so that no two entries have the same body.
    """
    with open_journal(path) as journal:
        service = begin(journal, "job", SteppedClock())
        while len(service.state.history) < 10_000:
            for line in service.state.lines:
                tray = f"tray/{len(service.state.history)}" if distinct else ""
                if service.record(builders.count_out(service.state, line, to=tray)).done:
                    assert service.record(builders.count_back(service.state, line)).done
        assert journal.teardowns() == [card("job", service.state)]


@pytest.mark.parametrize("distinct", [False, True])
def test_opening_ten_thousand_entries_against_reading_and_parsing(tmp_path, distinct):
    path = tmp_path / "journal.sqlite"
    ten_thousand(path, distinct)
    bare = sqlite3.connect(path)
    ours, reading, theirs = [], [], []
    with open_journal(path) as journal:
        for _ in range(15):
            gc.collect()
            theirs.append(timed(read_and_parse, bare)[0])
            gc.collect()
            seconds, entries = timed(journal.entries, "job")
            reading.append(seconds)
            del entries
            gc.collect()
            seconds, state = timed(lambda: fold(journal.entries("job")))
            ours.append(seconds)
            assert len(state.history) >= 10_000
            del state
    bare.close()
    figures = [
        ("10,000 entries: journal's part, against read and parse", median(reading), median(theirs), 3),
        ("10,000 entries to full state, against read and parse", median(ours), median(theirs), 3),
    ]
    table(f"Opening a teardown, {'every body another' if distinct else 'bodies as in a job'} (median)", figures)
    assert median(ours) / median(theirs) <= 3
