"""The window in which something could have gone begins when it was last surely seen, and paper is no sighting."""

from __future__ import annotations

from dataclasses import replace

import pytest
from one_loss import whereabouts_of, words_of
from test_merging import refit, strip
from two_phones import exchange, two_phones
from workboat_model import BOLT, HOLE, PHOTO, SHEET, Job, codes

from checklists import builders
from checklists.broken_parts import account_of, adds_up, piece_reasons, spaces_of_pieces
from checklists.facts import TO_BE_WEIGHED, FindLogged
from checklists.facts_measured import Gauge, PartBroken, PieceWeighed
from checklists.gate import why_not, why_not_close
from checklists.sheet import Line, Opening, Passage, Sheet, Space
from checklists.where_it_could_be import not_in_words, where_words

SCALE = Gauge("letter scale", "0.01 g", "0.02 g")
TWIN = "an identical part weighed"
ROD, HALF = "rod", Line("rod-half", "half of a push rod", "part", 2, "stores")


@pytest.fixture
def shut() -> Job:
    """The nozzle holder was off, and is signed again; the wrench lay on the bench all the while."""
    job = Job()
    job.lift("nozzle")
    job.count("wrench", 1, "stores", "bench")
    job.later(10)
    job.refit("nozzle")
    return job


def could_be(job: Job) -> set[str]:
    (item,) = job.t.missing
    assert {c.space for c in whereabouts_of(job.t, item).candidates} == job.t.could_hold(item)
    return set(job.t.could_hold(item) or ())


def test_a_wrong_key_taken_back_is_no_sighting(shut):
    wrong = shut.count("wrench", 1, "bench", "stores")
    shut.do(builders.undo(wrong, "wrong key"))
    shut.do(builders.miss(shut.t, "wrench", 1, "bench"))
    assert could_be(shut) == {"cylinder-1"}
    assert shut.stage("nozzle") == "recalled"


def test_a_count_that_agrees_is_one(shut):
    shut.do(builders.check("wrench", "bench", 1))
    shut.do(builders.miss(shut.t, "wrench", 1, "bench"))
    assert could_be(shut) == set()
    assert shut.stage("nozzle") == "signed"


def test_what_is_written_down_late_may_have_been_there_all_along(shut):
    shut.do(builders.grow(Sheet("", "", items=(Line("pen", "pen", "personal item", 1, "stores"),))))
    shut.do(builders.drop(shut.t, "pen", 1, "over the nozzle", "stores", earlier=True))
    assert could_be(shut) == {"cylinder-1"}
    assert shut.stage("nozzle") == "recalled"


def test_so_may_one_more_that_is_added(shut):
    shut.count("rag", 4, "stores", "bench")
    shut.do(builders.add("rag", 1, "stores", "there were five"))
    shut.do(builders.miss(shut.t, "rag", 1, "stores"))
    assert could_be(shut) == {"cylinder-1"}


def test_once_it_is_counted_out_it_was_seen(shut):
    shut.do(builders.grow(Sheet("", "", items=(Line("pen", "pen", "personal item", 1, "stores"),))))
    shut.count("pen", 1, "stores", "bench")
    shut.do(builders.miss(shut.t, "pen", 1, "bench"))
    assert could_be(shut) == set()


def test_half_a_rag_was_last_seen_when_the_rag_was():
    job = Job()
    job.lift("nozzle")
    job.count("rag", 1, "stores", "bench")
    job.refit("nozzle")
    halves = [(Line("half-rag", "half rag", "rag", 2, "stores"), 2)]
    job.do(builders.convert("rag", 1, "bench", halves, "found torn in two"))
    job.do(builders.miss(job.t, "half-rag", 1, "bench"))
    assert could_be(job) == {"cylinder-1"}
    assert job.stage("nozzle") == "recalled"


def test_what_lay_in_a_space_could_be_there_whatever_stood_open():
    job = Job()
    job.lift("nozzle")
    job.refit("nozzle")
    job.lift("crossover", "manifold")
    for opening, cover in (("inlet-1", "cap"), ("inlet-2", "cap"), ("outlet", "cap")):
        job.do(builders.cover(job.t, opening, cover))
    job.do(builders.drop(job.t, BOLT, 1, "", "tray", into="port-1", earlier=True))
    assert job.stage("nozzle") == "recalled", "from the port it can go on into the cylinder below the nozzle"
    job.do(builders.miss(job.t, BOLT, 1, "engine/port-1"))
    assert could_be(job) == {"port-1", "cylinder-1"}
    first, second = whereabouts_of(job.t, job.t.missing[0]).candidates
    assert words_of(job.t, first) == "Could be in inlet port 1: it was last known to be there."
    assert words_of(job.t, second) == (
        "Could be in cylinder 1: it was last known to be in inlet port 1; from inlet port 1 to cylinder 1 it falls; "
        "it might pass."
    )
    assert where_words(job.t, job.t.missing[0]) == "It could be in inlet port 1 or cylinder 1."
    assert not_in_words(job.t, job.t.missing[0], "manifold") == ""
    assert "missing" in codes(why_not(job.t, "manifold"))


def test_a_piece_of_a_rag_torn_in_a_port_could_be_in_that_port():
    job = Job()
    job.lift("crossover", "manifold")
    job.do(builders.cover(job.t, "inlet-1", "rag"))
    job.do(builders.cover(job.t, "inlet-2", "cap"))
    job.do(builders.cover(job.t, "outlet", "cap"))
    halves = [(Line("half-rag", "half rag", "rag", 2, "stores"), 2)]
    job.do(builders.convert("rag", 1, "cover/inlet-1", halves, "torn"))
    job.do(builders.miss(job.t, "half-rag", 1, "cover/inlet-1"))
    assert {"port-1", "cylinder-1"} <= could_be(job)


def test_the_wrong_one_found_does_not_shorten_the_window():
    """The wrench fell over the open ports, they were covered, and another wrench was taken for it."""
    job = Job()
    job.lift("crossover", "manifold")
    job.count("wrench", 1, "stores", "bench")
    job.do(builders.drop(job.t, "wrench", 1, "over the ports", "bench"))
    feared = could_be(job)
    for opening, cover in (("inlet-1", "cap"), ("inlet-2", "cap"), ("outlet", "cap")):
        job.do(builders.cover(job.t, opening, cover))
    job.do(builders.find_again(job.t, "wrench", 1, "under the bench"))
    job.do(builders.miss(job.t, "wrench", 1, "bench", "it was another one"))
    assert could_be(job) == feared


def test_what_falls_into_a_closures_space_after_it_was_signed_recalls_it():
    job = Job()
    job.lift("nozzle")
    job.refit("nozzle")
    job.lift("crossover", "manifold")
    job.do(builders.drop(job.t, BOLT, 1, "inlet 1", "tray", into="cylinder-1"))
    assert job.stage("nozzle") == "recalled"
    (inside,) = [reason for reason in why_not(job.t, "nozzle") if reason.code == "in the engine"]
    assert inside.words == "1 M8 bolt in cylinder 1."
    job.count(BOLT, 1, "engine/cylinder-1", "tray")
    assert "in the engine" not in codes(why_not(job.t, "nozzle"))


def test_a_passage_that_comes_to_light_is_one_for_what_is_missing_already():
    passages = tuple(p for p in SHEET.passages if p.target != "cylinder-1")
    job = Job(sheet=replace(SHEET, passages=passages))
    job.lift("nozzle")
    job.refit("nozzle")
    job.lift("crossover", "manifold")
    job.do(builders.drop(job.t, BOLT, 1, "inlet 1"))
    job.do(FindLogged("carbon", "a flake of carbon", "port-1", PHOTO))
    assert job.stage("nozzle") == "signed"
    job.do(builders.grow(Sheet("", "", passages=(Passage("port-1", "cylinder-1", None, "falls"),))))
    assert job.stage("nozzle") == "recalled"


def test_an_opening_that_comes_to_light_stood_open_while_its_closure_was_off():
    job = Job()
    job.lift("crossover", "manifold")
    job.count("wrench", 1, "stores", "bench")
    job.refit("manifold", "crossover")
    job.do(builders.grow(Sheet("", "", spaces=(Space("gallery", "the breather gallery", "Oil."),), openings=(
        Opening("breather", "the breather hole", "gallery", HOLE, "manifold", "Cap."),))))  # fmt: skip
    assert job.t.opening_states["breather"].state == "sealed"
    job.do(builders.miss(job.t, "wrench", 1, "bench"))
    assert "gallery" in could_be(job)


def test_one_that_comes_to_light_while_it_is_off_stood_open_since_the_lift():
    job = Job()
    job.lift("crossover", "manifold")
    lifted = job.t.closure_states["manifold"].since
    job.later(20)
    job.do(builders.grow(Sheet("", "", spaces=(Space("gallery", "the breather gallery", "Oil."),), openings=(
        Opening("breather", "the breather hole", "gallery", HOLE, "manifold", "Cap."),))))  # fmt: skip
    assert (job.t.opening_states["breather"].state, job.t.opening_states["breather"].since) == ("uncovered", lifted)


# ---- broken parts


@pytest.fixture
def rods() -> Job:
    """Eight push rods; one lies on the bench while the nozzle holder is off."""
    job = Job(sheet=replace(SHEET, items=(*SHEET.items, Line(ROD, "push rod", "part", 8, "stores"))))
    job.lift("nozzle")
    job.count(ROD, 1, "stores", "bench")
    return job


def weighs(mass: str, *, another: bool = False) -> PartBroken:
    return PartBroken(ROD, False, TWIN, mass, "0.05 g", "4 mm", SCALE, another=another)


def broke(job: Job) -> None:
    job.do(builders.convert(ROD, 1, "bench", [(HALF, 2)], TO_BE_WEIGHED))


def weigh(job: Job, *pieces: tuple[str, str]) -> None:
    for name, mass in pieces:
        job.do(PieceWeighed(ROD, name, mass, "", SCALE, PHOTO))


def test_that_seven_others_were_counted_is_no_sighting_of_the_one_that_broke(rods):
    rods.refit("nozzle")
    rods.do(builders.check(ROD, "stores", 7))
    broke(rods)
    rods.do(weighs("6.42 g"))
    weigh(rods, ("1", "4.11 g"))
    assert spaces_of_pieces(rods.t, ROD) == {"cylinder-1"}
    assert rods.stage("nozzle") == "recalled"
    assert "pieces do not add up" in codes(piece_reasons(rods.t, "nozzle"))


def test_a_second_one_that_breaks_is_weighed_as_well(rods):
    broke(rods)
    rods.do(weighs("6.42 g"))
    weigh(rods, ("1", "4.11 g"), ("2", "2.30 g"))
    assert adds_up(rods.t, ROD)
    rods.refit("nozzle")
    rods.do(builders.undo(rods.count(ROD, 1, "stores", "bench"), "only looked at"))
    rods.count(ROD, 1, "stores", "bench")
    rods.do(builders.convert(ROD, 1, "bench", [(replace(HALF, id="rod-piece", name="piece of a push rod"), 2)],
                             TO_BE_WEIGHED))  # fmt: skip
    assert "pieces do not add up" in codes(why_not_close(rods.t))
    rods.do(weighs("6.42 g"))
    account = account_of(rods.t, ROD)
    assert account is not None
    assert account.verdict == "short", "two rods, and two pieces of one of them"
    assert "pieces do not add up" in codes(why_not_close(rods.t))
    weigh(rods, ("3", "3.20 g"), ("4", "3.23 g"))
    assert adds_up(rods.t, ROD)


def test_one_more_may_be_said_without_the_tally_and_what_was_said_wrong_anew(rods):
    rods.do(weighs("64.2 g"))
    rods.do(weighs("6.42 g"))
    assert [whole.mass for whole in rods.t.broken[ROD].wholes] == ["6.42 g"]
    rods.do(weighs("6.40 g", another=True))
    assert [whole.mass for whole in rods.t.broken[ROD].wholes] == ["6.42 g", "6.40 g"]
    weigh(rods, ("1", "6.41 g"))
    account = account_of(rods.t, ROD)
    assert account is not None
    assert account.verdict == "short"
    assert "6.4" in account.words[0]


def test_two_that_break_at_once_are_both_due(rods):
    rods.count(ROD, 1, "stores", "bench")
    rods.do(builders.convert(ROD, 2, "bench", [(replace(HALF, quantity=4), 4)], TO_BE_WEIGHED))
    (due,) = [r for r in why_not_close(rods.t) if r.code == "pieces do not add up"]
    assert due.words == "Broken push rod: nobody has said what each of the 2 should weigh."
    rods.do(weighs("6.42 g"))
    (due,) = [r for r in why_not_close(rods.t) if "nobody has said" in r.words]
    assert due.words == "Broken push rod: nobody has said what the whole should weigh."
    rods.do(weighs("6.42 g"))
    assert rods.t.unaccounted == {}
    assert len(rods.t.broken[ROD].wholes) == 2


def test_a_part_that_broke_in_a_port_left_its_pieces_there(rods):
    rods.lift("crossover", "manifold")
    rods.count(ROD, 1, "bench", "engine/port-2")
    for opening, cover in (("inlet-1", "cap"), ("inlet-2", "cap"), ("outlet", "cap")):
        rods.do(builders.cover(rods.t, opening, cover))
    rods.do(builders.check(ROD, "engine/port-2", 1))
    rods.do(builders.convert(ROD, 1, "engine/port-2", [(HALF, 2)], TO_BE_WEIGHED))
    rods.do(weighs("6.42 g"))
    assert {"port-2", "cylinder-2"} <= spaces_of_pieces(rods.t, ROD)


def test_what_another_phone_closed_meanwhile_was_open_to_the_pieces_too():
    """Tomas works over the open nozzle hole, out of reach; Ines closes it; then his wrench turns out broken."""
    a, b = two_phones()
    strip(a, "nozzle")
    exchange(a, b)
    b.count("wrench", 1, "stores", "bench")
    refit(a, "nozzle")
    b.do(PartBroken("wrench", False, TWIN, "64.2 g", "0.5 g", "4 mm", SCALE))
    t = exchange(a, b)
    assert t.closure_states["nozzle"].stage != "signed"
    assert spaces_of_pieces(t, "wrench") == {"cylinder-1"}
