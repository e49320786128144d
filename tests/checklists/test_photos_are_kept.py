"""A photo named in an act is one kept for this teardown, and shows something new: no act borrows another's photo."""

from __future__ import annotations

from dataclasses import replace

import pytest
from kept_photos import photo
from two_phones import exchange, two_phones
from workboat_model import INES, NUT, PHOTO, TOMAS, Job, codes, only

from checklists import builders
from checklists.facts import Fact, FindLogged, FindRemoved, HandedOver, Lifted, Looked
from checklists.facts_measured import Gauge, PartBroken, PieceWeighed, Searched
from checklists.judge import judge
from checklists.refusing import NOT_KEPT, USED
from checklists.teardown import fold

NEVER_TAKEN = "0" * 64
SCALE = Gauge("bench scale", "0.1 g", "0.2 g")


@pytest.fixture
def job() -> Job:
    """The nozzle holder off, one nut missing and known broken, a find logged: every act with a photo could be next."""
    made = Job()
    made.lift("nozzle")
    made.do(FindLogged("flake", "a flake of paint", "cylinder-1", PHOTO))
    made.do(builders.miss(made.t, NUT, 1, "tray"))
    made.do(PartBroken(NUT, False, "an identical part weighed", "12 g", "0.1 g", "2 mm", SCALE))
    return made


def kept(job: Job, seed: str, about: str = "teardown:") -> str:
    """A photo taken and kept; its hash."""
    return job.put(photo(seed, about, "other", job.now)).fact.photo


ACTS: dict[str, Fact] = {
    "a lift check": Lifted("crossover", ""),
    "a look": Looked("nozzle-hole", True, "clean", ""),
    "a find": FindLogged("washer", "an old washer", "", ""),
    "a find taken out": FindRemoved("flake", "with tape", "", "bag 1"),
    "a search": Searched(NUT, "cylinder-1", "mirror", False, "nothing", ""),
    "a piece": PieceWeighed(NUT, "1", "5 g", "", SCALE, ""),
}


def ready_for(job: Job, what: str, named: str) -> Fact:
    """That act with this photo; for a lift, the crossover is loosened first."""
    if what == "a lift check":
        job.count("crossover.bolt", 2, "fitted/crossover", "tray")
    return replace(ACTS[what], photo=named)


@pytest.mark.parametrize("what", ACTS)
def test_a_photo_that_was_never_kept_proves_nothing(job, what):
    reason = only(job.refused_as_it_is(ready_for(job, what, NEVER_TAKEN)), NOT_KEPT)
    assert reason.do_next == "Take it, or choose it again."


@pytest.mark.parametrize("what", ACTS)
def test_a_file_name_is_no_kept_photo(job, what):
    assert codes(job.refused_as_it_is(ready_for(job, what, "photos/somewhere.jpg"))) == [NOT_KEPT]


@pytest.mark.parametrize("what", ACTS)
def test_a_photo_kept_for_this_teardown_may_be_named_once(job, what):
    act = ready_for(job, what, NEVER_TAKEN)
    sha = kept(job, "taken just now")
    job.put(replace(act, photo=sha))
    assert codes(job.refused_as_it_is(Looked("nozzle-hole", True, "clean", sha))) == [USED]


def test_a_search_may_be_without_a_photo(job):
    job.put(ACTS["a search"])


def test_short_at_the_start_names_a_kept_photo_too():
    job = Job()
    assert codes(job.refused_as_it_is(builders.short_at_start(job.t, NUT, 1, NEVER_TAKEN))) == [NOT_KEPT]
    job.put(builders.short_at_start(job.t, NUT, 1, kept(job, "the empty hole")))


def test_yesterdays_look_does_not_show_todays_opening(job):
    """A second look into the same opening, after something came near it, needs a photo of its own."""
    sha = kept(job, "clean and dry", "opening:nozzle-hole")
    job.put(Looked("nozzle-hole", True, "clean and dry", sha))
    job.count("wrench", 1, "stores", "engine/cylinder-1")
    job.count("wrench", 1, "engine/cylinder-1", "stores")
    reason = only(job.refused_as_it_is(Looked("nozzle-hole", True, "still clean", sha)), USED)
    assert "used for an earlier act" in reason.words
    assert codes(job.refused_as_it_is(Lifted("nozzle", sha)))[-1] == USED


def test_a_photo_kept_before_something_moved_there_does_not_show_what_is_there_now(job):
    sha = kept(job, "clean and dry", "opening:nozzle-hole")
    job.count("wrench", 1, "stores", "engine/cylinder-1")
    job.count("wrench", 1, "engine/cylinder-1", "stores")
    reason = only(job.refused_as_it_is(Looked("nozzle-hole", True, "clean", sha)), USED)
    assert reason.words == "The photo of the inside of the nozzle hole was kept before something moved there."
    job.put(Looked("nozzle-hole", True, "clean", kept(job, "clean again", "opening:nozzle-hole")))


def test_a_photo_of_another_opening_is_none_of_this_one(job):
    other = kept(job, "inlet 1", "opening:inlet-1")
    assert only(job.refused_as_it_is(Looked("nozzle-hole", True, "clean", other)), USED).words == (
        "That photo is not of the inside of the nozzle hole: it was kept as one of another."
    )
    job.put(Looked("nozzle-hole", True, "clean", kept(job, "the holder off", "closure:nozzle")))


def test_the_place_after_is_not_shown_by_a_photo_from_before_the_find(job):
    early = kept(job, "the cylinder", "opening:nozzle-hole")
    job.put(FindLogged("washer", "an old washer", "cylinder-1", kept(job, "a washer")))
    reason = only(job.refused_as_it_is(FindRemoved("washer", "magnet", early, "bag 1")), USED)
    assert "kept before the find was logged" in reason.words


def test_the_lift_check_shows_the_closure_with_its_fasteners_off():
    job = Job()
    early = kept(job, "the nozzle holder", "closure:nozzle")
    job.count(NUT, 2, "fitted/nozzle", "tray")
    assert "before something moved" in only(job.refused_as_it_is(Lifted("nozzle", early)), USED).words


def test_what_a_look_has_shown_is_logged_with_the_photo_of_the_look_once(job):
    sha = kept(job, "something glints", "opening:nozzle-hole")
    job.put(Looked("nozzle-hole", False, "something glints", sha))
    find = FindLogged("washer", "an old washer", "cylinder-1", sha)
    job.put(find)
    assert codes(job.refused_as_it_is(replace(find, find="another"))) == [USED]
    assert codes(job.refused_as_it_is(FindRemoved("washer", "by hand", sha, "bag 1"))) == [USED]


def test_a_clear_look_has_shown_no_find(job):
    sha = kept(job, "clean", "opening:nozzle-hole")
    job.put(Looked("nozzle-hole", True, "clean", sha))
    assert codes(job.refused_as_it_is(FindLogged("washer", "an old washer", "cylinder-1", sha))) == [USED]


def test_a_refused_act_does_not_use_its_photo_up(job):
    sha = kept(job, "the inside", "opening:nozzle-hole")
    assert codes(job.refused_as_it_is(Looked("nozzle-hole", True, " ", sha))) == ["not said"]
    job.put(Looked("nozzle-hole", True, "clean", sha))


def test_every_photo_handed_over_is_kept_and_may_have_been_named_before(job):
    job.put(builders.cover(job.t, "nozzle-hole", "cap"))
    seen = next(iter(job.t.photos))
    offer = HandedOver(TOMAS, "the nozzle is off", (seen, NEVER_TAKEN, "a.jpg"))
    assert codes(job.refused_as_it_is(offer)) == [NOT_KEPT, NOT_KEPT]
    job.put(replace(offer, photos=(seen,)))


def test_the_photo_of_another_teardown_is_not_kept_for_this_one(job):
    sha = kept(Job(), "another boat")
    assert codes(job.refused_as_it_is(Looked("nozzle-hole", True, "clean", sha))) == [NOT_KEPT]


def test_what_an_old_journal_has_named_is_taken_as_it_is(job):
    """The fold never refuses: an entry from before the rule, whose photo was a file name, still happened."""
    old = job.t.history[-1]._replace(fact=Looked("nozzle-hole", True, "clean", "photos/inside.jpg"), at=job.now)
    state = fold([*job.t.history, old._replace(seq=old.seq + 1, tick=old.tick + 1)])
    assert state.looks["nozzle-hole"][0].photo == "photos/inside.jpg"


def test_a_photo_named_on_one_phone_is_used_on_the_other_once_they_have_met():
    ours, theirs = two_phones()
    taken = ours.do(photo("somewhere", "teardown:", "other", ours.now)).fact.photo
    find = FindLogged("washer", "an old washer", "", taken)
    assert codes(judge(theirs.t, find, theirs.now, INES)) == [NOT_KEPT]
    ours.do(find)
    exchange(ours, theirs)
    assert codes(theirs.refused(replace(find, find="another"))) == [USED]
