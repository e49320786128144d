"""A missing item stands only against closures over spaces it could be in; where it cannot be, it is said why."""

from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from one_loss import whereabouts_of, words_of
from workboat_model import BOLT, NUT, PHOTO, SHEET, Job, codes, only

from checklists import builders
from checklists.account.parts import Words
from checklists.closing_account import make_account
from checklists.exposure import UNCOVERED
from checklists.gate import why_not, why_not_close
from checklists.reason_making import notes, notes_of_all
from checklists.sheet import Closure, ItemSize, Line, Opening, Passage, Shape, Sheet, Space, with_shapes
from checklists.state import START, ClosureState, MissingItem, Teardown
from checklists.ways_in import WaysIn
from checklists.where_it_could_be import seen_to_fall, where_words
from checklists.whereabouts.items import body_of
from checklists.whereabouts.migration import Ways
from checklists.whereabouts.plan import Plan
from checklists.workshop.item_shape import shapes_of
from mobileapp.shapes import shaped
from mobileapp.tables import fastener_tables

M8_NUT = ItemSize("nut", (Decimal(13), Decimal("6.8")))
NARROW = Shape("circle", (Decimal(8),))


def narrow_sheet(nut: ItemSize | None = M8_NUT) -> Sheet:
    """The nozzle hole is 8 mm wide, the way from port 2 into cylinder 2 is 9 mm; the M8 nut has its shape."""
    openings = [replace(o, clear=NARROW) if o.id == "nozzle-hole" else o for o in SHEET.openings]
    passages = [
        replace(p, clear=Shape("circle", (Decimal(9),))) if p.target == "cylinder-2" else p for p in SHEET.passages
    ]
    sheet = replace(SHEET, openings=tuple(openings), passages=tuple(passages))
    return with_shapes(sheet, {"M8 nut": nut}) if nut else sheet


@pytest.fixture
def job() -> Job:
    """The nozzle holder is off, and the manifold's ports stand open; then one M8 nut is missing from the tray."""
    job = Job(sheet=narrow_sheet())
    job.lift("nozzle", "crossover", "manifold")
    job.later(30)
    job.do(builders.miss(job.t, NUT, 1, "tray"))
    return job


def test_a_nut_that_cannot_pass_the_nozzle_hole_is_not_behind_it(job):
    (item,) = job.t.missing
    assert job.t.could_hold(item) == {"port-1", "port-2", "cylinder-1", "jacket"}
    found, ruled_out = whereabouts_of(job.t, item)
    assert {c.space for c in found} == job.t.could_hold(item)
    assert {r.space: r.why for r in ruled_out} == {"cylinder-2": "it cannot pass on any way to cylinder 2"}
    assert all(c.verdict == "passes" for c in found)


def test_the_reason_against_a_closure_says_where_it_could_be(job):
    reason = only(why_not(job.t, "manifold"), "missing")
    assert reason.words.startswith("1 M8 nut missing; last in the tray. It could be in ")
    assert reason.words.endswith("It could be in the coolant jacket, cylinder 1, inlet port 1 or inlet port 2.")
    words = words_of(job.t, next(c for c in whereabouts_of(job.t, job.t.missing[0])[0] if len(c.path) > 1))
    assert words == (
        "Could be in cylinder 1: inlet 1 stood uncovered for 31 min in the time it went missing; "
        "from inlet port 1 to cylinder 1 it falls; it passes."
    )


def test_a_closure_whose_spaces_it_cannot_reach_is_not_refused_for_it():
    job = Job(sheet=narrow_sheet())
    job.lift("nozzle")
    job.do(builders.miss(job.t, NUT, 1, "tray"))
    assert job.t.could_hold(job.t.missing[0]) == frozenset()
    assert "missing" not in codes(why_not(job.t, "nozzle"))
    job.clear("nozzle")
    assert only(why_not_close(job.t), "missing").words == (
        "1 M8 nut missing; last in the tray. It cannot have gone into any space of the sheet: search round about."
    )
    why = {r.space: r.why for r in whereabouts_of(job.t, job.t.missing[0]).ruled_out}
    assert why["cylinder-1"] == "it cannot pass on any way to cylinder 1"
    assert why["jacket"] == "no opening that leads to the coolant jacket stood uncovered since it was last seen"


def test_where_it_cannot_be_it_is_told_why_with_the_answer_for_the_closure():
    job = Job(sheet=narrow_sheet())
    job.lift("nozzle")
    job.do(builders.miss(job.t, NUT, 1, "tray"))
    assert notes(job.t, "nozzle") == (
        "1 M8 nut missing, but not in here: nut 13 x 6.8 mm, it cannot pass the nozzle hole (round, 8 mm).",
    )
    job.lift("crossover")
    assert notes(job.t, "crossover") == ()  # it could be in there: that is a reason, not a note


def test_what_was_not_exposed_is_told_too():
    job = Job(sheet=narrow_sheet())
    job.lift("nozzle")
    job.do(builders.miss(job.t, NUT, 1, "tray"))
    assert notes(job.t, "crossover") == (
        "1 M8 nut missing, but not in here: no way in stood uncovered since it was last seen.",
    )


def test_what_is_missing_elsewhere_stands_in_what_is_signed_with_why_it_is_no_reason():
    job = Job(sheet=narrow_sheet())
    job.lift("nozzle")
    job.do(builders.miss(job.t, NUT, 1, "tray"))
    said = "1 M8 nut missing, but not in here: nut 13 x 6.8 mm, it cannot pass the nozzle hole (round, 8 mm)."
    job.clear("nozzle")
    cleared = job.t.history[-1].fact
    assert cleared.statement == (
        "nozzle holder: 2 of 2 fasteners off, 1 of 1 opening looked into and clear and nothing left in the spaces "
        f"below. {said}"
    )
    assert builders.closed_statement(job.t, "nozzle").endswith(said)
    assert notes_of_all(job.t) == (("nozzle", said),)
    words = [block.text for block in _blocks(job) if hasattr(block, "text")]
    assert any(said in text for text in words), "on the closing sheet, where the clearance is told"


def _blocks(job):
    account = make_account("t", job.t.history, {})
    for section in account.sections:
        for block in section.blocks:
            yield block
            for row in getattr(block, "rows", ()):
                yield from (Words(str(cell)) for cell in row)


def test_without_its_shape_it_could_be_in_every_space_that_stood_open():
    job = Job(sheet=narrow_sheet(nut=None))
    job.lift("nozzle")
    job.do(builders.miss(job.t, NUT, 1, "tray"))
    assert job.t.could_hold(job.t.missing[0]) == {"cylinder-1"}
    assert "missing" in codes(why_not(job.t, "nozzle"))
    assert "It could be" not in only(why_not(job.t, "nozzle"), "missing").words


@pytest.mark.parametrize(
    ("shape", "stage"),
    [
        (ItemSize("rod", (Decimal(5), Decimal(20))), "recalled"),
        (ItemSize("bolt", (Decimal(10), Decimal(4), Decimal(6), Decimal(25))), "signed"),
    ],
)
def test_a_signed_closure_is_recalled_only_for_what_could_have_gone_in(shape, stage):
    """Over an 8 mm hole: a stud 5 mm thick recalls it, a bolt whose head is 10 mm across does not."""
    job = Job(sheet=with_shapes(narrow_sheet(), {"M6 clip bolt": shape}))
    job.count("crossover.bolt", 1, "fitted/crossover", "tray")
    job.lift("nozzle")
    job.refit("nozzle")
    job.do(builders.miss(job.t, "crossover.bolt", 1, "tray"))
    assert job.stage("nozzle") == stage


def test_short_at_the_start_it_may_be_anywhere_whatever_its_shape():
    job = Job(sheet=narrow_sheet())
    job.do(builders.short_at_start(job.t, NUT, 1, PHOTO))
    (item,) = job.t.missing
    assert job.t.could_hold(item) is None
    found, ruled_out = whereabouts_of(job.t, item)
    assert {c.space for c in found} == set(job.t.spaces)
    assert ruled_out == ()
    assert "may have been inside all along" in where_words(job.t, item)
    assert "may have been inside all along" in words_of(job.t, found[0])


def test_an_opening_that_was_uncovered_for_no_time_on_the_clock_counts():
    job = Job(sheet=narrow_sheet())
    job.lift("crossover")
    job.later(-60)
    job.do(builders.cover(job.t, "outlet", "cap"))
    job.do(builders.miss(job.t, "wrench", 1, "stores"))
    (found,) = whereabouts_of(job.t, job.t.missing[0]).candidates
    assert (found.space, found.verdict) == ("jacket", "might pass")
    assert 0 < found.exposed < 1


def test_the_window_begins_when_it_was_last_seen():
    job = Job(sheet=narrow_sheet())
    job.lift("crossover")
    job.later(60)
    job.count("wrench", 1, "stores", "bench")
    job.later(9)
    job.do(builders.miss(job.t, "wrench", 1, "bench"))
    (found,) = whereabouts_of(job.t, job.t.missing[0]).candidates
    assert found.exposed == 10 * 60  # from the count to the moment it was missed: the nine minutes and one


def test_the_window_ends_when_it_was_missed():
    """Hours later the crossover comes off: it may still have gone in there, but that is the last place to look."""
    job = Job(sheet=narrow_sheet())
    job.lift("nozzle")
    job.later(9)
    job.do(builders.miss(job.t, "wrench", 1, "stores"))
    before = whereabouts_of(job.t, job.t.missing[0]).candidates
    job.later(90)
    job.lift("crossover")
    job.later(300)
    after = whereabouts_of(job.t, job.t.missing[0]).candidates
    assert after[: len(before)] == before
    assert {c.space for c in after} == job.t.could_hold(job.t.missing[0])
    assert (after[-1].space, after[-1].exposed) == ("jacket", 0.0)
    assert "was uncovered only after it was missed" in words_of(job.t, after[-1])
    assert where_words(job.t, job.t.missing[0]) == (
        "It could be in cylinder 1; last of all in the coolant jacket, uncovered only after it was missed."
    )


def test_what_stood_open_as_it_fell_counts_and_is_told_as_a_fall():
    job = Job(sheet=narrow_sheet())
    job.lift("crossover")
    job.do(builders.drop(job.t, "wrench", 1, "at the front"))
    item = job.t.missing[0]
    (found,) = whereabouts_of(job.t, item).candidates
    assert found.exposed > 0
    assert seen_to_fall(item)
    assert "stood uncovered as it fell" in words_of(job.t, found, seen_to_fall(item))


def test_a_fastener_gets_its_shape_from_its_specification_as_the_sheet_goes_into_the_journal():
    sheet = shaped(SHEET)
    shapes = {f.spec: f.shape for closure in sheet.closures for f in closure.fasteners}
    # No standard said: the thinner of ISO 4032 and the older DIN 934.
    assert shapes["M8 nut"] == ItemSize("nut", (Decimal("12.73"), Decimal("6.14")))
    # No length said: its head alone, and it may be a socket head (the hexagon inside 12.73 mm).
    assert shapes["M8 bolt"] == ItemSize("nut", (Decimal("11.02"), Decimal("5.15")))
    own = with_shapes(SHEET, {"M8 nut": M8_NUT})
    assert {f.shape for c in shaped(own).closures for f in c.fasteners if f.spec == "M8 nut"} == {M8_NUT}


def test_a_head_that_was_not_said_is_taken_for_the_smaller_one():
    (plain, said) = (shapes_of([text], fastener_tables())[text] for text in ("M8x25 8.8", "M8x25 hex bolt"))
    assert all(a <= b for a, b in zip(plain.mm, said.mm, strict=True))
    assert plain.mm[0] < said.mm[0]


# ---- a shape never adds a space, and the two ways of reckoning agree

SPACES = [f"s{i}" for i in range(6)]
widths = st.decimals(Decimal(4), Decimal(40), places=1)
circles = widths.map(lambda d: Shape("circle", (d,)))
slots = st.tuples(widths, widths).map(lambda mm: Shape("slot", mm))
holes = circles | slots
sizes = (
    st.builds(lambda a, b: ItemSize("nut", (a, b)), widths, widths)
    | st.builds(lambda a: ItemSize("ball", (a,)), widths)
    | st.builds(lambda a: ItemSize("soft", (a,)), widths)
    | st.builds(lambda a, b, c, d: ItemSize("bolt", (max(a, c), b, c, d)), widths, widths, widths, widths)
)
plans = st.builds(
    lambda openings, passages: Sheet(
        "trial", "trial",
        spaces=tuple(Space(name, f"space {name}", "harm") for name in SPACES),
        passages=tuple(Passage(a, b, clear, "falls") for a, b, clear in passages if a != b),
        openings=tuple(Opening(f"o{i}", f"opening {i}", s, clear, "lid", "cap")
                       for i, (s, clear) in enumerate(openings)),
    ),
    st.lists(st.tuples(st.sampled_from(SPACES), holes), min_size=1, max_size=5),
    st.lists(st.tuples(st.sampled_from(SPACES), st.sampled_from(SPACES), st.none() | holes), max_size=12),
)  # fmt: skip


@settings(deadline=None)
@given(plan=plans, size=sizes, data=st.data())
def test_a_shape_never_adds_a_space_and_the_candidates_are_the_spaces_it_could_be_in(plan, size, data):
    known, unknown = Teardown(), Teardown()
    opened = data.draw(st.sets(st.sampled_from([o.id for o in plan.openings])))
    whole = replace(plan, closures=(Closure("lid", "lid", (), (), "", (), False),))
    for t, shape in ((known, size), (unknown, None)):
        t.sheet, t.spaces, t.ways = whole, {s.id: s for s in whole.spaces}, WaysIn(whole)
        t.exposure.use(t.ways)
        t.closure_states["lid"] = ClosureState()
        t.lines["x"] = Line("x", "item", "tool", 1, "stores", shape)
        for opening in sorted(opened):
            t.exposure.set(opening, UNCOVERED, 1, "2026-03-02T08:00:00.000+01:00", "Ines Vardal")
    item = MissingItem("x", 1, "bench", 0, START, "missing", "")
    narrow, wide = known.could_hold(item), unknown.could_hold(item)
    assert narrow <= wide
    found, ruled_out = whereabouts_of(known, item)
    assert {c.space for c in found} == narrow
    assert {c.space for c in found} | {r.space for r in ruled_out} == set(SPACES)
    assert Ways(Plan(whole), body_of(size)).by(opened) == narrow


def test_a_bolt_of_unknown_shape_recalls_as_before():
    job = Job()
    job.lift("nozzle")
    job.count(BOLT, 1, "fitted/manifold", "tray")
    job.refit("nozzle")
    job.do(builders.miss(job.t, BOLT, 1, "tray"))
    assert job.stage("nozzle") == "recalled"
