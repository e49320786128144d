"""Pieces of a broken part: short with its ball, a scale that cannot tell, and a part of the teardown recorded."""

from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from screens import touch
from screens.shop_hand import AtTheBench

from checklists.broken_parts import DIMENSIONS, TWIN
from checklists.facts_measured import Gauge, PartBroken, PieceWeighed
from mobileapp.shelf import load_sheet
from mobileapp.widgets.ball import Ball

SPRING = PartBroken("lift-pump.spring", False, TWIN, "84.6 g", "0.05 g", "2 mm", Gauge("scale", "0.01 g", "0.02 g"))


@pytest.fixture
def work(kivy_window: Any, tmp_path: Path) -> AtTheBench:
    return AtTheBench(tmp_path, load_sheet("lift-pump-and-side-cover"))


def the_whole(work: AtTheBench, step: str = "0.1 g") -> None:
    work.types("Mass of the whole part", "84.6 g")
    work.types("How far the one that broke can differ", "0.05 g")
    work.types("Scale reads to", step)


def test_a_missing_piece_is_shown_as_a_ball_of_its_size_with_k(work):
    work.put_down()
    work.opens("pieces")
    the_whole(work)
    work.types("Piece 1", "41.3 g")
    work.types("Piece 2", "39.9 g")
    work.act()
    assert work.says("A piece is missing")
    assert work.says("(k = 2)")
    ball = touch.find(work.shell, cls=Ball)
    assert ball.diameter == pytest.approx(9.4, abs=0.1)
    assert ball.least < ball.diameter < ball.most


def test_a_coarse_scale_cannot_tell_and_says_what_it_could_hide(work):
    work.put_down()
    work.opens("pieces")
    the_whole(work)
    work.types("Piece 1", "44.7 g")
    work.types("Piece 2", "39.9 g")
    work.act()
    assert work.says("Cannot tell")
    assert work.says("could hide a piece as big as a steel ball")


def test_a_mass_from_dimensions_off_by_nothing_and_a_piece_of_no_size_are_said_at_their_fields(work):
    work.put_down()
    work.opens("pieces")
    the_whole(work)
    work.chooses("Its dimensions and density")
    work.types("How far the one that broke can differ", "0 g")
    work.types("Smallest piece that does harm", "0 mm")
    work.types("Piece 1", "44.7 g")
    work.types("Piece 2", "39.9 g")
    work.act()
    assert work.says("is never exact")
    assert work.says("more than 0 mm")
    assert not work.says("Cannot tell")


def sizes_of_a_brass_pin(work: AtTheBench) -> None:
    work.chooses("Its dimensions and density")
    work.chooses("Cylinder")
    work.chooses("Brass")
    work.types("Diameter", "12.0 mm")
    work.types("Length", "64.0 mm")


def test_the_mass_is_worked_out_from_dimensions_and_filled_in(work):
    work.put_down()
    work.opens("pieces")
    sizes_of_a_brass_pin(work)
    work.tap(text="Work the mass out")
    assert work.says("The whole should weigh 61.5 ± 2.4 g (k = 2).")  # pi/4 12^2 64 mm3 of 8.5 g/cm3
    assert work.fields("Mass of the whole part")[0].text == "61.5 g"
    assert work.fields("How far the one that broke can differ")[0].text == "2.1 g"
    work.types("Piece 1", "41.3 g")
    work.types("Piece 2", "5.2 g")
    work.types("Scale reads to", "0.1 g")
    work.act()
    assert work.says("A piece is missing")
    assert work.says("as big as a ball of its material")


def test_what_is_not_chosen_or_cannot_be_read_is_said_at_its_place(work):
    work.put_down()
    work.opens("pieces")
    work.chooses("Its dimensions and density")
    work.tap(text="Work the mass out")
    assert work.says("Choose the shape first.")
    work.chooses("Tube")
    work.tap(text="Work the mass out")
    assert work.says("Choose the material first.")
    work.chooses("Another material")
    for label, text in (("Outside diameter", "8 mm"), ("Inside diameter", "10 mm"), ("Length", "64 mm")):
        work.types(label, text)
    work.types("Its density", "light")
    work.tap(text="Work the mass out")
    assert work.says("'light' is not a number with a unit")
    work.types("Its density", "1.14 g/cm3")
    work.tap(text="Work the mass out")
    assert work.says("The inside diameter is smaller than the outside diameter.")
    assert touch.faults(work.shell) == []
    work.chooses("An identical part weighed")
    assert not work.fields("Its density")


def test_a_steel_fastener_is_worked_out_from_its_specification(work):
    work.put_down()
    work.opens("pieces")
    work.chooses("Its dimensions and density")
    work.chooses("Brass")
    work.chooses("Steel fastener")
    work.types("Fastener", "M8x60 8.8 bollt")
    work.tap(text="Work the mass out")
    assert work.says("'bollt' is not understood; did you mean 'bolt'?")
    work.tap(text="Take M8x60 8.8 bolt")
    work.tap(text="Work the mass out")
    assert work.says("The whole should weigh 26.2 ± 2.7 g (k = 2).")
    assert work.fields("Mass of the whole part")[0].text == "26.2 g"
    assert work.fields("How far the one that broke can differ")[0].text == "2.4 g"
    assert not work.says("Brass"), "it is of steel"
    assert touch.faults(work.shell) == []


def test_sizes_and_density_go_on_record_with_the_mass_worked_out_from_them(work):
    work.opens("pieces", form="broke")
    work.chooses("Return spring")
    sizes_of_a_brass_pin(work)
    work.tap(text="Work the mass out")
    work.types("Scale reads to", "0.1 g")
    work.act()
    work.act()
    fact = work.last
    assert isinstance(fact, PartBroken)
    assert (fact.basis, fact.mass, fact.likeness, fact.density) == (DIMENSIONS, "61.5 g", "2.1 g", "8.5 g/cm3")
    assert fact.worked_out.startswith("cylinder 12.0 mm x 64.0 mm, each within one in its last place; ")


def test_a_mass_typed_over_what_was_worked_out_rests_on_no_sizes(work):
    work.opens("pieces", form="broke")
    work.chooses("Return spring")
    sizes_of_a_brass_pin(work)
    work.tap(text="Work the mass out")
    work.types("Mass of the whole part", "60 g")
    work.types("Scale reads to", "0.1 g")
    work.act()
    work.act()
    assert (work.last.mass, work.last.density, work.last.worked_out) == ("60 g", "", "")


def test_a_mass_that_cannot_be_read_is_said_at_its_field(work):
    work.put_down()
    work.opens("pieces")
    the_whole(work)
    work.types("Piece 1", "forty")
    work.types("Piece 2", "39.9 g")
    work.act()
    assert work.says("'forty' is not a number with a unit")


def test_a_broken_spring_is_recorded_and_its_pieces_weighed(work):
    work.opens("pieces")
    work.tap(text="A part broke")
    work.chooses("Return spring")
    the_whole(work)
    work.act()
    assert work.says("To be recorded: Return spring, broken; the whole 84.6 g.")
    work.act()
    assert isinstance(work.last, PartBroken)
    assert work.last.line == "lift-pump.spring"
    assert work.says("No piece is weighed yet")
    work.takes_photo("Photo of the piece")
    work.types("Its mass", "41.3 g")
    work.types("Scale reads to", "0.1 g")
    work.act()
    work.act()
    assert isinstance(work.last, PieceWeighed)
    assert (work.last.piece, work.last.mass) == ("1", "41.3 g")
    assert work.says("A piece is missing")
    assert work.fields("Scale reads to")[0].text == "0.1 g", "the scale stays for the next piece"


def test_a_second_one_of_the_same_line_is_added_to_the_first(work):
    work.does(SPRING)
    work.does(PieceWeighed("lift-pump.spring", "1", "84.6 g", "", SPRING.gauge, "photos/1.jpg"))
    work.opens("pieces")
    work.tap(text="A part broke")
    work.chooses("Return spring")
    assert work.says("One more broke")
    the_whole(work, "0.01 g")
    work.act()
    assert work.says("To be recorded: one more Return spring, broken; the whole 84.6 g.")
    work.act()
    assert work.last.another
    assert work.says("A piece is missing"), "one spring's pieces are no two springs"


def test_a_length_that_falls_short_is_said_beside_the_mass(work):
    work.does(replace(SPRING, length="64.0 mm", length_within="0.2 mm"))
    work.does(PieceWeighed("lift-pump.spring", "1", "84.6 g", "40.0 mm", SPRING.gauge, "photos/1.jpg"))
    work.opens("pieces")
    assert work.says("Short by its length, 1 piece weighed")
    work.tap(text="Return spring")
    assert work.says("Short by its length")
    assert work.says("Laid end to end the pieces are short by 24.0 ± 1.2 mm (k = 2).")
    assert work.fields("How far that can be off (empty: 1 mm)")
    assert touch.faults(work.screen) == []
