"""The torque as typed is held against sheet and thread: a warning. What a count leaves is said from what was done."""

from dataclasses import replace

import pytest
from workboat_model import FITTER, SHEET, Job

from checklists.facts import Refitted
from checklists.judge import judge
from checklists.residual import closeouts_made, counts_made, risk_of
from checklists.sheet import Fastener
from checklists.torque_words import torque_words, torque_words_of
from checklists.workshop.torque import CANNOT_TELL, WINS
from mobileapp.shelf import load_sheet
from mobileapp.tables import fastener_tables
from mobileapp.workshop import torque_words as words_with_tables

TABLES = fastener_tables()


def words(typed: str, sheet_says: str = "24 N.m", closure: str = "manifold"):
    known = next(c for c in SHEET.closures if c.id == closure)
    return torque_words_of(replace(known, torque=sheet_says), typed, TABLES)


@pytest.mark.parametrize(
    "typed", ["24 N.m", "24 Nm", "17.7 lbf.ft", "24,0 N.m", "24 Nm (18 lbf.ft)", "8 Nm, 16 Nm, 24 Nm"]
)
def test_the_sheets_own_figure_needs_no_second_look(typed):
    told = words(typed)
    assert not told.second_look, told
    assert told.words[-1] == WINS


@pytest.mark.parametrize(
    ("typed", "told"),
    [
        ("24 lbf.in", "24 lbf.in looks too low"),
        ("240 N.m", "240 N.m looks too high"),
        ("2.4 N.m", "Was it 2.4 kgf.m or 24 N.m? Look at the maker's page again."),
        ("24 lbf.ft", "The sheet says 24 N.m, and 24 lbf.ft was typed."),
        ("24 Nm (18 lbf.in)", "24 N.m and 18 lbf.in are not the same torque"),
        ("twenty-four", "is not a number with a unit"),
    ],
)
def test_a_slip_asks_for_a_second_look(typed, told):
    answer = words(typed)
    assert answer.second_look
    assert any(told in each for each in answer.words), answer


def test_of_stainless_without_its_class_nothing_is_judged_and_that_is_said():
    steel = replace(next(c for c in SHEET.closures if c.id == "manifold"), torque="24 N.m",
                    fasteners=(Fastener("bolt", "M8x25 A2", 10),))  # fmt: skip
    told = torque_words_of(steel, "24 N.m", TABLES)
    assert not told.second_look
    assert told.words[0].startswith("A2 says the steel, not how strong it is: its proof strength is not known.")
    classed = replace(steel, fasteners=(Fastener("bolt", "M8x25 A2-70", 10),))
    assert torque_words_of(classed, "14 N.m", TABLES).words[0].startswith("The sheet says 24 N.m")


def test_a_specification_that_was_not_understood_in_full_judges_nothing_and_that_is_said():
    metric = replace(next(c for c in SHEET.closures if c.id == "manifold"), torque="24 N.m",
                     fasteners=(Fastener("bolt", "M8x25 gr 8", 10),))  # fmt: skip
    told = torque_words_of(metric, "24 N.m", TABLES)
    assert told.words == (
        "M8x25 gr 8: 'gr 8' is an inch grade; a metric bolt has a class such as 8.8.",
        "No thread of this closure is known, so nothing is judged.",
    )
    understood = replace(metric, fasteners=(*metric.fasteners, Fastener("nut", "M8 nut", 2)))
    assert "No thread" not in torque_words_of(understood, "24 N.m", TABLES).words[-1]


def test_two_units_are_held_against_each_other_even_where_the_thread_is_not_known():
    unknown = replace(next(c for c in SHEET.closures if c.id == "crossover"), fasteners=(), torque="")
    told = torque_words_of(unknown, "24 Nm (18 lbf.in)", TABLES)
    assert told.second_look
    assert told.words[-1] == "No thread of this closure is known, so nothing is judged."


def test_newton_metres_for_pound_feet_cannot_be_told_from_friction_and_that_is_said():
    assert CANNOT_TELL in words("24 N.m", sheet_says="").words


def test_an_angle_passes_through_untouched():
    told = words("20 N.m + 90 deg", sheet_says="20 N.m + 90 deg")
    assert (told.second_look, told.words[0]) == (
        False,
        "20 N.m + 90 deg: tightened by angle, exactly as the maker writes it.",
    )


def test_a_warning_never_stands_in_the_way_of_signing():
    job = Job()
    job.lift("nozzle")
    job.clear("nozzle")
    job.do(Refitted("nozzle"))
    job.home("nozzle")
    assert torque_words(job.t, "nozzle", "2400 N.m", TABLES) == words_with_tables(job.t, "nozzle", "2400 N.m")
    assert torque_words(job.t, "nozzle", "2400 N.m", TABLES).second_look
    assert judge(job.t, job.signing("nozzle", "2400 N.m"), job.now, "Ines Vardal") == ()


def test_a_quarter_inch_cover_bolt_at_eight_to_ten_pound_feet_is_plausible():
    side = next(c for c in load_sheet("lift-pump-and-side-cover").closures if c.id == "side-cover")
    assert not torque_words_of(side, "8 to 10 lbf.ft", TABLES).second_look
    assert not torque_words_of(side, "9 lbf.ft", TABLES).second_look
    slip = torque_words_of(side, "9 lbf.in", TABLES)
    assert slip.second_look
    assert any("9 lbf.ft" in each for each in slip.words)


def test_counts_and_closeouts_are_counted_as_they_were_made():
    job = Job()
    job.lift("crossover", "manifold", "nozzle")
    assert (counts_made(job.t, "manifold"), closeouts_made(job.t)) == (1, 0)
    job.refit("manifold")
    assert (counts_made(job.t, "manifold"), closeouts_made(job.t, "manifold")) == (2, 2)
    assert counts_made(job.t, "nozzle") == 1
    risk = risk_of(job.t, "manifold")
    assert risk.if_independent < risk.if_alike < 0.25
    assert "After 2 counts that agree" in risk.words[0]
    assert "2 closeout inspections were made besides" in risk.words[2]
    assert risk.words[-1].startswith("This is not a certificate")
    assert counts_made(job.t) == 1  # the least counted closure speaks for the teardown


def test_a_re_inspection_alone_is_no_independent_count():
    job = Job(FITTER)
    job.lift("crossover", "manifold")
    job.look_into("manifold")
    job.later(15)
    job.second_count(who=FITTER.name)
    assert counts_made(job.t, "manifold") == 1


def test_nothing_opened_is_nothing_counted():
    assert (counts_made(Job().t), closeouts_made(Job().t)) == (0, 0)
    assert "No count was made" in risk_of(Job().t).words[0]


def test_a_count_and_a_closeout_that_are_out_of_date_are_not_told():
    job = Job()
    job.lift("crossover", "manifold")
    job.look_into("manifold")
    job.second_count()
    assert (counts_made(job.t, "manifold"), closeouts_made(job.t, "manifold")) == (2, 2)
    job.count("rag", 1, "stores", "engine/port-1")
    assert counts_made(job.t, "manifold") == 1
    assert closeouts_made(job.t, "manifold") < 2
