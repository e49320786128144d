"""The journal can be read in any SQLite tool, without Countback."""

import sqlite3

import pytest
from journal_workshop import BOLT, WHO, at, bolt_back, bolt_out, play, start

from checklists.facts import Counted, Dropped, Lifted, Move


@pytest.fixture
def plain(journal, journal_path):
    """A plain connection to a journal with a short job in it."""
    lost = Dropped("valley", (Move(BOLT, 1, "tray", "missing"),))
    facts = [start(), *[bolt_out() for _ in range(4)], Lifted("housing", "photos/off.jpg"), bolt_back(2), lost]
    play(journal, "job-1", facts)
    conn = sqlite3.connect(journal_path)
    yield conn
    conn.close()


def test_tally(plain):
    assert plain.execute("SELECT * FROM tally").fetchall() == [
        ("job-1", BOLT, "fitted", 2, "fitted/housing"),
        ("job-1", BOLT, "missing", 1, "missing"),
        ("job-1", BOLT, "out", 1, "tray"),
        ("job-1", "rag", "put away", 3, "stores"),
    ]


def test_what_lies_on_the_floor_is_out(journal, journal_path):
    facts = [start(), bolt_out(2), Counted((Move(BOLT, 1, "tray", "floor"),))]
    play(journal, "job-1", facts)
    conn = sqlite3.connect(journal_path)
    out = conn.execute("SELECT quantity, places FROM tally WHERE whereabouts = 'out'").fetchall()
    conn.close()
    assert [(number, sorted(where.split(", "))) for number, where in out] == [(2, ["floor", "tray"])]


def test_movements(plain):
    assert plain.execute("SELECT * FROM movements WHERE kind <> 'counted'").fetchall() == [
        (1, "job-1", at(0), WHO, "started", BOLT, 4, "origin", "fitted/housing"),
        (1, "job-1", at(0), WHO, "started", "rag", 3, "origin", "stores"),
        (8, "job-1", at(7), WHO, "dropped", BOLT, 1, "tray", "missing"),
    ]
    assert plain.execute("SELECT sum(quantity) FROM movements WHERE source = 'tray'").fetchone() == (3,)


def test_closures(plain):
    assert plain.execute("SELECT * FROM closures").fetchall() == [
        ("job-1", "harbour workboat Petrel", "housing", "Housing", "lifted", at(5), WHO)
    ]


def test_log(plain):
    log = [what for (what,) in plain.execute("SELECT what FROM log")]
    assert log[0] == (
        "started - harbour workboat Petrel: 4 housing.m8 from origin to fitted/housing; 3 rag from origin to stores"
    )
    assert log[1] == "counted: 1 housing.m8 from fitted/housing to tray"
    assert log[5] == "closure lifted - housing"
    assert log[7] == "dropped: 1 housing.m8 from tray to missing"
