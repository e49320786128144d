"""What a pad counts, worked out from the state alone."""

from __future__ import annotations

from careful_worker import CarefulWorker

from checklists import builders, places
from checklists.facts import Person
from checklists.next_act import next_act
from checklists.state import Teardown
from mobileapp.screens.count_order import lines_at
from mobileapp.screens.pad_figures import (
    elsewhere,
    figures,
    may_be_short,
    others_due,
    resolve,
    statement,
    what_and_where,
)
from mobileapp.shelf import load_sheet

BOLTS, HOME = "inlet-manifold.bolt-m8", "fitted/inlet-manifold"
PEOPLE = (Person("Ada Berg", "fitter"), Person("Jonas Wieland", "second counter"))


def at(do: str, line: str = "") -> CarefulWorker:
    """A careful worker on the inlet manifold, at the first act of that kind."""
    worker = CarefulWorker(load_sheet("inlet-manifold-inline-four"), PEOPLE)
    while (act := next_act(worker.teardown, worker.now)).do != do or not act.line.startswith(line):
        worker.do(act)
    return worker


def goes(t: Teardown, line: str, source: str, target: str = "") -> tuple[str, str]:
    return resolve(t, line, source, target, "2026-03-02T12:00:00.000+01:00", "Ada Berg")


def test_where_things_go_when_it_is_not_said() -> None:
    t = at("count out", BOLTS).teardown
    assert goes(t, BOLTS, "") == (HOME, places.TRAY)
    assert goes(t, "rag", "") == (places.STORES, places.BENCH)
    assert goes(t, "rag", places.ENGINE) == (places.ENGINE, places.STORES)
    assert goes(t, "rag", places.BENCH) == (places.BENCH, places.STORES)


def test_a_bolt_in_the_engine_goes_to_the_tray_until_its_closure_can_take_it() -> None:
    worker = at("work done")
    worker.record(builders.move(BOLTS, 1, places.TRAY, places.ENGINE), "Ada Berg")
    assert goes(worker.teardown, BOLTS, places.ENGINE) == (places.ENGINE, places.TRAY)
    assert goes(worker.teardown, BOLTS, places.TRAY) == (places.TRAY, HOME)
    home = at("count back", BOLTS).teardown
    assert goes(home, BOLTS, places.TRAY) == (places.TRAY, HOME)


def test_short_at_the_start_is_not_there_to_count_out_but_is_missed_on_the_way_back() -> None:
    worker = at("count out", BOLTS)
    for fact in worker.with_photo(builders.short_at_start(worker.teardown, BOLTS, 1, "hole.jpg")):
        worker.record(fact, "Ada Berg")
    out = figures(worker.teardown, BOLTS, HOME, places.TRAY, 9)
    assert (out.counted, out.total, out.left) == (0, 9, 9)
    back = figures(worker.teardown, BOLTS, places.TRAY, HOME, 0)
    assert (back.counted, back.total) == (9, 10)


def test_the_statement_says_what_is_still_elsewhere() -> None:
    worker = at("work done")
    worker.record(builders.move("rag", 3, places.STORES, places.BENCH), "Ada Berg")
    worker.record(builders.move("rag", 1, places.BENCH, places.ENGINE), "Ada Berg")
    worker.record(builders.move("rag", 2, places.BENCH, places.STORES), "Ada Berg")
    pad = figures(worker.teardown, "rag", places.BENCH, places.STORES, 3)
    assert pad.done
    said = "7 of 8 rags back, none left on the bench; 1 in or over the open engine, spot not said"
    assert statement(worker.teardown, pad) == said


def test_other_lines_that_are_due() -> None:
    t = at("count out", BOLTS).teardown
    pad = figures(t, BOLTS, HOME, places.TRAY, 10)
    assert [other.line for other in others_due(t, pad)] == ["inlet-manifold.nut-m8"], "parts come off with the closure"
    nuts = "inlet-manifold.nut-m8"
    back = at("count back", nuts).teardown
    others = others_due(back, figures(back, nuts, places.TRAY, HOME, 2))
    assert [(other.line, other.source, other.target) for other in others] == [(BOLTS, places.TRAY, HOME)]


def test_short_can_only_be_said_while_it_was_never_off() -> None:
    assert may_be_short(at("count out", BOLTS).teardown, BOLTS)
    assert not may_be_short(at("sign").teardown, "coolant-crossover.bolt-m6")
    assert not may_be_short(at("count out", BOLTS).teardown, "rag")


def test_how_a_pad_is_called() -> None:
    t = at("count out", BOLTS).teardown
    out = figures(t, BOLTS, HOME, places.TRAY, 10)
    assert what_and_where(t, out) == "M8 x 45 flange bolt, inlet manifold to the tray"
    assert what_and_where(t, figures(t, BOLTS, places.TRAY, HOME, 0)) == "M8 x 45 flange bolt, tray to inlet manifold"


def test_what_lies_on_the_floor_is_picked_up_to_the_tray_or_put_away() -> None:
    worker = at("work done")
    worker.record(builders.move(BOLTS, 1, places.TRAY, places.FLOOR), "Ada Berg")
    assert goes(worker.teardown, BOLTS, places.FLOOR) == (places.FLOOR, places.TRAY)
    assert goes(worker.teardown, "rag", places.FLOOR) == (places.FLOOR, places.STORES)


def test_what_lies_on_the_floor_is_picked_up_before_anything_is_cleared() -> None:
    worker = at("uncover")
    worker.record(builders.move(BOLTS, 1, places.TRAY, places.FLOOR), "Ada Berg")
    act = next_act(worker.teardown, worker.now)
    assert (act.words, act.place, act.target) == (
        "Pick 1 M8 x 45 flange bolt up off the floor", places.FLOOR, places.TRAY)  # fmt: skip


def test_a_blind_counter_is_offered_every_line_the_likely_first_and_in_a_tray_the_fasteners_before_the_tools() -> None:
    t = at("work done").teardown
    for spot in (places.TRAY, "tray/a", places.BENCH, places.FLOOR):
        lines = lines_at(t, spot, {BOLTS, "torch"})
        assert set(lines) == set(t.lines)
        assert lines[:2] == ([BOLTS, "torch"] if spot.startswith("tray") else ["torch", BOLTS])


def test_a_large_part_may_lie_on_the_bench_and_what_comes_out_of_the_engine_too() -> None:
    worker = at("count out", "inlet-manifold.manifold")
    line, t = "inlet-manifold.manifold", worker.teardown
    assert elsewhere(t, figures(t, line, HOME, places.TRAY, 1)) == places.BENCH
    assert elsewhere(t, figures(t, line, HOME, places.BENCH, 1)) == places.TRAY
    assert elsewhere(t, figures(t, BOLTS, HOME, places.TRAY, 10)) == "", "bolts belong in the tray"
    worker.record(builders.move("rag", 1, places.STORES, places.ENGINE), "Ada Berg")
    assert elsewhere(t, figures(t, "rag", places.ENGINE, places.STORES, 1)) == places.BENCH
