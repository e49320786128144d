"""The closing account tells the whole job: also what was taken back, overtaken, recalled and settled on the way."""

from __future__ import annotations

import re

import pytest
from hypothesis import settings
from hypothesis.stateful import run_state_machine_as_test
from random_stories_model import Stories
from test_merging_at_random import play
from test_random_stories import EVERYDAY
from two_phones import exchange, state_of, two_phones
from workboat_model import BOLT, FITTER, GASKET, HEAD, INES, NUT, PHOTO, TOMAS, Job, plain

from checklists import builders, second_count
from checklists.account.parts import Account, Marks, Signature, Table
from checklists.account.walk import Walk
from checklists.closing_account import make_account
from checklists.facts import (
    FindLogged,
    FindRemoved,
    HandedOver,
    HandTurned,
    Joined,
    Left,
    Looked,
    Person,
    Secured,
    Seen,
)
from checklists.facts_measured import Searched
from checklists.sheet import Line
from checklists.teardown import fold


def account_of(job: Job) -> Account:
    return make_account("boat-1", job.t.history, {"phone-a": HEAD})


def rows(account: Account, title: str) -> list[tuple]:
    """The rows of every table in the section whose title begins so."""
    (section,) = [section for section in account.sections if section.title.startswith(title)]
    return [row for block in section.blocks if isinstance(block, Table) for row in block.rows]


def titles(account: Account) -> list[str]:
    return [section.title for section in account.sections]


def words(part: object) -> str:
    """Everything in a part of an account, in one text."""
    return part if isinstance(part, str) else " ".join(map(words, part)) if isinstance(part, tuple) else ""


@pytest.fixture
def job() -> Job:
    """The small workboat job, its caution read."""
    return Job()


def finish(job: Job, *closures: str) -> None:
    """Refit these closures and close the teardown."""
    for closure in closures:
        job.refit(closure)
    job.do(HandTurned("two turns, free"))
    job.do(builders.close(job.t, HEAD))


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
    job.do(builders.released(job.t, "It must be towed today.", "Bilge pumped.", HEAD, ((1, 2, 3, 4),)), TOMAS)
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
    assert (signed.name, signed.role, signed.strokes) == (TOMAS, "deckhand", ((1, 2, 3, 4),))
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
    job.do(builders.take_over(job.t, [], "understood", ((1, 1, 2, 2),)), "Nils Aker")
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
    job.do(builders.taken_blind(job.t, [*entries, Seen("wrench", "bench", 2)], "seen", ((1, 1, 2, 2),)), TOMAS)
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
    assert (signed.name, signed.strokes) == (TOMAS, ((1, 1, 2, 2),))


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


# ---- two phones, random stories, long jobs


def test_what_two_phones_contradicted_each_other_in():
    one, other = two_phones()
    for phone in (one, other):
        phone.count(NUT, 1, "fitted/nozzle", "tray")
    exchange(one, other)
    account = make_account("boat-1", one.entries, {"phone-a": HEAD, "phone-b": "1" * 64})
    (quarrel,) = rows(account, "Counts that differed")
    assert "counted by" in quarrel[2]
    assert "on phones that had not met" in quarrel[2]
    assert quarrel[3] == "NOT SETTLED"
    assert state_of(Walk(one.entries).teardown) == state_of(fold(one.entries))
    assert [row[0] for row in rows(account, "Times and proof")] == ["phone-a", "phone-b"]


class Accounted(Stories):
    """A random story, accounted for at its end."""

    def teardown(self) -> None:
        super().teardown()
        if not self.steps:
            return
        walk = Walk(self.t.history)
        assert plain(walk.teardown) == plain(self.t)
        account = make_account("story", self.t.history, {"phone-a": HEAD})
        assert account.state == {"": "DRAFT", "closed": "CLOSED", "released, not clear": "NOT CLEAR"}[self.t.ended]
        if account.state == "CLOSED":
            assert account.tally.away == 0
        for closure in self.t.closures:
            if self.t.closure_states[closure].stage != "fitted":
                assert any(title.startswith(f"{self.t.closures[closure].name}: ") for title in titles(account))
        for line in self.t.lines:
            flow = walk.flow(line)
            assert flow.out >= flow.back >= 0 or self.t.lines[line].home == "stores"


def test_any_work_of_two_phones_can_be_accounted_for():
    for seed in range(12):
        one, _ = play(seed, 60)
        walk = Walk(one.entries)
        assert state_of(walk.teardown) == state_of(fold(one.entries))
        account = make_account("boat-1", one.entries, {"phone-a": HEAD, "phone-b": "1" * 64})
        settled = [row[3] for row in rows(account, "Counts that differed")] if walk.quarrels else []
        open_ = len(walk.teardown.clashes) + len(walk.teardown.discrepancies)
        assert settled.count("NOT SETTLED") == open_


def test_any_story_can_be_accounted_for():
    run_state_machine_as_test(Accounted, settings=settings(EVERYDAY, max_examples=40))


def test_ten_thousand_entries_are_accounted_for(job):
    job.lift("crossover", "manifold")
    while len(job.t.history) < 10_000:
        job.count(GASKET, 1, "fitted/manifold", "tray") if job.t.quantity(GASKET, "fitted/manifold") else None
        job.count("wrench", 1, "stores", "bench")
        job.count("wrench", 1, "bench", "stores")
    account = account_of(job)
    (row,) = [row for row in rows(account, "Tools, rags") if row[0] == "wrench"]
    assert int(row[3]) == int(row[4]) > 4_900


BARE = re.compile(r"(?<![\d:+-])\d\d:\d\d(?::\d\d)?(?!:?\d)(?! [+-]\d\d:\d\d)")


def test_every_time_has_its_zone(job):
    """Also in what was taken back, in a look out of date, and in the searches of an end that is not clear."""
    job.count(NUT, 1, "fitted/nozzle", "tray")
    job.do(builders.undo(job.t.last_entry, "tapped twice"))
    job.lift("nozzle")
    job.do(Looked("nozzle-hole", True, "clean", PHOTO))
    job.count("rag", 1, "stores", "engine/cylinder-1")
    job.do(builders.miss(job.t, "rag", 1, "engine/cylinder-1", "not there any more"))
    job.do(Searched("rag", "cylinder-1", "borescope", False, "nothing seen"))
    job.search_twice()
    draft = account_of(job)
    job.do(builders.released(job.t, "the berth", "", ""))
    for account in (draft, account_of(job)):
        said = " ".join(map(words, account.sections))
        assert BARE.findall(said) == []
    assert "by borescope (Ines" in said


def test_photo_named_by_two_facts_is_numbered_once(job):
    job.lift("nozzle")
    look = job.do(Looked("nozzle-hole", False, "something glints", PHOTO)).fact
    job.do(FindLogged("f", "an old washer", "cylinder-1", look.photo))
    account = account_of(job)
    assert [picture.sha for picture in account.pictures()].count(look.photo) == 1
    (number,) = [n for n, picture in enumerate(account.pictures(), 1) if picture.sha == look.photo]
    assert sum(f"photo {number}" in words(section) for section in account.sections) == 2
