"""Undo is a reversing movement: nothing is edited, nothing is deleted."""

from workboat_model import BOLT, CLIP_BOLT, HEAD, PHOTO, Job, codes

from checklists import builders
from checklists.facts import Lifted, Move, Refitted, Reversed
from checklists.sheet import Line

PIECE = Line("rag-piece", "rag piece", "rag", 2, "stores")


def test_undo_moves_the_items_back_and_both_entries_stay_on_record():
    job = Job()
    out = job.count(BOLT, 1, "fitted/manifold", "tray")
    back = job.do(builders.undo(out, "wrong bolt"))
    assert job.t.places_of(BOLT) == {"fitted/manifold": 10}
    assert job.t.history[-2:] == [out, back]
    assert back.fact.moves == (Move(BOLT, 1, "tray", "fitted/manifold"),)
    assert job.stage("manifold") == "fitted"


def test_a_count_is_taken_back_only_once():
    job = Job()
    out = job.count(BOLT, 1, "fitted/manifold", "tray")
    job.count(BOLT, 1, "fitted/manifold", "tray")
    job.do(builders.undo(out, "wrong bolt"))
    assert codes(job.refused(builders.undo(out, "again"))) == ["undone already"]


def test_an_undo_is_not_undone():
    job = Job()
    out = job.count(BOLT, 1, "fitted/manifold", "tray")
    back = job.do(builders.undo(out, "wrong bolt"))
    assert codes(job.refused(builders.undo(back, "no, it was right"))) == ["not undone so"]


def test_an_undo_moves_exactly_what_the_count_moved():
    job = Job()
    out = job.count(BOLT, 1, "fitted/manifold", "tray")
    other = Reversed(out.device, out.seq, "more", (Move(BOLT, 2, "tray", "fitted/manifold"),))
    assert codes(job.refused(other)) == ["not its movements"]
    nobody = Reversed("phone-z", 1, "whose?", (Move(BOLT, 1, "tray", "fitted/manifold"),))
    assert codes(job.refused(nobody)) == ["not undone so"]


def test_what_is_elsewhere_by_now_cannot_be_taken_back():
    job = Job()
    out = job.count("rag", 1, "stores", "bench")
    job.count("rag", 1, "bench", "scrap")
    assert codes(job.refused(builders.undo(out, "too late"))) == ["moved on"]


def test_a_drop_a_lift_or_a_signature_is_not_undone():
    job = Job()
    out = job.count(CLIP_BOLT, 2, "fitted/crossover", "tray")
    drop = job.do(builders.drop(job.t, CLIP_BOLT, 1, "at the front"))
    lift = job.do(Lifted("crossover", PHOTO))
    for entry in (drop, lift):
        moves = tuple(Move(m.line, m.quantity, m.target, m.source) for m in getattr(entry.fact, "moves", ()))
        assert codes(job.refused(Reversed(entry.device, entry.seq, "no", moves))) == ["not undone so"]
    assert builders.last_undoable(job.t) is None
    assert job.t.history.index(out) >= 0


def test_bolts_counted_home_do_not_come_off_again_into_a_closure_that_is_off():
    job = Job()
    out = job.count("nozzle.nut", 2, "fitted/nozzle", "tray")
    job.do(Lifted("nozzle", PHOTO))
    assert "not looked into" in codes(job.refused(builders.undo(out, "put them back")))


def test_undoing_a_conversion_gives_the_whole_rag_back():
    job = Job()
    job.count("rag", 1, "stores", "bench")
    torn = job.do(builders.convert("rag", 1, "bench", [(PIECE, 2)], "torn in two"))
    job.do(builders.undo(torn, "it was another rag"))
    assert job.t.places_of("rag") == {"stores": 3, "bench": 1}
    assert job.t.places_of("rag-piece") == {}
    assert job.t.total("rag-piece") == 0


def test_a_torn_rag_is_not_whole_again_while_a_piece_is_elsewhere():
    job = Job()
    job.count("rag", 1, "stores", "bench")
    torn = job.do(builders.convert("rag", 1, "bench", [(PIECE, 2)], "torn in two"))
    job.count("rag-piece", 1, "bench", "engine")
    assert job.refused(builders.undo(torn, "no"))


def test_undoing_what_was_added_takes_it_off_the_tally_and_off_what_belongs_there():
    job = Job()
    added = job.do(builders.add(BOLT, 1, "fitted/manifold", "eleven"))
    job.do(builders.undo(added, "miscounted: ten"))
    assert (job.t.total(BOLT), job.t.required[BOLT]) == (10, 10)


def test_undoing_the_last_bolt_home_opens_a_signed_closure_again():
    job = Job()
    job.lift("nozzle")
    job.look("nozzle-hole")
    job.do(builders.clear_to_refit(job.t, "nozzle", HEAD))
    job.do(Refitted("nozzle"))
    last = job.count("nozzle.nut", 2, "tray", "fitted/nozzle")
    job.do(job.signing("nozzle"))
    job.do(builders.undo(last, "not tightened"))
    assert job.stage("nozzle") == "loosened"
    assert job.t.closure_states["nozzle"].signed is None
