"""A maker's torque figure against what the thread would take: slips that magnitude catches, and those it cannot."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checklists.workshop.torque import (
    CANNOT_TELL,
    LUBRICATION,
    WINS,
    Band,
    TorqueCheck,
    check_torque,
    torque_band,
)
from checklists.workshop.torque_figure import AngleFigure, TorqueFigure, read_torque
from checklists.workshop.units import KGF_CM, KGF_M, LBF_FT, LBF_IN, N_M, NotUnderstood
from mobileapp.tables import fastener_tables

TABLES = fastener_tables()
M8 = TABLES.threads_of("M8")[0]
QUARTER_28 = TABLES.threads_of("1/4")[1]


def band(thread=M8, strength: str = "8.8", lubrication: str = "dry") -> Band:
    found = torque_band(thread, strength, lubrication, TABLES)
    assert found
    return found


def check(text: str, against: Band | None) -> TorqueCheck:
    figure = read_torque(text)
    assert isinstance(figure, TorqueFigure | AngleFigure), figure
    return check_torque(figure, against)


@pytest.mark.parametrize(
    ("typed", "low", "high"),
    [
        ("24 N.m", 24, 24), ("24 ± 3 N.m", 21, 27), ("24 +/- 3 Nm", 21, 27), ("8 to 10 N·m", 8, 10),
        ("8-10 Nm", 8, 10), ("8 – 10 Nm", 8, 10), ("8...10 Nm", 8, 10), ("8,5 to 10,5 Nm", 8.5, 10.5),
        ("1-1/2 kgf.m", 14.709975, 14.709975), ("245 kgf.cm", 24.0262925, 24.0262925),
    ],
)  # fmt: skip
def test_figures_as_makers_write_them(typed: str, low: float, high: float):
    figure = read_torque(typed)
    assert isinstance(figure, TorqueFigure)
    assert (float(figure.low), float(figure.high), figure.text) == (low, high, typed)


@pytest.mark.parametrize(
    "typed", ["30 N.m + 90 deg", "30 N.m + 90° + 90°", "40 lbf.ft then 1/4 turn", "Angle 120"]
)
def test_angle_tightening_passes_through_untouched(typed: str):
    assert read_torque(typed) == AngleFigure(typed)
    answer = check(typed, band())
    assert answer.verdict == "not judged"
    assert answer.words == (f"{typed}: tightened by angle, exactly as the maker writes it.", WINS)


@pytest.mark.parametrize(
    ("typed", "why"),
    [
        ("24", "The unit is missing; write it like 24 N.m."),
        ("24 lb", "lb measures mass, and a torque is wanted here; write it like 24 N.m."),
        ("0 N.m", "'0 N.m' tightens nothing; write it like 24 N.m."),
        ("10 to 8 N.m", "'10 to 8 N.m' does not run from small to large; write it like 8 to 10 lbf.ft."),
        ("hand tight", "'hand tight' is not a number with a unit; write it like 24 N.m."),
    ],
)
def test_what_is_no_torque_is_said(typed: str, why: str):
    assert read_torque(typed) == NotUnderstood(typed, why)


def test_a_plausible_figure_is_still_the_makers():
    answer = check("24 N.m", band())
    assert answer.verdict == "plausible"
    assert answer.words == (
        "24 N.m is plausible: 14 to 41 N.m is what the thread would take, 25 usual.", CANNOT_TELL, WINS,
    )  # fmt: skip


@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        ("9 lbf.in", "9 lbf.ft"),  # inches for feet
        ("108 lbf.ft", "108 lbf.in"),
        ("108 N.m", "108 lbf.in"),  # newton-metres for inch-pounds
        ("12 lbf.in", "12 N.m"),
        ("1.2 N.m", "1.2 kgf.m"),
        ("122 N.m", "122 kgf.cm"),
        ("12 kgf.cm", "12 N.m"),
        ("1.2 N.m", "12 N.m"),  # the decimal point
        ("120 N.m", "12 N.m"),
        ("90 lbf.ft", "9 lbf.ft"),
        ("8 to 10 lbf.in", "8 to 10 lbf.ft"),
    ],
)
def test_a_slip_that_magnitude_can_catch_is_caught(typed: str, meant: str):
    answer = check(typed, band(QUARTER_28, "gr 5"))
    assert answer.verdict == "slip"
    assert meant in [slip.words for slip in answer.slips]
    assert "Look at the maker's page again." in answer.words[1]
    assert answer.words[-1] == WINS


def test_newton_metres_for_foot_pounds_cannot_be_told_and_that_is_said():
    for typed in ("9 lbf.ft", "9 N.m", "12 N.m"):
        answer = check(typed, band(QUARTER_28, "gr 5"))
        assert (answer.verdict, CANNOT_TELL in answer.words) == ("plausible", True)


def test_a_figure_that_no_slip_explains_is_said_to_fit_nothing():
    answer = check("1 N.m", band())
    assert answer.verdict == "does not fit"
    assert answer.words[1:] == (
        "No usual slip explains it: check thread, class and page.",
        "Plugs, soft gaskets and light alloy are often set lower than the bolt could bear.",
        WINS,
    )


def test_where_nothing_is_known_nothing_is_judged():
    ten = TABLES.threads_of("No.10")[0]
    assert torque_band(ten, "gr 5", "dry", TABLES) is None
    assert check("3 N.m", None).verdict == "not judged"


def test_where_the_class_is_not_said_the_usual_ones_are_allowed_for_and_that_is_said():
    wide = band(strength="")
    assert wide.low == band().low
    assert wide.high == band(strength="10.9").high
    assert "The class is not said; 8.8 to 10.9 are allowed for." in check("24 N.m", wide).words


_THREADS = st.sampled_from([t for t in TABLES.threads if t.size != "No.10"])
_UNITS = (N_M, LBF_FT, LBF_IN, KGF_M, KGF_CM)


@given(_THREADS, st.booleans(), st.sampled_from(list(LUBRICATION)), st.floats(0, 1), st.data())
def test_every_slip_of_seven_times_and_more_is_caught_for_every_bolt(thread, said, lubrication, where, data):
    """The band is never as wide as such a slip, so a figure that was right is wrong after it."""
    strength = ("gr 5" if thread.per_inch else "8.8") if said else ""
    here = band(thread, strength, lubrication)
    right = here.low * (here.high / here.low) ** where
    meant, typed = data.draw(st.permutations(_UNITS).map(lambda each: each[:2]))
    number = right / float(meant.factor)
    factor = float(typed.factor / meant.factor)
    answer = check(f"{number:.6f} {typed.name}", here)
    if not 1 / 7 < factor < 7:
        assert answer.verdict != "plausible"
        inside = right / here.low > 1.001 and right / here.high < 0.999 and number > 0.01
        assert not inside or f"{number:.6f} {meant.name}" in [slip.words for slip in answer.slips]


@given(_THREADS, st.sampled_from(list(LUBRICATION)))
def test_a_stronger_or_thicker_bolt_takes_more(thread, lubrication):
    weak, strong = ("gr 2", "gr 8") if thread.per_inch else ("5.8", "12.9")
    assert band(thread, weak, lubrication).usual < band(thread, strong, lubrication).usual
    assert band(thread, weak, lubrication).low < band(thread, weak, lubrication).usual


@pytest.mark.parametrize("typed", ["100 lbf.in", "100 kgf.cm"])
def test_small_units_that_friction_hides_are_said_too(typed: str):
    """1 lbf.in is 0.45359237 x 2.54 = 1.152 kgf.cm, exactly by the international pound and inch."""
    quarter = next(thread for thread in TABLES.threads if thread.name == "1/4-28")
    words = check(typed, band(quarter, "gr 5")).words
    said = "lbf.in typed for kgf.cm, or the other way round (a factor of 1.15), cannot be told from friction."
    assert said in words
