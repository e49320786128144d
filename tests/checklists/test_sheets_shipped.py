"""The sheets that come with Countback are ones a fitter can work from."""

from collections import Counter

import pytest

from checklists.sheet import Sheet
from mobileapp.shelf import load_sheet, shipped_sheets

NAMES = list(shipped_sheets())


@pytest.fixture(params=NAMES)
def sheet(request: pytest.FixtureRequest) -> Sheet:
    return load_sheet(request.param)


def test_four_sheets_are_on_the_shelf():
    assert NAMES == ["inlet-manifold-inline-four", "lift-pump-and-side-cover", "rocker-cover", "valley-cover-v-engine"]


def test_there_is_a_cover_for_every_opening_and_some_to_spare(sheet: Sheet):
    covers = sum(line.quantity for line in sheet.items if line.kind in ("cover", "rag"))
    assert covers > len(sheet.openings)


def test_the_makers_manual_comes_first(sheet: Sheet):
    assert "maker's manual and the local safety rules come first" in sheet.cautions[0].text
    assert len(sheet.cautions) >= 4


def test_common_practice_sealant_is_spread_thin_for_too_much_lifts_a_machined_face():
    """Common practice, no source."""
    (caution,) = [c for c in load_sheet("lift-pump-and-side-cover").cautions if c.id == "sealant-thin"]
    assert caution.text.startswith("Sealant thin: too much lifts a machined face")


def test_one_closure_lies_over_another_and_comes_first(sheet: Sheet):
    top, lower = sheet.closures
    assert top.lies_over == (lower.id,)
    assert lower.lies_over == ()


def test_glasses_and_phone_are_on_the_tally(sheet: Sheet):
    assert {line.id for line in sheet.items if line.kind == "personal item"} == {"reading-glasses", "phone"}


def test_every_torque_says_whose_figure_wins():
    for path in shipped_sheets().values():
        torques = [line for line in path.read_text("utf-8").splitlines() if line.startswith("torque")]
        assert torques
        assert all(line.endswith("# common practice, no source; the maker's figure wins") for line in torques)


def test_the_inline_four_has_what_the_demo_tells_of():
    sheet = load_sheet("inlet-manifold-inline-four")
    fasteners = [f for closure in sheet.closures for f in closure.fasteners]
    assert {(f.spec, f.quantity) for f in fasteners} == {
        ("M6 x 25 flange bolt", 4),
        ("M8 x 45 flange bolt", 10),
        ("M8 flange nut", 2),
    }
    ways = {(p.source, p.target) for p in sheet.passages}
    for n in range(1, 5):
        assert (f"port-{n}", f"cylinder-{n}") in ways
    assert Counter(o.clear.kind for o in sheet.openings) == {"oval": 4, "circle": 2}


def test_what_falls_into_the_lifter_valley_can_drain_to_the_sump():
    sheet = load_sheet("valley-cover-v-engine")
    assert [(p.source, p.target) for p in sheet.passages if p.way == "drains"] == [("valley", "sump")]
    assert len([o for o in sheet.openings if o.closure == "inlet-manifold" and o.space.startswith("port-")]) == 6
