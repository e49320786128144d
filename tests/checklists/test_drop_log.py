"""A known drop goes to the drop log at once, and stands there until all of it is found."""

from one_loss import whereabouts_of, words_of
from workboat_model import BOLT, CLIP_BOLT, INES, NUT, PHOTO, TOMAS, Job, codes, only

from checklists import builders
from checklists.facts import Counted, Move
from checklists.state import tally
from checklists.where_it_could_be import not_in_words, seen_to_fall, shut_since_seen


def test_a_drop_opens_an_entry_in_the_drop_log_and_counts_as_missing():
    job = Job()
    job.lift("crossover", "manifold")
    job.do(builders.drop(job.t, BOLT, 1, "by inlet 2"), TOMAS)
    (drop,) = job.t.drops
    assert (drop.line, drop.quantity, drop.near, drop.mark.who, drop.ended) == (BOLT, 1, "by inlet 2", TOMAS, None)
    assert tally(job.t).missing == 1
    reason = only([r for r in job.refused(job.clearing("manifold")) if r.line == BOLT], "missing")
    assert reason.words == "1 M8 bolt dropped, by inlet 2; last in the tray."
    assert (reason.quantity, reason.place, reason.who) == (1, "tray", TOMAS)


def test_the_entry_ends_when_the_item_is_found():
    job = Job()
    job.lift("crossover", "manifold")
    job.do(builders.drop(job.t, BOLT, 1, "by inlet 2"), TOMAS)
    job.do(builders.find_again(job.t, BOLT, 1, "on the bearer"))
    (drop,) = job.t.drops
    assert (drop.where_found, drop.ended.who) == ("on the bearer", INES)
    assert job.t.missing == []
    assert job.t.quantity(BOLT, "tray") == 10


def test_the_entry_of_two_does_not_end_with_one_found():
    job = Job()
    job.lift("crossover", "manifold")
    job.do(builders.drop(job.t, BOLT, 2, "by inlet 2"))
    job.do(builders.find_again(job.t, BOLT, 1, "on the bearer"))
    assert job.t.drops[0].ended is None
    assert [item.quantity for item in job.t.missing] == [1]
    job.do(builders.find_again(job.t, BOLT, 1, "in the bilge"))
    assert job.t.drops[0].where_found == "in the bilge"
    assert job.t.missing == []


def test_a_drop_seen_to_fall_into_a_port_lies_there_and_ends_when_it_is_taken_out():
    job = Job()
    job.lift("crossover", "manifold")
    job.do(builders.drop(job.t, BOLT, 1, "inlet 1", into="port-1"))
    assert job.t.quantity(BOLT, "engine/port-1") == 1
    assert tally(job.t).missing == 0
    job.count(BOLT, 1, "engine/port-1", "tray")
    assert job.t.drops[0].where_found == "in inlet port 1"


def test_a_bolt_may_fall_straight_from_its_hole():
    job = Job()
    job.do(builders.drop(job.t, NUT, 1, "while undoing it"))
    assert job.t.quantity(NUT, "fitted/nozzle") == 1
    assert job.stage("nozzle") == "loosened"


def test_a_dropped_cover_leaves_its_opening_uncovered_with_the_clock_running():
    """A cap that slips from the hand leaves a hole: it can be covered again, looked into, closed."""
    job = Job()
    job.lift("nozzle")
    job.do(builders.cover(job.t, "nozzle-hole", "cap"))
    job.later(30)
    job.do(builders.drop(job.t, "cap", 1, "at cylinder 1", source="cover/nozzle-hole", into="cylinder-1"))
    assert job.t.opening_states["nozzle-hole"].state == "uncovered"
    job.count("cap", 1, "engine/cylinder-1", "stores")
    job.look("nozzle-hole")
    job.do(job.clearing("nozzle"))


def test_a_cover_that_is_not_there_any_more_could_be_in_the_space_it_covered():
    job = Job()
    job.lift("nozzle")
    job.do(builders.cover(job.t, "nozzle-hole", "rag"))
    job.do(builders.check("rag", "cover/nozzle-hole", 1))
    job.later(30)
    job.do(builders.miss(job.t, "rag", 1, "cover/nozzle-hole", "drawn in?"))
    assert job.t.opening_states["nozzle-hole"].state == "uncovered"
    job.look("nozzle-hole")
    reason = only(job.refused(job.clearing("nozzle")), "missing")
    assert (reason.line, reason.place) == ("rag", "cover/nozzle-hole")


def test_a_drop_is_only_feared_where_it_was_open_at_that_moment():
    job = Job()
    job.lift("nozzle", "crossover", "manifold")
    for opening, cover in (("inlet-1", "cap"), ("inlet-2", "cap"), ("nozzle-hole", "cap")):
        job.do(builders.cover(job.t, opening, cover))
    job.do(builders.drop(job.t, CLIP_BOLT, 1, "at the front"))
    (item,) = job.t.missing
    assert job.t.could_hold(item) == {"jacket"}


def test_a_cover_put_in_between_the_fall_and_the_log_rules_nothing_out():
    """It falls, the ports are covered at once as they should be, and only then somebody writes it down."""
    job = Job()
    job.lift("nozzle")
    job.count(BOLT, 1, "fitted/manifold", "tray")
    job.refit("nozzle")
    job.lift("crossover", "manifold")
    job.do(builders.cover(job.t, "inlet-1", "cap"))
    assert shut_since_seen(job.t, BOLT, "tray") == ["inlet-1", "nozzle-hole"]
    job.do(builders.drop(job.t, BOLT, 1, "at the front", earlier=True))
    (item,) = job.t.missing
    assert job.t.could_hold(item) == {"port-1", "port-2", "cylinder-1", "cylinder-2", "jacket"}
    assert job.stage("nozzle") == "recalled", "it was signed with the bolt perhaps below it"
    found = whereabouts_of(job.t, item).candidates
    assert {c.space for c in found} == job.t.could_hold(item)
    assert not seen_to_fall(item)
    assert any("inlet 1 stood uncovered for" in words_of(job.t, each) for each in found)
    assert not_in_words(job.t, item, "nozzle") == ""


def test_what_falls_just_now_leaves_a_closure_signed_before_as_it_is():
    job = Job()
    job.lift("nozzle")
    job.count(BOLT, 1, "fitted/manifold", "tray")
    job.refit("nozzle")
    job.lift("crossover")
    job.do(builders.drop(job.t, BOLT, 1, "at the front"))
    assert job.stage("nozzle") == "signed"
    assert job.t.could_hold(job.t.missing[0]) == {"jacket"}


def test_after_a_search_every_look_is_made_again():
    """Something that went missing while a port stood open, and the search for it, come after the look inside."""
    job = Job()
    job.lift("nozzle")
    job.look("nozzle-hole")
    job.do(builders.drop(job.t, NUT, 1, "at cylinder 1"))
    job.do(builders.find_again(job.t, NUT, 1, "fished out of cylinder 1 with the magnet"))
    assert codes(job.refused(job.clearing("nozzle"))) == ["look out of date"]
    job.look("nozzle-hole")
    job.do(job.clearing("nozzle"))


def test_when_one_of_two_alike_turns_up_the_one_that_could_be_anywhere_is_still_feared():
    """A bolt short from the start may have been inside for years; the one found is more likely the one just dropped."""
    job = Job()
    job.do(builders.short_at_start(job.t, BOLT, 1, PHOTO))
    job.lift("nozzle", "crossover", "manifold")
    job.do(builders.drop(job.t, BOLT, 1, "at inlet 2"))
    job.do(builders.find_again(job.t, BOLT, 1, "on the bearer"))
    (left,) = job.t.missing
    assert left.cause == "short at the start"
    assert job.t.drops[0].ended is not None


def test_when_one_of_two_alike_turns_up_the_one_gone_longer_is_still_feared():
    """One nut may have gone while cylinder 1 stood open, the other went after it was sealed; one is found."""
    job = Job()
    job.count(BOLT, 1, "fitted/manifold", "bench")
    job.count(BOLT, 1, "fitted/manifold", "tray")
    job.lift("nozzle")
    job.refit("nozzle")
    job.lift("crossover")
    job.do(builders.check(BOLT, "tray", 1))
    job.do(builders.miss(job.t, BOLT, 1, "bench"))
    job.do(builders.miss(job.t, BOLT, 1, "tray"))
    assert [sorted(job.t.could_hold(item)) for item in job.t.missing] == [["cylinder-1", "jacket"], ["jacket"]]
    job.do(builders.find_again(job.t, BOLT, 1, "on the bearer"))
    assert [sorted(job.t.could_hold(item)) for item in job.t.missing] == [["cylinder-1", "jacket"]]


def test_what_came_to_a_place_in_several_movements_of_one_count_was_last_seen_then():
    """Two bolts laid in the tray by one count, then one is missing: it could be in whatever stood open since."""
    job = Job()
    job.lift("nozzle")
    job.do(Counted((Move(BOLT, 1, "fitted/manifold", "bench"), Move(BOLT, 1, "fitted/manifold", "bench"))))
    job.look("nozzle-hole")
    job.do(job.clearing("nozzle"))
    job.do(builders.cover(job.t, "nozzle-hole", "cap"))
    job.do(builders.miss(job.t, BOLT, 1, "bench"))
    assert "cylinder-1" in job.t.could_hold(job.t.missing[0])
