"""A search for a missing item is logged place by place, twice before a release; what it finds is counted with it."""

from dataclasses import replace

import pytest
from workboat_model import FITTER, HEAD, INES, NUT, PHOTO, TOMAS, Job, codes

from checklists import builders
from checklists.account.album import Album
from checklists.account.searching import searched_places, searches
from checklists.account.walk import Walk
from checklists.fact_codec import fact_from_plain
from checklists.facts import Entry, FindLogged, Left, Move, Released
from checklists.facts_measured import Searched
from checklists.near_misses import near_miss_words, near_misses
from checklists.searches import (
    NOTHING_MISSING,
    Offer,
    counting_for,
    search_list,
    search_offer,
    search_summary,
)
from checklists.teardown import apply
from checklists.times import seconds_after


@pytest.fixture
def job() -> Job:
    """The nozzle holder is off and a nut is missing: it could be in cylinder 1."""
    job = Job()
    job.lift("nozzle")
    job.do(builders.miss(job.t, NUT, 1, "tray", "one where two should be"))
    return job


def search(where: str, method: str = "magnet", seen: str = "nothing", reached: bool = True) -> Searched:
    return Searched(NUT, where, method, False, seen, reached=reached)


def released(job: Job, more: str = "") -> Released:
    return builders.released(job.t, "The tide will not wait.", more, HEAD)


def test_a_search_says_for_what_where_how_and_what_was_seen(job):
    assert codes(job.refused(Searched("rag", "cylinder-1", "eye", False, "nothing"))) == ["not missing"]
    assert codes(job.refused(search(" ", "guess", ""))) == ["no method", "no place", "not said"]
    job.do(search("cylinder-1"))
    assert job.t.quantity(NUT, "missing") == 1


# ---- found: the search and the movement are one


def test_what_a_search_finds_is_back_on_the_tally_with_the_same_entry(job):
    job.do(builders.search(job.t, NUT, "cylinder-1", "magnet", "there it is", found=1))
    assert (job.t.missing, job.t.quantity(NUT, "tray")) == ([], 2)
    assert search_summary(job.t) == NOTHING_MISSING


def test_neither_is_written_without_the_other(job):
    entries = len(job.t.history)
    move = (Move(NUT, 1, "missing", "tray"),)
    for fact, why in (
        (Searched(NUT, "cylinder-1", "magnet", True, "there it is"), "nothing moved"),
        (Searched(NUT, "cylinder-1", "magnet", False, "nothing", moves=move), "not found"),
        (Searched(NUT, "cylinder-1", "magnet", True, "there", moves=move, reached=False), "not reached"),
        (Searched(NUT, "cylinder-1", "guess", True, "there", moves=move), "no method"),
        (builders.search(job.t, NUT, "cylinder-1", "magnet", "both", found=2), "surplus"),
        (builders.search(job.t, NUT, "cylinder-1", "magnet", "there", found=1, to="fitted/nozzle"), "tray first"),
        (Searched(NUT, "bench", "eye", True, "a rag", moves=(Move("rag", 1, "missing", "bench"),)), "another line"),
    ):
        assert why in codes(job.refused(fact))
    assert (len(job.t.history), job.t.quantity(NUT, "missing"), job.t.searches) == (entries, 1, [])


def test_a_search_of_an_older_version_that_found_it_moves_nothing_and_can_still_be_read(job):
    old = {"line": NUT, "where": "cylinder-1", "method": "magnet", "found": True, "seen": "there", "photo": ""}
    fact = fact_from_plain("searched", old)
    apply(job.t, Entry(fact, job.now, INES, "phone", 99, 99))
    assert job.t.quantity(NUT, "missing") == 1
    job.do(builders.find_again(job.t, NUT, 1, "in cylinder 1, on the magnet"))
    assert job.t.missing == []


def test_a_drop_that_a_search_found_is_over_in_the_drop_log():
    job = Job()
    job.lift("nozzle")
    job.do(builders.drop(job.t, NUT, 1, "it rang on the way down"))
    job.later(9)
    job.do(builders.search(job.t, NUT, "cylinder-1", "magnet", "on the piston", found=1), TOMAS)
    (drop,) = job.t.drops
    assert (drop.ended.who, drop.where_found) == (TOMAS, "cylinder 1")
    (row,) = near_misses([("a", job.t)])
    assert (row.found_where, row.found_by, row.seconds) == ("cylinder 1", TOMAS, 600.0)
    told = [words for _, words, _ in searches(Walk(job.t.history), Album(job.t))]
    assert told == ["Searched cylinder 1 for the M8 nut, magnet: FOUND, 1 M8 nut, then in the tray; on the piston."]


# ---- the second pass


def test_each_place_shows_its_passes_and_whether_a_second_person_searched_it(job):
    job.do(search("cylinder-1"))
    job.do(search("cylinder-1", "borescope"))
    assert search_list(job.t, NUT)[0].second is None
    job.do(search("cylinder-1", "borescope"), TOMAS)
    job.do(search("the bilge under the engine", "eye"), TOMAS)
    inside, bilge = search_list(job.t, NUT)
    assert (inside.where, len(inside.passes), inside.second.mark.who) == ("cylinder-1", 3, TOMAS)
    assert (bilge.candidate, bilge.name, bilge.second) == (None, "the bilge under the engine", None)


def test_a_search_from_before_it_went_missing_is_not_one_for_it(job):
    job.do(search("cylinder-1"))
    job.do(builders.find_again(job.t, NUT, 1, "in the cuff"))
    job.do(builders.miss(job.t, NUT, 1, "tray"))
    assert "no search is on record" in search_summary(job.t)


def test_it_is_released_only_once_every_place_was_searched_twice(job):
    job.lift("crossover")  # opened only afterwards: it could be in there all the same
    assert codes(job.refused(released(job))) == ["not searched"]
    job.do(search("cylinder-1"))
    never, once = job.refused(released(job))
    assert (never.code, never.words) == (
        "not searched", "M8 nut: could be in the coolant jacket, and nobody searched there.",
    )  # fmt: skip
    assert (once.code, once.words) == ("second search due", "M8 nut: searched only once: cylinder 1.")
    assert once.do_next.startswith("Let another person search each place again")
    job.do(search("jacket", "mirror", "a bend in the way", reached=False))
    job.do(search("cylinder-1", "mirror", "nothing either"), TOMAS)
    job.later(60)
    job.do(search("jacket", "borescope", "the same bend", reached=False))
    assert codes(job.refused(released(job))) == ["second search due"], "the same person again is no second one"
    job.do(search("jacket", "borescope", "the same bend", reached=False), TOMAS)
    job.do(released(job))
    assert job.t.ended == "released, not clear"


def test_released_not_clear_tells_the_searches_and_what_nobody_could_look_into(job):
    job.lift("crossover")
    for who in (INES, TOMAS):
        job.do(search("cylinder-1"), who)
        job.do(search("jacket", "mirror", "a bend in the way", reached=False), who)
    fact = released(job, "The bilge was pumped dry.")
    at = [f"2026-03-02 {made.mark.at[11:16]} +01:00" for made in job.t.searches]
    assert fact.search == (
        f"M8 nut: searched cylinder 1 by magnet ({INES}, {at[0]}: nothing), by magnet ({TOMAS}, {at[2]}: nothing); "
        f"the coolant jacket by mirror, could not be looked into ({INES}, {at[1]}: a bend in the way), "
        f"by mirror, could not be looked into ({TOMAS}, {at[3]}: a bend in the way). "
        "By a second person as well: cylinder 1. Tried twice, looked into by nobody: the coolant jacket. "
        "The bilge was pumped dry."
    )
    assert codes(job.refused(replace(fact, search=" "))) == ["no search"]
    for other in ("Looked everywhere.", fact.search[1:]):
        assert codes(job.refused(replace(fact, search=other))) == ["not its search"]
    job.do(fact)
    assert job.t.ended == "released, not clear"
    _, table = searched_places(Walk(job.t.history))
    (inside, first, second, stands), (jacket, *_, unseen) = table.rows
    assert (inside, stands, jacket, unseen) == (
        "cylinder 1", "twice, two people", "the coolant jacket", "TRIED TWICE, LOOKED INTO BY NOBODY",
    )  # fmt: skip
    assert (f"{INES}: magnet: nothing." in first, f"{TOMAS}: magnet: nothing." in second) == (True, True)


def test_alone_the_same_person_searches_again_after_a_pause_and_that_is_named():
    job = Job(FITTER)
    job.lift("nozzle")
    job.do(builders.miss(job.t, NUT, 1, "tray"))
    job.do(search("cylinder-1"))
    first = job.t.searches[0].mark.at
    (due,) = job.refused(released(job))
    until = seconds_after(first, 600)[11:16]
    assert due.do_next.startswith(f"Alone: pause until {until}, then search each place again")
    job.do(search("cylinder-1", "mirror"))
    assert codes(job.refused(released(job))) == ["second search due"], "a minute later is too soon"
    job.later(10)
    job.do(search("cylinder-1", "mirror"))
    assert "Again by the same person, alone, after a pause: cylinder 1." in search_summary(job.t)
    job.do(released(job))
    (_, first, second, stands) = searched_places(Walk(job.t.history))[1].rows[0]
    assert stands == "twice, the same person"
    assert "Alone on the job." in second


def test_a_try_that_could_not_look_in_is_no_search_where_another_could(job):
    job.do(search("cylinder-1"))
    job.do(search("cylinder-1", "borescope", "it would not go in", reached=False), TOMAS)
    (due,) = job.refused(released(job))
    assert (due.code, due.words) == ("second search due", "M8 nut: searched only once: cylinder 1.")
    assert search_list(job.t, NUT)[0].second is None
    assert "By a second person" not in search_summary(job.t)
    assert search_offer(job.t, counting_for(job.t, NUT), ["cylinder-1"], TOMAS, job.now) == Offer("cylinder-1", True)
    job.do(search("cylinder-1", "mirror"), TOMAS)
    assert "By a second person as well: cylinder 1." in search_summary(job.t)
    job.do(released(job))


def test_once_somebody_can_look_in_the_tries_before_count_no_more(job):
    for who in (INES, TOMAS):
        job.do(search("cylinder-1", "mirror", "a bend in the way", reached=False), who)
    job.do(search("cylinder-1", "borescope"), TOMAS)
    (due,) = job.refused(released(job))
    assert due.words == "M8 nut: searched only once: cylinder 1."


def test_a_place_tried_once_and_looked_into_by_nobody_is_named_as_that(job):
    job.do(search("cylinder-1", "mirror", "a bend in the way", reached=False))
    (due,) = job.refused(released(job))
    assert due.words == "M8 nut: tried only once, and looked into by nobody: cylinder 1."
    assert "Tried, looked into by nobody: cylinder 1." in search_summary(job.t)
    assert searched_places(Walk(job.t.history))[1].rows[0][-1] == "LOOKED INTO BY NOBODY"


def test_what_can_be_in_no_space_is_searched_for_twice_round_about_as_well():
    job = Job()
    job.do(builders.miss(job.t, "wrench", 1, "stores"))
    (never,) = job.refused(released(job))
    assert never.code == "not searched"
    job.do(replace(search("round about the engine", "eye"), line="wrench"))
    job.do(replace(search("the bilge", "eye"), line="wrench"))
    (due,) = job.refused(released(job))
    assert (due.code, due.words) == (
        "second search due",
        "Wrench: it cannot have gone into any space of the sheet, and round about was searched only once.",
    )  # fmt: skip
    assert due.do_next.startswith("Let another person search each place again")
    job.do(replace(search("the bilge", "eye", "too dark", reached=False), line="wrench"), TOMAS)
    assert codes(job.refused(released(job))) == ["second search due"]
    job.do(replace(search("round about", "mirror"), line="wrench"), TOMAS)
    job.do(released(job))
    assert job.t.ended == "released, not clear"


def test_alone_round_about_is_searched_again_after_the_pause():
    job = Job(FITTER)
    job.do(builders.miss(job.t, "wrench", 1, "stores"))
    job.do(replace(search("round about", "eye"), line="wrench"))
    (due,) = job.refused(released(job))
    assert due.do_next.startswith("Alone: pause until ")
    job.later(10)
    job.do(replace(search("round about", "mirror"), line="wrench"))
    job.do(released(job))


def test_who_stays_behind_alone_cannot_make_both_searches_at_once(job):
    job.do(search("cylinder-1"))
    job.do(Left(TOMAS))
    job.do(search("cylinder-1"))
    assert codes(job.refused(released(job))) == ["second search due"]


def test_every_missing_item_is_searched_for_by_itself(job):
    job.do(builders.miss(job.t, "wrench", 1, "stores"))
    for who in (INES, TOMAS):
        job.do(search("cylinder-1"), who)
    (due,) = job.refused(released(job))
    assert (due.code, due.line) == ("not searched", "wrench")


def test_with_nothing_missing_it_is_said_that_nothing_was_searched_for():
    job = Job()
    fact = released(job)
    assert fact.search == NOTHING_MISSING
    job.do(fact)


# ---- what is offered next


def test_what_is_searched_next_is_first_what_nobody_searched_then_what_another_person_did(job):
    job.lift("crossover")

    def offered(who: str) -> Offer:
        spaces = [place.where for place in search_list(job.t, NUT) if place.candidate]
        return search_offer(job.t, counting_for(job.t, NUT), spaces, who, job.now)

    assert offered(INES) == Offer("cylinder-1")
    job.do(search("cylinder-1"))
    assert offered(INES) == offered(TOMAS) == Offer("jacket")
    job.do(search("jacket"))
    assert offered(INES) == Offer("", True, "", (TOMAS,))
    assert offered(TOMAS) == Offer("cylinder-1", True)
    job.do(Left(TOMAS))
    assert offered(INES) == Offer("", True, seconds_after(job.t.searches[0].mark.at, 600))
    job.later(20)
    assert offered(INES) == Offer("cylinder-1", True)
    job.do(search("cylinder-1"))
    job.do(search("jacket"))
    assert offered(INES) == Offer()


# ---- near misses across teardowns


def test_near_misses_of_several_teardowns_with_where_and_how_long(job):
    job.later(9)
    job.do(builders.find_again(job.t, NUT, 1, "in the cuff of a sleeve"), TOMAS)
    other = Job()
    other.later(60)
    other.lift("nozzle")
    other.do(builders.drop(other.t, NUT, 1, "it rang on the way down", into="cylinder-1"))
    other.do(builders.drop(other.t, "wrench", 1, "into the bilge"))
    other.count(NUT, 1, "engine/cylinder-1", "tray")
    rows = near_misses([("tern", job.t), ("petrel", other.t)])
    assert [(r.teardown, r.name, r.how, r.space, r.seconds) for r in rows] == [
        ("petrel", "wrench", "dropped", "", None),
        ("petrel", "M8 nut", "dropped", "cylinder 1", 120.0),
        ("tern", "M8 nut", "missing", "", 600.0),
    ]
    assert (rows[2].near, rows[2].found_where, rows[2].found_by) == (
        "one where two should be", "in the cuff of a sleeve", TOMAS,
    )  # fmt: skip
    assert near_miss_words(rows) == (
        "3 items dropped or missed on 2 teardowns; 1 not found.",
        "Half of those found took up to 6 min, the longest 10 min.",
        "Most often: M8 nut, 2 times.",
    )
    assert near_miss_words([]) == ("Nothing was dropped or missed so far.",)


def test_a_loss_known_again_in_a_find_says_so(job):
    job.do(FindLogged("f-1", "something bright", "", PHOTO))
    job.later(9)
    job.do(builders.match_find(job.t, "f-1", NUT))
    (row,) = near_misses([("a", job.t)])
    assert (row.found_where, row.seconds) == ("known again in the find “something bright”", 660.0)


def test_a_count_out_of_the_engine_that_was_taken_back_found_nothing():
    job = Job()
    job.lift("nozzle")
    job.do(builders.drop(job.t, NUT, 1, "it rang on the way down", into="cylinder-1"))
    entry = job.count(NUT, 1, "engine/cylinder-1", "tray")
    job.do(builders.undo(entry, "the wrong nut"))
    (row,) = near_misses([("a", job.t)])
    assert (row.space, row.seconds) == ("cylinder 1", None)


def test_of_two_lost_and_one_found_one_is_still_gone():
    job = Job()
    job.do(builders.miss(job.t, "rag", 2, "stores"))
    job.do(builders.find_again(job.t, "rag", 1, "in the locker"))
    assert [(r.quantity, r.seconds is None) for r in near_misses([("a", job.t)])] == [(1, False), (1, True)]


def test_short_at_the_start_is_one_as_well():
    job = Job()
    job.do(builders.short_at_start(job.t, NUT, 1, PHOTO))
    (row,) = near_misses([("a", job.t)])
    assert (row.how, row.last_place) == ("short at the start", "fitted to the nozzle holder")
