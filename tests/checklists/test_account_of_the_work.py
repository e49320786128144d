"""The closing account tells counts again, every spell an opening stood open, finds, people, times and cautions."""

from __future__ import annotations

import pytest
from account_reading import account_of, finish, rows, words
from workboat_model import BOLT, FITTER, INES, TOMAS, Job

from checklists import builders, second_count
from checklists.account.parts import Signature, Table
from checklists.facts import (
    FindLogged,
    FindRemoved,
    HandedOver,
    Joined,
    Left,
    Person,
    Secured,
    Seen,
)


@pytest.fixture
def job() -> Job:
    """The small workboat job, its caution read."""
    return Job()


# ---- counts again


def test_a_second_count_that_differs_is_told_with_what_settled_it(job):
    job.lift("crossover", "manifold")
    job.look_into("manifold")
    job.second_count("manifold", TOMAS, manifold_bolt=-1)
    job.do(builders.check(BOLT, "tray", 10), INES)
    account = account_of(job)
    told = words(tuple(rows(account, "manifold")))
    assert "1 DIFFER: M8 bolt in the tray: 9 counted, 10 on the tally." in told
    (quarrel,) = rows(account, "Counts that differed")
    assert quarrel[2] == "M8 bolt: 9 counted in the tray, where the tally had 10."
    assert quarrel[3].endswith(f"{INES}: counted again, and it agreed.")


def test_alone_it_is_named_a_re_inspection_and_no_second_count():
    job = Job(FITTER)
    job.lift("crossover", "manifold")
    job.look_into("manifold")
    job.later(10)
    job.second_count("manifold", INES)
    account = account_of(job)
    assert "NOT a second count: re-inspection by the same person, alone, 11 min after the last entry." in words(
        tuple(rows(account, "manifold"))
    )
    assert "One person worked alone" in words(account.sections)


# ---- openings, finds, people


def test_every_spell_an_opening_stood_uncovered(job):
    job.lift("nozzle")
    job.do(builders.cover(job.t, "nozzle-hole", "cap"))
    job.later(30)
    job.do(builders.uncover(job.t, "nozzle-hole"))
    job.later(4)
    job.look("nozzle-hole")
    (row,) = rows(account_of(job), "Openings")
    assert row[0] == "the nozzle hole\nround, 32 mm"
    assert [line[11:16] for line in row[1].split("\n")] == ["08:04", "08:36"]
    assert row[2].split("\n")[1] == "STILL UNCOVERED"
    assert row[3] == "1 min\n5 min\nin all 6 min"
    assert row[4] == "UNCOVERED"


def test_a_find_before_and_after(job):
    job.lift("nozzle")
    job.do(FindLogged("f", "an old washer", "cylinder-1", "a" * 64, "8 mm"))
    open_find = words(account_of(job).sections)
    assert "NOT SETTLED" in open_find
    job.do(FindRemoved("f", "with a magnet", "b" * 64, "bag 1"), TOMAS)
    account = account_of(job)
    told = words(account.sections)
    for said in ("an old washer", "cylinder 1", "8 mm", "with a magnet", "bag 1"):
        assert said in told
    named = [picture.title for picture in account.pictures()]
    assert named[-2:] == ["Find before: an old washer", "Find after: an old washer"]
    assert all(picture.kept for picture in account.pictures())


def test_people_who_came_and_went_and_a_handover(job):
    nils = Person("Nils Aker", "engineer")
    job.do(Joined(nils))
    job.do(Secured("back on Monday"))
    job.do(HandedOver("Nils Aker", "ports next", ()))
    job.do(builders.take_over(job.t, [], "understood", ((100, 100, 200, 200),)), "Nils Aker")
    job.do(Left(TOMAS))
    account = account_of(job)
    people = {row[0]: row[1:4] for row in rows(account, "People")}
    assert people[INES] == ("fitter", "the start", "still here")
    assert people["Nils Aker"][1].startswith("2026-03-02 08:02")
    assert people[TOMAS][2].startswith("2026-03-02 08:06")
    told = [row[2] for row in rows(account, "Handovers")]
    assert told == [
        "Left the machine, every opening covered. back on Monday",
        f"{INES} gives, Nils Aker takes. 0 out, 0 in or over the engine, 0 missing; no reason against closing. "
        "Every opening covered or sealed. ports next (no photo)",
        f"Nils Aker took the job over from {INES} after a relief count: 0 figures, all agree. "
        "0 out, 0 in or over the engine, 0 missing. understood",
    ]


def test_a_handover_is_printed_as_the_job_stood_then(job):
    """Tally and open reasons of that moment, worked out from the record: what was put right later does not hide it."""
    job.lift("nozzle")
    job.do(builders.cover(job.t, "nozzle-hole", "rag"))
    job.count("wrench", 1, "stores", "bench")
    job.do(HandedOver(TOMAS, "the rag stays in", ()))
    entries = [Seen(line, place, 0) for line, place in second_count.relief_list(job.t) if line != "wrench"]
    job.do(builders.taken_blind(job.t, [*entries, Seen("wrench", "bench", 2)], "seen", ((100, 100, 200, 200),)), TOMAS)
    job.count("wrench", 1, "bench", "stores", TOMAS)
    gave, took = [row[2] for row in rows(account_of(job), "Handovers") if len(row) == 3]
    assert f"{INES} gives, {TOMAS} takes. 3 out, 1 in or over the engine, 0 missing; " in gave
    assert "open reasons against closing. Every opening covered or sealed. the rag stays in" in gave
    assert f"{TOMAS} took the job over from {INES} after a relief count: 3 figures, 3 DIFFER." in took
    (section,) = [section for section in account_of(job).sections if section.title.startswith("Handovers")]
    open_then = [table for table in section.blocks if isinstance(table, Table)][1]
    assert ("1 wrench on the bench.",) in open_then.rows
    assert any("nozzle holder is lifted" in words for (words,) in open_then.rows)
    (signed,) = [block for block in section.blocks if isinstance(block, Signature)]
    assert (signed.name, signed.strokes) == (TOMAS, ((100, 100, 200, 200),))


def test_cautions_read_and_unread():
    job = Job(read=False)
    assert rows(account_of(job), "Cautions") == [("Let it cool.", "NOT ACKNOWLEDGED")]


def test_a_clock_that_ran_back_is_told(job):
    job.later(-90)
    job.count("rag", 1, "stores", "bench")
    (phone,) = rows(account_of(job), "Times and proof")
    assert (phone[0], phone[1], phone[4]) == ("phone-a", "3", "1")


def test_the_residual_risk_is_never_a_certificate(job):
    job.lift("nozzle")
    finish(job, "nozzle")
    told = words(account_of(job).sections)
    assert "This is not a certificate" in told
    assert "77.2 % (Egorova et al. 2008)" in told
    assert "62 % were left although a count had been called correct" in told
