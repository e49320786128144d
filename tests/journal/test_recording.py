"""An entry is recorded whole, or not at all, and comes back as it was."""

import pytest
from journal_workshop import BOLT, WHO, at, bolt_back, bolt_out, job, on_other_phone, play, start

from checklists.facts import Counted, Entry, Joined, Move, Person
from checklists.teardown import fold
from mobileapp.journal import Card, ClosureRow, open_journal, prove, rebuild_balances
from mobileapp.journal.canonical import NOTHING_BEFORE
from mobileapp.journal.errors import BelowZero, Closed, Unwritable


def test_a_fresh_journal_is_empty_and_proven(journal, journal_path):
    assert journal.teardowns() == []
    assert journal.entries("job-1") == []
    assert journal.head("job-1") == NOTHING_BEFORE
    assert journal.heads("job-1") == {}
    assert prove(journal_path) == []


def test_entries_come_back_as_they_were_recorded(journal, journal_path):
    """After the app is closed and opened again, the same entries in the same order, and the same state."""
    written = play(journal, "job-1", job())
    journal.close()
    with open_journal(journal_path) as again:
        assert again.entries("job-1") == written
        assert [(e.device, e.seq, e.tick) for e in written] == [("phone-a", n, n) for n in range(1, 12)]
        assert again.balances("job-1") == fold(written).balances
    assert prove(journal_path) == []


def test_the_balance_follows_each_movement(journal):
    play(journal, "job-1", [start(), bolt_out(), bolt_out(2), bolt_back()])
    assert journal.balances("job-1") == {
        (BOLT, "origin"): -4,
        (BOLT, "fitted/housing"): 2,
        (BOLT, "tray"): 2,
        ("rag", "origin"): -3,
        ("rag", "stores"): 3,
    }


def test_each_teardown_has_its_own_chain(journal):
    play(journal, "job-1", [start(), bolt_out()])
    play(journal, "job-2", [start()])
    assert [e.seq for e in journal.entries("job-2")] == [1]
    assert journal.head("job-1") != journal.head("job-2")
    assert journal.heads("job-1") == {"phone-a": journal.head("job-1")}


def test_the_head_changes_with_every_entry(journal):
    heads = []
    for fact in job():
        journal.append("job-1", fact, at(1), WHO)
        heads.append(journal.head("job-1"))
    assert len(set(heads)) == len(heads)


def test_taking_what_is_not_there_records_nothing(journal, journal_path):
    """A fifth bolt out of four, and a bolt back from an empty tray: neither is recorded."""
    play(journal, "job-1", [start(), bolt_out(4)])
    before = journal.entries("job-1"), journal.balances("job-1"), journal.head("job-1")
    with pytest.raises(BelowZero, match=r"Nothing was recorded .* Count again what is there"):
        journal.append("job-1", bolt_out(), at(5), WHO)
    with pytest.raises(BelowZero, match="1 of rag from tray, where there is none"):
        journal.append("job-1", Counted((Move("rag", 1, "tray", "stores"),)), at(6), WHO)
    assert (journal.entries("job-1"), journal.balances("job-1"), journal.head("job-1")) == before
    assert prove(journal_path) == []
    play(journal, "job-1", [bolt_back()], minute=7)
    assert prove(journal_path) == []


def test_the_movements_of_one_fact_count_as_one_act(journal):
    """A rag that goes to the engine and on to scrap in one fact needs no rag in the engine beforehand; order counts."""
    play(journal, "job-1", [start()])
    into, on = Move("rag", 1, "stores", "engine/jacket"), Move("rag", 1, "engine/jacket", "scrap")
    with pytest.raises(BelowZero, match="1 of rag from engine/jacket"):
        journal.append("job-1", Counted((on, into)), at(1), WHO)
    journal.append("job-1", Counted((into, on)), at(1), WHO)
    assert journal.balances("job-1")["rag", "scrap"] == 1
    assert ("rag", "engine/jacket") not in journal.balances("job-1")


@pytest.mark.parametrize("name", ["half a pair \ud83d", "\udfff"])
def test_text_that_is_no_unicode_is_refused_and_nothing_is_lost(journal, journal_path, name):
    play(journal, "job-1", [start()])
    head = journal.head("job-1")
    for fact, who in ((Joined(Person(name, "fitter")), WHO), (bolt_out(), name)):
        with pytest.raises(Unwritable, match="Nothing was recorded"):
            journal.append("job-1", fact, at(1), who)
    assert journal.head("job-1") == head
    assert prove(journal_path) == []


def test_a_quantity_beyond_canonical_json_is_refused(journal):
    with pytest.raises(Unwritable, match="safe integer domain"):
        journal.append("job-1", Counted((Move("rag", 2**53, "origin", "stores"),)), at(1), WHO)
    assert journal.entries("job-1") == []


def test_derived_rows_are_written_with_the_entry(journal):
    card = Card("job-1", "Petrel", "Thermostat housing off", at(0), "", 0, 0, 0, at(0))
    fitted = ClosureRow("housing", "Housing", "fitted", "", "")
    journal.append("job-1", start(), at(0), WHO, cards=card, closures=[fitted])
    loosened = ClosureRow("housing", "Housing", "loosened", at(1), WHO)
    later = card._replace(out=1, last_at=at(1))
    journal.append("job-1", bolt_out(), at(1), WHO, cards=later, closures=[loosened])
    assert journal.teardowns() == [later]
    assert journal.closure_rows("job-1") == [loosened]


def test_the_teardown_last_worked_on_comes_first(journal):
    play(journal, "job-1", [start()])
    play(journal, "job-2", [start()], minute=5)
    assert [card.teardown for card in journal.teardowns()] == ["job-2", "job-1"]
    play(journal, "job-1", [bolt_out()], minute=9)
    assert [card.teardown for card in journal.teardowns()] == ["job-1", "job-2"]


def test_when_derived_rows_cannot_be_made_nothing_is_recorded(journal, journal_path):
    play(journal, "job-1", [start()])

    def power_cut(entry: Entry):
        raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        journal.append("job-1", bolt_out(), at(1), WHO, derive=power_cut)
    assert len(journal.entries("job-1")) == 1
    assert prove(journal_path) == []


def test_two_phones_share_one_order(journal, journal_path):
    """An entry comes after everything its phone had seen, and says so."""
    play(journal, "job-1", [start(), bolt_out()])
    head_a = journal.head("job-1")
    journal.close()
    with on_other_phone(journal_path, "phone-b") as other:
        (entry,) = play(other, "job-1", [bolt_out()], minute=3)
        assert (entry.device, entry.seq, entry.tick) == ("phone-b", 1, 3)
        assert other.heads("job-1") == {"phone-a": head_a, "phone-b": other.head("job-1")}
        assert [(e.tick, e.device) for e in other.entries("job-1")] == [(1, "phone-a"), (2, "phone-a"), (3, "phone-b")]
    assert prove(journal_path) == []


def test_the_bookmark_is_kept_but_is_no_part_of_the_record(journal, journal_path):
    assert journal.bookmark() is None
    journal.set_bookmark({"screen": "board", "teardown": "job-1"})
    journal.set_bookmark({"screen": "count", "teardown": "job-1"})
    journal.close()
    with open_journal(journal_path) as again:
        assert again.bookmark() == {"screen": "count", "teardown": "job-1"}
    assert prove(journal_path) == []


def test_the_device_id_is_made_once(journal_path):
    with open_journal(journal_path, make_id=lambda: "phone-a") as first:
        assert first.device == "phone-a"
    with open_journal(journal_path, make_id=lambda: "phone-z") as second:
        assert second.device == "phone-a"


def test_a_closed_journal_says_so(journal):
    journal.close()
    with pytest.raises(Closed, match="Open it again"):
        journal.append("job-1", start(), at(0), WHO)
    with pytest.raises(Closed):
        journal.entries("job-1")


def test_rebuilding_finds_and_puts_right_a_wrong_balance(journal, journal_path):
    play(journal, "job-1", [start(), bolt_out()])
    assert rebuild_balances(journal) == []
    with journal.transaction() as conn:
        conn.execute("UPDATE balance SET quantity = 7 WHERE place = 'tray'")
        conn.execute("DELETE FROM balance WHERE line = 'rag' AND place = 'stores'")
    assert [f.what for f in prove(journal_path)] == [
        f"{BOLT} at tray: the balance says 7, the movements say 1",
        "rag at stores: the balance says 0, the movements say 3",
    ]
    assert [tuple(d) for d in rebuild_balances(journal)] == [
        ("job-1", BOLT, "tray", 7, 1),
        ("job-1", "rag", "stores", 0, 3),
    ]
    assert rebuild_balances(journal) == []
    assert prove(journal_path) == []
