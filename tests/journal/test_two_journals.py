"""Two phones with a journal each: entries go over whole or not at all, and both files prove afterwards."""

import json
import random
import sqlite3

import pytest
from journal_workshop import BOLT, WHO, at, bolt_back, bolt_out, start

from checklists import builders
from checklists.facts import Checked, Counted, Joined, Move, Person, Seen
from checklists.ledger import faults
from checklists.teardown import fold
from mobileapp.journal import open_journal, prove, rebuild_balances
from mobileapp.journal.canonical import Envelope, canonical, envelope_hash
from mobileapp.journal.derived import card, closure_rows
from mobileapp.journal.errors import Forked, NotAccepted

JOB = "job-1"


def play(journal, name, facts, minute=0, who=WHO):
    """Record facts a minute apart, with the derived rows as the app writes them."""
    for number, fact in enumerate(facts):

        def derive(entry):
            state = fold(journal.entries(name))
            return card(name, state), closure_rows(state)

        journal.append(name, fact, at(minute + number), who, derive=derive)


@pytest.fixture
def phones(tmp_path):
    """Phone a with a job that has begun, and phone b with an empty journal."""
    with (
        open_journal(tmp_path / "a.sqlite", make_id=lambda: "phone-a", clock=lambda: at(0)) as a,
        open_journal(tmp_path / "b.sqlite", make_id=lambda: "phone-b", clock=lambda: at(0)) as b,
    ):
        play(a, JOB, [start(), Joined(Person("Jonas Lund", "second fitter")), bolt_out(), bolt_out()])
        yield a, b


def dump(journal):
    """Everything in the file."""
    with sqlite3.connect(journal.path) as conn:
        lines = list(conn.iterdump())
    conn.close()
    return lines


def exchange(a, b):
    b.receive(JOB, a.rows(JOB))
    a.receive(JOB, b.rows(JOB))


def alike(a, b):
    """Both hold the same entries and derive the same rows from them, and both files prove."""
    assert a.rows(JOB) == b.rows(JOB)
    assert a.heads(JOB) == b.heads(JOB)
    assert a.balances(JOB) == b.balances(JOB) == fold(a.entries(JOB)).balances
    assert a.closure_rows(JOB) == b.closure_rows(JOB)
    assert a.teardowns() == b.teardowns()
    assert faults(a.balances(JOB)) == []
    for journal in (a, b):
        assert prove(journal.path) == []
        assert rebuild_balances(journal) == []


def remade(row, **changes):
    """An entry with something changed, and a hash that fits."""
    row = row._replace(**changes)
    return row._replace(hash=envelope_hash(Envelope(*row[:10])))


# --- going over


def test_a_job_goes_over_whole(phones):
    a, b = phones
    assert b.receive(JOB, a.rows(JOB)) == 4
    alike(a, b)


def test_the_same_entries_twice_change_nothing(phones):
    a, b = phones
    b.receive(JOB, a.rows(JOB))
    before = dump(b)
    assert b.receive(JOB, a.rows(JOB)) == 0
    assert dump(b) == before


def test_both_carry_on_and_come_to_the_same(phones):
    a, b = phones
    exchange(a, b)
    play(a, JOB, [bolt_out()], minute=10)
    play(b, JOB, [bolt_back(), bolt_back()], minute=11)
    exchange(a, b)
    alike(a, b)
    play(b, JOB, [bolt_out()], minute=20)
    exchange(a, b)
    alike(a, b)
    assert a.entries(JOB)[-1].seen == (("phone-a", 5),)


def test_whichever_way_round(phones, tmp_path):
    a, b = phones
    exchange(a, b)
    play(a, JOB, [bolt_out()], minute=10)
    play(b, JOB, [bolt_out(2)], minute=11)
    rows_a, rows_b = a.rows(JOB), b.rows(JOB)
    for name, order in (("ab", (rows_a, rows_b)), ("ba", (rows_b, rows_a)), ("shuffled", (rows_b[::-1] + rows_a,))):
        with open_journal(tmp_path / f"{name}.sqlite", make_id=lambda: "phone-c", clock=lambda: at(0)) as c:
            for rows in order:
                c.receive(JOB, rows)
            exchange(a, b)
            alike(a, c)


def test_the_last_bolt_counted_home_on_both_shows_and_both_files_prove(phones):
    a, b = phones
    play(a, JOB, [bolt_back()], minute=5)
    exchange(a, b)
    play(a, JOB, [bolt_back()], minute=10)
    play(b, JOB, [bolt_back()], minute=11)
    exchange(a, b)
    alike(a, b)
    state = fold(a.entries(JOB))
    assert state.quantity(BOLT, "tray") == 0
    assert state.quantity(BOLT, "fitted/housing") == 4
    assert [clash.kind for clash in state.clashes.values()] == ["taken on two phones"]
    play(b, JOB, [Checked(Seen(BOLT, "tray", 0)), Checked(Seen(BOLT, "fitted/housing", 4))], minute=12)
    exchange(a, b)
    alike(a, b)
    assert fold(a.entries(JOB)).clashes == {}


@pytest.mark.parametrize("seed", range(12))
def test_random_work_on_two_journals(phones, seed):
    a, b = phones
    dice = random.Random(seed)
    exchange(a, b)
    for minute in range(40):
        one, other = dice.sample(phones, 2)
        state = fold(one.entries(JOB))
        line, place = dice.choice([key for key, n in state.balances.items() if n > 0 and key[1] != "origin"])
        target = dice.choice(["tray", "bench", "engine/jacket", "stores", "fitted/housing", "missing"])
        if dice.random() < 0.15:
            other.receive(JOB, one.rows(JOB))
        elif dice.random() < 0.2:
            play(one, JOB, [builders.check(line, place, dice.randint(0, 3))], minute=minute)
        elif target != place:
            play(one, JOB, [Counted((Move(line, 1, place, target),))], minute=minute)
    exchange(a, b)
    alike(a, b)


# --- refused, with what and where


def refused(journal, rows, kind, words):
    before = dump(journal)
    with pytest.raises(kind, match=words) as caught:
        journal.receive(JOB, rows)
    assert type(caught.value) is kind
    assert "nothing was recorded" in str(caught.value)
    assert dump(journal) == before


def test_an_entry_that_is_gone_changed_or_out_of_place_is_refused(phones):
    a, b = phones
    rows = a.rows(JOB)
    refused(b, rows[:1] + rows[2:], NotAccepted, "phone-a, entry 3: entry 2 of its chain is due here")
    refused(b, rows[1:], NotAccepted, "entry 2: entry 1 of its chain is due")
    refused(b, [*rows[:3], rows[3]._replace(who="Somebody else")], NotAccepted, "entry 4: its content is not what")
    refused(b, [*rows[:3], remade(rows[3], prev="0" * 64)], NotAccepted, "entry 4: it does not link")
    refused(b, [*rows[:3], remade(rows[3], tick=9)], NotAccepted, "its tick is 9, where 4 is due")
    refused(b, [*rows[:3], remade(rows[3], seen='{"phone-z":"' + "0" * 64 + '"}')], NotAccepted, "device phone-z")
    refused(b, [row._replace(teardown="job-2") for row in rows], NotAccepted, "belongs to another teardown")


def test_what_cannot_be_read_is_refused(phones):
    a, b = phones
    rows = a.rows(JOB)
    bodies = {
        '{"moves": []}': "canonical",
        '{"moves":[["housing.m8",1.5,"tray","stores"]]}': "not whole",
        '{"moves":[["housing.m8",-1,"fitted/housing","tray"]]}': "a movement that cannot be",
        '{"moves":[["housing.m8",true,"fitted/housing","tray"]]}': "'moves' holds another kind",
        '{"moves":[["housing.m8",1,"fitted/housing","the floor"]]}': "no such place",
        '{"moves":[["housing.m8",1,"fitted/housing"]]}': "cannot be read",
        '{"more":1,"moves":[]}': "cannot be read",
        "[]": "not one JSON object",
        "{": "entry 4",
    }
    for body, words in bodies.items():
        refused(b, [*rows[:3], remade(rows[3], body=body)], NotAccepted, words)
    refused(b, [*rows[:3], remade(rows[3], kind="imagined")], NotAccepted, "newer Countback")
    refused(b, [*rows[:3], remade(rows[3], at="yesterday")], NotAccepted, "its time cannot be read")
    refused(b, [*rows[:3], remade(rows[3], body='{"moves":[["nothing",1,"fitted/attic","tray"]]}')], NotAccepted,
            "is not on its sheet")  # fmt: skip
    refused(b, [*rows[:3], remade(rows[3], kind="checked", body='{"seen":["nothing","tray",1]}')], NotAccepted,
            "'nothing' is counted, but is not on its sheet")  # fmt: skip
    refused(b, [*rows[:3], remade(rows[3], kind="closure signed", body=canonical(
        {"closure": "attic", "head": rows[2].hash, "signature": [], "statement": "", "torque": ""}))], NotAccepted,
            "cannot follow")  # fmt: skip
    refused(b, [*rows[:3], rows[3]._replace(seq="4")], NotAccepted, "another kind of value")


def test_a_sheet_with_a_fault_or_a_second_start_is_refused(phones):
    a, b = phones
    rows = a.rows(JOB)
    plain = json.loads(rows[0].body)
    plain["sheet"]["opening"][0]["closure"] = "no such closure"
    refused(b, [remade(rows[0], body=canonical(plain))], NotAccepted, "its sheet has a fault")
    again = remade(rows[1], kind="started", body=rows[0].body)
    refused(b, [rows[0], again], NotAccepted, "starts twice")
    refused(b, [remade(rows[1], seq=1, tick=1, prev="0" * 64)], NotAccepted, "does not begin with its start")


def test_a_chain_that_goes_on_in_another_way_is_a_fork(phones):
    a, b = phones
    b.receive(JOB, a.rows(JOB))
    play(a, JOB, [bolt_out()], minute=10)
    rows = a.rows(JOB)
    fork = remade(rows[3], who="Somebody else")
    refused(b, [*rows[:3], fork], Forked, "phone-a, entry 4: here another stands in its place")
    refused(b, [*rows[:4], remade(rows[4], at=at(30), prev="1" * 64)], NotAccepted, "entry 5: it does not link")
    assert b.receive(JOB, rows) == 1


def test_several_teardowns_go_over_together_or_not_at_all(phones):
    a, b = phones
    play(a, "job-2", [start(), bolt_out()])
    given = {JOB: a.rows(JOB), "job-2": a.rows("job-2")[1:]}
    before = dump(b)
    with pytest.raises(NotAccepted, match="job-2"):
        b.receive_all(given)
    assert dump(b) == before
    given["job-2"] = a.rows("job-2")
    assert b.receive_all(given) == {JOB: 4, "job-2": 2}
    assert [card.teardown for card in b.teardowns()] == ["job-1", "job-2"]


def test_what_is_to_be_done_before_writing_is_done_once_all_is_known_and_its_failure_leaves_nothing(phones):
    a, b = phones
    before = dump(b)

    def full():
        raise OSError("no space left")

    with pytest.raises(OSError, match="no space"):
        b.receive_all({JOB: a.rows(JOB)}, full)
    assert dump(b) == before
    calls = []
    with pytest.raises(NotAccepted):
        b.receive_all({JOB: a.rows(JOB)[1:]}, lambda: calls.append("too early"))
    b.receive_all({JOB: a.rows(JOB)}, lambda: calls.append("photos"))
    assert calls == ["photos"]


def test_a_chain_of_this_phone_that_was_lost_here_comes_back(phones, tmp_path):
    a, b = phones
    b.receive(JOB, a.rows(JOB))
    with open_journal(tmp_path / "again.sqlite", make_id=lambda: "phone-a", clock=lambda: at(0)) as again:
        again.receive(JOB, b.rows(JOB))
        play(again, JOB, [bolt_out()], minute=30, who=WHO)
        assert [entry.seq for entry in again.entries(JOB)] == [1, 2, 3, 4, 5]
        assert prove(again.path) == []
