"""A broken part's pieces must add up before anything closes over where they could be."""

from dataclasses import replace

import pytest
from account_reading import account_of as closing_account
from workboat_model import BOLT, GASKET, HEAD, INES, PHOTO, TOMAS, Job, codes, only

from checklists import builders
from checklists.broken_parts import (
    DIMENSIONS,
    LENGTH_WITHIN,
    TWIN,
    account_by,
    account_of,
    account_words,
    adds_up,
    ball_at_openings,
    length_account_of,
)
from checklists.facts import TO_BE_WEIGHED, HandTurned, Refitted, WorkDone
from checklists.facts_measured import Gauge, PartBroken, PieceWeighed
from checklists.gate import why_not, why_not_close
from checklists.next_act import next_act
from checklists.sheet import Line

FINEST = Gauge("bench scale", "0.001 g")
LETTER, KITCHEN = Gauge("letter scale", "0.01 g", "0.02 g"), Gauge("kitchen scale", "1 g")
PLIERS = "wrench"


def broken(gauge: Gauge = LETTER, **other: object) -> PartBroken:
    """The wrench's jaw is off: whole it weighs 6.42 g (a very small wrench), and a 4 mm piece does harm."""
    fact = PartBroken(PLIERS, False, TWIN, "6.42 g", "0.05 g", "4 mm", gauge)
    return replace(fact, **other)


def piece(name: str, mass: str, gauge: Gauge = LETTER) -> PieceWeighed:
    return PieceWeighed(PLIERS, name, mass, "", gauge, PHOTO)


@pytest.fixture
def job() -> Job:
    """The nozzle holder is off, and the wrench broke over the open cylinder; its two pieces are put away."""
    job = Job()
    job.count("wrench", 1, "stores", "bench")
    job.lift("nozzle")
    halves = [(Line("wrench-piece", "wrench piece", "part", 2, "stores"), 2)]
    job.do(builders.convert(PLIERS, 1, "bench", halves, "broken"))
    job.count("wrench-piece", 2, "bench", "scrap")
    job.do(broken())
    return job


def test_before_a_piece_is_weighed_nothing_closes_over_where_one_could_be(job):
    reason = only(why_not(job.t, "nozzle"), "pieces do not add up")
    assert reason.words == "Broken wrench, 0 pieces: no piece of it is weighed yet."
    assert next_act(job.t, job.now).do == "pieces"
    assert account_of(job.t, PLIERS) is None


def test_pieces_that_add_up_stand_in_nobodys_way(job):
    job.do(piece("handle", "4.11 g"))
    assert "as big as a steel ball" in only(why_not(job.t, "nozzle"), "pieces do not add up").words
    job.do(piece("jaw", "2.30 g"))
    assert account_of(job.t, PLIERS).verdict == "adds up"
    assert "pieces do not add up" not in codes(why_not(job.t, "nozzle"))
    job.refit("nozzle")


def test_what_is_missing_has_a_size_and_it_is_said_whether_it_passes_each_opening(job):
    job.do(piece("handle", "4.11 g"))
    account = account_of(job.t, PLIERS)
    assert (account.verdict, round(account.short, 2)) == ("short", 2.31)
    assert 8.2 < account.ball < 8.3  # 2.31 g of steel, 7.85 kg/dm3: (6 m / pi rho) ^ 1/3
    assert ball_at_openings(job.t, PLIERS) == (("nozzle-hole", "passes"),)
    assert account_words(job.t, PLIERS)[-1] == "A ball of 8.3 mm could pass the nozzle hole."


def test_more_than_the_whole_is_told_too(job):
    job.do(piece("handle", "4.11 g"))
    job.do(piece("jaw", "2.30 g"))
    job.do(piece("a third", "1.00 g"))
    assert "more than the part" in only(why_not(job.t, "nozzle"), "pieces do not add up").words


def test_a_scale_too_coarse_asks_for_a_look_made_after_the_weighing(job):
    job.do(broken(KITCHEN))
    job.do(piece("handle", "4 g", KITCHEN))
    job.look("nozzle-hole")
    job.do(piece("jaw", "2 g", KITCHEN))
    assert account_of(job.t, PLIERS).verdict == "cannot tell"
    reason = only(why_not(job.t, "nozzle"), "pieces not looked for")
    assert reason.opening == "nozzle-hole"
    assert "Nobody has looked for one in the nozzle hole since they were weighed." in reason.words
    assert (next_act(job.t, job.now).do, next_act(job.t, job.now).opening) != ("clear", "")
    job.look("nozzle-hole")
    assert "pieces not looked for" not in codes(why_not(job.t, "nozzle"))


def test_weighed_again_on_a_finer_scale_needs_no_look(job):
    job.do(broken(KITCHEN))
    for name, mass in (("handle", "4 g"), ("jaw", "2 g")):
        job.do(piece(name, mass, KITCHEN))
    job.look("nozzle-hole")
    job.do(broken())
    job.do(piece("handle", "4.11 g"))
    job.do(piece("jaw", "2.30 g"))
    assert account_of(job.t, PLIERS).verdict == "adds up"
    assert len(job.t.broken[PLIERS].pieces) == 2


def test_the_dimensions_serve_where_there_is_no_twin(job):
    job.do(broken(Gauge("", ""), basis=DIMENSIONS, mass="6.45 g", likeness="0.1 g"))
    job.do(piece("handle", "4.11 g"))
    job.do(piece("jaw", "2.30 g"))
    assert account_of(job.t, PLIERS).verdict == "adds up"
    assert account_of(job.t, PLIERS).expanded > 0.1


def test_the_last_place_of_a_mass_from_dimensions_counts_as_that_of_one_weighed(job):
    """6 g may be 5.5 g to 6.5 g, whatever it was worked out from: a ball of nearly 5 mm could hide in that."""
    fact = broken(Gauge("", ""), basis=DIMENSIONS, mass="6 g", likeness="0.001 g", smallest="2 mm")
    account = account_by(fact, [piece("all of it", "6.000 g", FINEST)])
    assert account.verdict == "cannot tell"
    assert account.expanded == pytest.approx(2 * 1 / 12**0.5, rel=0.01)
    assert account_by(replace(fact, mass="6.000 g"), [piece("all of it", "6.000 g", FINEST)]).verdict == "adds up"


def test_a_mass_from_dimensions_is_never_exact(job):
    (reason,) = job.refused(broken(Gauge("", ""), basis=DIMENSIONS, mass="6.45 g", likeness="0 g"))
    assert reason.words == "A mass worked out from dimensions is never exact: say how far it can be off, such as 0.2 g."
    job.do(broken(basis=TWIN, likeness="0 g"))  # two weighed on one scale: the scale's error stands by itself


def test_the_smallest_piece_that_does_harm_has_a_size(job):
    for nothing in ("0 mm", "-2 mm"):
        (reason,) = job.refused(broken(smallest=nothing))
        assert reason.words == "The smallest piece that does harm is more than 0 mm; say it, such as 2 mm."


def test_a_closure_signed_over_where_a_piece_could_be_is_recalled():
    job = Job()
    job.count("wrench", 1, "stores", "bench")
    job.lift("nozzle", "crossover")
    job.refit("nozzle")
    job.do(broken())
    assert (job.stage("nozzle"), job.stage("crossover")) == ("recalled", "lifted")
    assert job.t.closure_states["nozzle"].remark == (
        "Sign-off recalled: the wrench broke, and a piece could be in its spaces."
    )
    job.do(piece("handle", "4.11 g"))
    assert "pieces do not add up" in codes(job.refused(job.signing("nozzle")))
    job.do(piece("jaw", "2.30 g"))
    job.do(job.signing("nozzle"))


def test_one_that_was_broken_before_may_have_shed_pieces_anywhere():
    job = Job()
    job.lift("nozzle")
    job.refit("nozzle")
    job.lift("crossover", "manifold")
    job.do(broken(before=True, line=GASKET))
    assert job.stage("nozzle") == "recalled"
    assert "pieces do not add up" in codes(why_not(job.t, "crossover"))


def test_what_broke_with_everything_closed_keeps_only_the_teardown_from_closing():
    job = Job()
    job.lift("nozzle")
    job.refit("nozzle")
    job.count("wrench", 1, "stores", "bench")
    job.do(broken())
    assert job.stage("nozzle") == "signed"
    job.count("wrench", 1, "bench", "scrap")
    job.do(HandTurned("free"))
    assert codes(why_not_close(job.t)) == ["pieces do not add up"]
    job.do(piece("all of it", "6.40 g"))
    job.do(builders.close(job.t, HEAD))


def test_a_ball_of_another_material_is_as_big_as_that_material_makes_it(job):
    job.do(broken(Gauge("", ""), basis=DIMENSIONS, mass="6.42 g", density="2.70 g/cm3", worked_out="box"))
    job.do(piece("handle", "4.11 g"))
    account = account_of(job.t, PLIERS)
    assert account.ball == pytest.approx((6 * 2.31 / (3.14159 * 0.0027)) ** (1 / 3), abs=0.001)
    assert "ball of its material" in account.words[0]
    assert codes(job.refused(broken(density="0 g/cm3"))) == ["figure"]
    assert codes(job.refused(broken(density="2.7"))) == ["figure"]


# ---- broken on the tally, and not accounted for yet


@pytest.fixture
def open_job() -> Job:
    """The nozzle holder is off, the wrench is on the bench, and it breaks in two."""
    job = Job()
    job.count("wrench", 1, "stores", "bench")
    job.lift("nozzle")
    halves = [(Line("wrench-piece", "wrench piece", "part", 2, "stores"), 2)]
    job.do(builders.convert(PLIERS, 1, "bench", halves, TO_BE_WEIGHED))
    return job


def test_a_part_that_broke_stands_against_closing_until_it_is_said_what_the_whole_weighs(open_job):
    reason = only(why_not(open_job.t, "nozzle"), "pieces do not add up")
    assert reason.words == "Broken wrench: nobody has said what the whole should weigh."
    assert (next_act(open_job.t, open_job.now).do, next_act(open_job.t, open_job.now).line) == ("pieces", PLIERS)
    assert "pieces do not add up" in codes(why_not_close(open_job.t))
    open_job.do(broken())
    assert only(why_not(open_job.t, "nozzle"), "pieces do not add up").words.endswith("no piece of it is weighed yet.")


def test_a_break_taken_back_leaves_nothing_to_account_for(open_job):
    open_job.do(builders.undo(builders.last_undoable(open_job.t), "only bent"))
    assert open_job.t.unaccounted == {}
    assert "pieces do not add up" not in codes(why_not(open_job.t, "nozzle"))


def test_a_second_one_of_the_line_that_breaks_asks_for_the_account_again():
    job = Job()
    job.lift("crossover", "manifold")
    for n in (1, 2):
        halves = [(Line("bolt-piece", "bolt piece", "part", 2, "stores"), 2)]
        job.do(builders.convert(BOLT, 1, "tray", halves, TO_BE_WEIGHED))
        assert list(job.t.unaccounted) == [BOLT]
        job.do(broken(line=BOLT, mass=f"{n * 18} g"))
        assert job.t.unaccounted == {}
    assert account_of(job.t, BOLT) is None


def test_what_broke_and_is_not_accounted_for_is_loud_on_the_closing_sheet(open_job):
    (section,) = [s for s in closing_account(open_job).sections if s.title.startswith("Broken parts")]
    (words,) = section.blocks
    assert (words.loud, words.text) == (True, "Broken wrench: nobody has said what the whole should weigh.")


# ---- by length


def long(fact: PartBroken | PieceWeighed, length: str, within: str = "0.2 mm") -> PartBroken | PieceWeighed:
    return replace(fact, length=length, length_within=within)


@pytest.fixture
def measured(job: Job) -> Job:
    """By mass the wrench's two pieces add up; it is 120 mm long, and so are they."""
    job.do(long(broken(), "120.0 mm"))
    job.do(long(piece("handle", "4.11 g"), "80.0 mm"))
    job.do(long(piece("jaw", "2.30 g"), "39.8 mm"))
    return job


def test_lengths_that_add_up_are_said_beside_the_mass_and_clear_nothing(measured):
    length = length_account_of(measured.t, PLIERS)
    # U = 2 sqrt(3 (0.2 / sqrt 3)^2) = 0.4 mm: three lengths, each within 0.2 mm either way (GUM 4.3.7)
    assert (length.verdict, round(length.expanded, 6)) == ("adds up", 0.4)
    assert account_words(measured.t, PLIERS)[-1] == (
        "The lengths add up within 0.4 mm (k = 2); splinters do not show in a length."
    )
    assert adds_up(measured.t, PLIERS)
    measured.do(long(piece("handle", "3.00 g"), "80.0 mm"))
    assert "Short by" in only(why_not(measured.t, "nozzle"), "pieces do not add up").words
    assert not adds_up(measured.t, PLIERS)


def test_a_length_that_is_short_stands_against_closing_though_the_mass_agrees(measured):
    measured.do(long(piece("jaw", "2.30 g"), "35.0 mm"))
    assert account_of(measured.t, PLIERS).verdict == "adds up"
    reason = only(why_not(measured.t, "nozzle"), "pieces do not add up")
    assert reason.words == (
        "Broken wrench, 2 pieces: Laid end to end the pieces are short by 5.00 ± 0.40 mm (k = 2)."
    )
    assert reason.do_next == "A piece is missing by its length: look for it, or measure the pieces again."
    assert (next_act(measured.t, measured.now).do, next_act(measured.t, measured.now).line) == ("pieces", PLIERS)
    assert not adds_up(measured.t, PLIERS)
    measured.do(long(piece("jaw", "2.30 g"), "39.9 mm"))
    assert "pieces do not add up" not in codes(why_not(measured.t, "nozzle"))


def test_short_in_mass_and_in_length_is_one_reason_with_both_figures(measured):
    measured.do(long(piece("jaw", "1.00 g"), "20.0 mm"))
    words = only(why_not(measured.t, "nozzle"), "pieces do not add up").words
    assert "Short by 1.31" in words
    assert words.endswith("Laid end to end the pieces are short by 20.00 ± 0.40 mm (k = 2).")


def test_longer_than_the_whole_is_told_and_stands_in_nobodys_way(measured):
    measured.do(long(piece("jaw", "2.30 g"), "44 mm"))
    assert "bent open, or not all of it ours" in account_words(measured.t, PLIERS)[-1]
    assert "pieces do not add up" not in codes(why_not(measured.t, "nozzle"))


def test_a_length_left_out_or_not_to_be_read_gives_no_answer_by_length(measured):
    for other in (piece("jaw", "2.30 g"), long(piece("jaw", "2.30 g"), "short"), long(piece("jaw", "2.30 g"), "0 mm")):
        pieces = measured.t.broken[PLIERS].pieces
        pieces["jaw"] = (other, pieces["jaw"][1])  # as an old journal could hold it
        assert length_account_of(measured.t, PLIERS) is None
    assert adds_up(measured.t, PLIERS)
    measured.do(broken())
    assert length_account_of(measured.t, PLIERS) is None


def test_a_length_without_its_uncertainty_is_taken_as_good_to_a_millimetre(job):
    job.do(long(broken(), "120 mm", ""))
    job.do(long(piece("all of it", "6.41 g"), "118.5 mm", ""))
    assert LENGTH_WITHIN == "1 mm"
    # U = 2 sqrt(2 (1 / sqrt 3)^2) = 1.633 mm
    assert length_account_of(job.t, PLIERS).expanded == pytest.approx(1.633, abs=0.001)
    assert length_account_of(job.t, PLIERS).verdict == "adds up"


def test_inches_and_millimetres_are_added_up_alike(job):
    job.do(long(broken(), "4 in", "1/64 in"))
    job.do(long(piece("all of it", "6.41 g"), "101.6 mm", "0.4 mm"))
    assert length_account_of(job.t, PLIERS).short == pytest.approx(0)


def test_a_length_of_nothing_is_refused(job):
    assert codes(job.refused(long(broken(), "0 mm"))) == ["figure"]
    assert codes(job.refused(long(piece("jaw", "1 g"), "-3 mm"))) == ["figure"]
    assert codes(job.refused(long(piece("jaw", "1 g"), "3 mm", "0 mm"))) == ["figure"]
    assert "The unit is missing" in job.refused(long(piece("jaw", "1 g"), "3 mm", "0.1"))[0].words


def test_figures_that_cannot_be_read_are_refused_in_words(job):
    assert "The unit is missing" in job.refused(broken(mass="6.42"))[0].words
    assert codes(job.refused(broken(line="anchor"))) == ["unknown line"]
    assert codes(job.refused(broken(basis="a guess"))) == ["no basis"]
    assert codes(job.refused(broken(smallest="0 mm"))) == ["figure"]
    assert codes(job.refused(broken(mass="0 g"))) == ["figure"]
    assert codes(job.refused(PieceWeighed("rag", "", "1 g", "", LETTER, PHOTO))) == ["not broken"]
    wrong = PieceWeighed(PLIERS, " ", "heavy", "long", Gauge("scale", "fine"), "")
    assert codes(job.refused(wrong)) == ["figure", "figure", "no photo", "figure", "not said"]


def test_a_piece_weighed_after_the_closure_is_down_wants_it_up_again(job):
    job.do(broken(KITCHEN))
    job.do(piece("handle", "4 g", KITCHEN))
    job.do(piece("jaw", "2 g", KITCHEN))
    job.clear("nozzle")
    job.do(Refitted("nozzle"))
    job.home("nozzle")
    job.do(piece("jaw", "2 g", KITCHEN), TOMAS)
    assert codes(job.refused(job.signing("nozzle"), INES)) == ["pieces not looked for"]
    job.do(WorkDone("seen"))
    assert next_act(job.t, job.now).words.startswith("Weigh the pieces finer, or lift the nozzle holder again")
