"""The closing account tells the whole job: also what was taken back, overtaken, recalled and settled on the way."""

from __future__ import annotations

import pytest
from account_reading import account_of, finish, rows, titles, words
from workboat_model import BOLT, HEAD, INES, NUT, TOMAS, Job

from checklists import builders
from checklists.account.parts import Marks, Signature, Table
from checklists.sheet import Line


@pytest.fixture
def job() -> Job:
    """The small workboat job, its caution read."""
    return Job()


# ---- how it ended


def test_a_closed_job(job):
    job.lift("nozzle")
    finish(job, "nozzle")
    account = account_of(job)
    assert (account.state, account.teardown, account.heads) == ("CLOSED", "boat-1", (("phone-a", HEAD),))
    assert account.state_words.endswith(f"Closed by {INES}.")
    assert account.ended == f"{job.t.end.at[:10]} {job.t.end.at[11:19]} +01:00"
    assert account.tally == Marks(2, 0)
    assert rows(account, "Closures")[0][:5] == ("nozzle holder", "SIGNED", Marks(2, 0), "2", "2")
    assert "Never opened: crossover and manifold." in words(account.sections)


def test_how_the_machine_was_found_is_shown_first(job):
    job.lift("nozzle")
    assert account_of(job).pictures()[0].title == "Before opening: the machine as a whole"


def test_a_job_under_way_is_a_draft_with_everything_that_stands_against_closing(job):
    job.lift("nozzle")
    account = account_of(job)
    assert (account.state, account.ended) == ("DRAFT", "")
    assert account.tally == Marks(2, 2)
    against = words(tuple(rows(account, "Not closed yet")))
    assert "The nozzle holder is lifted." in against
    assert "2 M8 nuts not home" in against


def test_released_not_clear_tells_reason_search_and_name(job):
    job.lift("nozzle")
    job.do(builders.drop(job.t, NUT, 1, "off the holder"))
    job.search_twice()
    job.do(builders.released(job.t, "It must be towed today.", "Bilge pumped.", HEAD, ((100, 200, 300, 400),)), TOMAS)
    account = account_of(job)
    assert account.state == "NOT CLEAR"
    told = words(account.sections[0])
    assert "Why it was released: It must be towed today." in told
    assert f"Search made: M8 nut: searched cylinder 1 by magnet ({INES}, 2026-03-02 " in told
    assert "By a second person as well: cylinder 1. Bilge pumped." in told
    places = next(b for b in account.sections[0].blocks if isinstance(b, Table) and b.heads[0] == "place")
    assert [(row[0], row[3]) for row in places.rows] == [("cylinder 1", "twice, two people")]
    assert f"Released by {TOMAS}, 2026-03-02" in told
    (signed,) = [block for block in account.sections[0].blocks if isinstance(block, Signature)]
    assert (signed.name, signed.role, signed.strokes) == (TOMAS, "deckhand", ((100, 200, 300, 400),))
    assert "STILL MISSING: 1 M8 nut" in words(account.sections)


# ---- counts


def test_what_was_taken_back_is_no_count_but_is_told(job):
    job.count(NUT, 1, "fitted/nozzle", "tray")
    taken = job.t.last_entry
    job.do(builders.undo(taken, "tapped twice"))
    job.lift("nozzle")
    account = account_of(job)
    (row,) = [row for row in rows(account, "nozzle holder") if row[0] == "M8 nut"]
    assert row[1:5] == ("2", Marks(2, 2), "2", "0")
    (undone,) = rows(account, "Counts and ticks taken back")
    assert "1 M8 nut: fitted to the nozzle holder → in the tray" in undone[2]
    assert undone[2].endswith("Why: tapped twice.")


def test_renewed_bolts_went_out_and_came_back_new(job):
    job.lift("crossover", "manifold")
    job.do(builders.renew(BOLT, 3, "tray", "stretched"))
    account = account_of(job)
    (row,) = [row for row in rows(account, "manifold") if row[0] == "M8 bolt"]
    assert row == ("M8 bolt", "10", Marks(10, 10), "10", "0", "10 in the tray and 3 renewed, the old in scrap")
    assert "3 M8 bolts renewed: the old to scrap, as many from the packet. Why: stretched." in words(
        tuple(rows(account, "Torn"))
    )


def test_a_torn_rag_is_accounted_for_on_both_sides(job):
    job.count("rag", 2, "stores", "bench")
    job.do(builders.convert("rag", 1, "bench", [(Line("half", "half rag", "rag", 2, "stores"), 2)], "torn in two"))
    job.count("half", 2, "bench", "stores")
    account = account_of(job)
    lines = {row[0]: row[1:] for row in rows(account, "Tools, rags")}
    assert lines["rag"] == ("4", Marks(2, 1), "2", "0", "2 home, 1 on the bench and 1 turned into something else")
    assert lines["half rag"] == ("2", Marks(2, 0), "2", "2", "all home")
    assert rows(account, "Torn")[0][2] == "1 rag became 2 half rags: torn in two."


def test_a_drop_and_how_it_was_found(job):
    job.lift("nozzle")
    job.do(builders.drop(job.t, NUT, 1, "off the holder"))
    job.do(builders.find_again(job.t, NUT, 1, "in the bilge"), TOMAS)
    dropped, found = rows(account_of(job), "Drops")
    assert dropped[2] == "DROPPED: 1 M8 nut, last in the tray; nobody saw where. Near: off the holder."
    assert found[1:] == (TOMAS, "FOUND: 1 M8 nut, in the bilge; then in the tray.")
    assert "Nothing is missing any more." in words(account_of(job).sections)


# ---- signatures that fell


def test_a_clearance_withdrawn_and_given_anew(job):
    job.lift("crossover", "manifold")
    job.clear("manifold")
    job.count("rag", 1, "stores", "engine/port-1", INES)
    job.count("rag", 1, "engine/port-1", "stores", INES)
    job.clear("manifold")
    fell, anew = rows(account_of(job), "Clearances and sign-offs that fell")
    assert fell[1:3] == (INES, "manifold")
    assert fell[3] == "CLEARANCE WITHDRAWN: a movement in its spaces after it was cleared."
    assert anew[3] == "Cleared to refit anew."
    looks = [row for row in rows(account_of(job), "manifold") if len(row) == 5 and str(row[3]).startswith("Clear")]
    assert sum("Looked into again since." in row[3] for row in looks) == len(looks) / 2


def test_a_sign_off_recalled_and_reissued(job):
    job.count("wrench", 1, "stores", "bench")
    job.lift("nozzle")
    job.refit("nozzle")
    job.do(builders.miss(job.t, "wrench", 1, "bench", "not on the bench"), TOMAS)
    job.do(builders.find_again(job.t, "wrench", 1, "in a pocket"), TOMAS)
    job.lift("nozzle")
    job.refit("nozzle")
    account = account_of(job)
    fell, *_, anew = rows(account, "Clearances and sign-offs that fell")
    assert fell[1:] == (
        TOMAS, "nozzle holder", "SIGN-OFF RECALLED: 1 wrench went missing and could be in its spaces."
    )  # fmt: skip
    assert anew[3] == "Sign-off reissued."
    assert [row[4] for row in rows(account, "Torques")] == ["no longer stands", "stands"]


def test_an_undisturbed_job_has_nothing_that_fell(job):
    job.lift("nozzle")
    finish(job, "nozzle")
    assert not {"Clearances and sign-offs that fell", "Counts and ticks taken back", "Counts that differed"} & set(
        titles(account_of(job))
    )
