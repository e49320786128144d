"""Nothing is edited, nothing is deleted, ever: the file itself refuses, in any tool."""

import sqlite3

import pytest
from journal_workshop import bolt_out, play, start

from mobileapp.journal import prove
from mobileapp.journal.errors import NeverChanged

INSERT = "INTO event SELECT {id}, teardown, device, {seq}, tick, at, 'nobody', kind, body, seen, prev, hash, arrival"


@pytest.mark.parametrize(
    ("statement", "words"),
    [
        ("UPDATE event SET who = 'nobody'", "an entry is never changed"),
        ("UPDATE event SET id = id + 10", "an entry is never changed"),
        ("DELETE FROM event", "an entry is never deleted"),
        ("DELETE FROM event WHERE id = 2", "an entry is never deleted"),
        ("INSERT OR REPLACE " + INSERT.format(id="id", seq="seq + 9") + " FROM event", "an entry is never replaced"),
        ("INSERT OR REPLACE " + INSERT.format(id="id + 9", seq="seq") + " FROM event", "an entry is never replaced"),
        ("REPLACE " + INSERT.format(id="NULL", seq="seq") + " FROM event", "an entry is never replaced"),
    ],
)
def test_plain_sqlite_cannot_touch_an_entry(journal, journal_path, statement, words):
    play(journal, "job-1", [start(), bolt_out()])
    conn = sqlite3.connect(journal_path, isolation_level=None)
    with pytest.raises(sqlite3.IntegrityError, match=words):
        conn.execute(statement)
    conn.close()
    assert len(journal.entries("job-1")) == 2
    assert prove(journal_path) == []


def test_inside_the_journal_it_is_the_journals_own_error(journal):
    play(journal, "job-1", [start()])
    with pytest.raises(NeverChanged, match="Record a reversing movement"), journal.transaction() as conn:
        conn.execute("DELETE FROM event")
    assert len(journal.entries("job-1")) == 1


def test_no_place_can_be_put_below_zero_by_hand(journal, journal_path):
    play(journal, "job-1", [start()])
    conn = sqlite3.connect(journal_path, isolation_level=None)
    with pytest.raises(sqlite3.IntegrityError, match="CHECK"):
        conn.execute("UPDATE balance SET quantity = -1 WHERE place = 'stores'")
    conn.close()
