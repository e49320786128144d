"""A signature is bound to its place in the record: to the hash of the entry before it on the phone it was made on."""

from __future__ import annotations

import sqlite3
from dataclasses import replace

import pytest
from kept_photos import HAND

from checklists import builders, second_count
from checklists.facts import HandedOver, HandTurned, Person, Released, TookOver
from mobileapp.journal import prove
from mobileapp.journal.binding import not_bound
from mobileapp.journal.canonical import Envelope, arrival_after, body_of, envelope_hash
from mobileapp.journal.errors import NotAccepted, NotBound
from mobileapp.journal.store import open_journal
from mobileapp.service import TeardownService, start_teardown
from mobileapp.shelf import load_sheet

NOW = "2026-03-02T08:00:00.000+01:00"
INES = "Ines Vardal"
ELSEWHERE = "f" * 64


@pytest.fixture
def journal(tmp_path):
    with open_journal(tmp_path / "journal.sqlite", clock=lambda: NOW, make_id=lambda: "phone-1") as journal:
        yield journal


@pytest.fixture
def service(journal) -> TeardownService:
    people = [Person(INES, "fitter"), Person("Tomas Reke", "deckhand")]
    fact = builders.start(load_sheet("rocker-cover"), "trial machine", people, "a leak", "")
    service = start_teardown(journal, lambda: NOW, lambda: "job-1", fact, INES)
    assert isinstance(service, TeardownService)
    return service


RELEASED = Released("It must be towed.", "Magnet, mirror.", "", HAND)


def test_what_is_signed_is_bound_to_the_head_at_that_moment(service, journal):
    head = journal.head(service.id)
    entry = service.record(RELEASED).entry
    assert entry.fact.head == head
    assert prove(journal.path) == []


def test_a_signature_bound_elsewhere_is_refused_in_words(service, journal):
    outcome = service.record(replace(RELEASED, head=ELSEWHERE))
    assert [reason.code for reason in outcome.reasons] == ["bound elsewhere"]
    assert service.record(replace(RELEASED, head=service.head)).done


@pytest.mark.parametrize("head", ["", ELSEWHERE])
def test_the_journal_writes_no_signature_that_is_not_bound_to_its_place(service, journal, head):
    with pytest.raises(NotBound, match="not bound to its place"):
        journal.append(service.id, replace(RELEASED, head=head), NOW, INES)
    assert len(journal.entries(service.id)) == 1


def test_taking_over_is_bound_as_well(service, journal):
    service.record(HandedOver("Tomas Reke", "", ()))
    service.who = "Tomas Reke"
    seen = [service.state.quantity(*pair) for pair in second_count.relief_list(service.state)]
    head = service.head
    entry = service.record(builders.take_over(service.state, seen, "", HAND)).entry
    assert isinstance(entry.fact, TookOver)
    assert entry.fact.head == head


def test_turning_by_hand_is_bound_as_well(service, journal):
    head = service.head
    assert service.record(HandTurned("free", ELSEWHERE, HAND)).reasons[-1].code == "bound elsewhere"
    entry = service.record(HandTurned("two turns, free", "", HAND)).entry
    assert (entry.fact.head, prove(journal.path)) == (head, [])


def test_one_turned_by_hand_before_that_was_signed_still_proves(journal):
    assert not_bound(HandTurned("free"), ELSEWHERE) == ""
    assert "not bound to its place" in not_bound(HandTurned("free", "a" * 64), ELSEWHERE)


def signed_for(path, row, fact) -> None:
    """The last entry, forged: it says `fact` instead, and everything that is made from it was made again."""
    forged = row._replace(body=body_of(fact))
    forged = forged._replace(hash=envelope_hash(Envelope(*forged[:10])))
    with sqlite3.connect(path) as conn:
        triggers = conn.execute("SELECT name, sql FROM sqlite_master WHERE type = 'trigger'").fetchall()
        for name, _ in triggers:
            conn.execute(f"DROP TRIGGER {name}")
        (before,) = conn.execute("SELECT arrival FROM event WHERE seq = ?", (row.seq - 1,)).fetchone()
        conn.execute("UPDATE event SET body = ?, hash = ?, arrival = ? WHERE seq = ?",
                     (forged.body, forged.hash, arrival_after(before, forged.hash), row.seq))  # fmt: skip
        conn.execute("UPDATE head SET hash = ?", (forged.hash,))
        for _, sql in triggers:
            conn.execute(sql)
    conn.close()


@pytest.mark.parametrize("head", ["", ELSEWHERE])
def test_prove_says_exactly_which_signature_is_not_bound(service, journal, head):
    service.record(RELEASED)
    row = journal.rows(service.id)[-1]
    journal.close()
    signed_for(journal.path, row, replace(RELEASED, head=head))
    (fault,) = prove(journal.path)
    assert fault.where == "teardown job-1, device phone-1, entry 2"
    assert "the signature (released, not clear) is not bound to its place" in fault.what


@pytest.mark.parametrize("head", ["", ELSEWHERE])
def test_another_phone_takes_in_no_signature_that_is_not_bound(service, journal, head, tmp_path):
    service.record(RELEASED)
    *before, last = journal.rows(service.id)
    forged = last._replace(body=body_of(replace(RELEASED, head=head)))
    forged = forged._replace(hash=envelope_hash(Envelope(*forged[:10])))
    with open_journal(tmp_path / "other.sqlite", clock=lambda: NOW, make_id=lambda: "phone-2") as other:
        with pytest.raises(NotAccepted, match=r"entry 2: the signature .* is not bound to its place"):
            other.receive(service.id, [*before, forged])
        assert other.teardowns() == []
        other.receive(service.id, [*before, last])
        assert prove(other.path) == []
