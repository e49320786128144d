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
    figures_apart,
    lubrication_for,
    torque_band,
)
from checklists.workshop.torque_figure import AngleFigure, TorqueFigure, read_torque, stage_percents
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
        ("24 N.m to 28 N.m", 24, 28), ("24 Nm - 28 Nm", 24, 28), ("24-28 Nm", 24, 28), ("24 N.m ± 3", 21, 27),
        ("24 N.m ± 3 N.m", 21, 27), ("24 Nm +/- 10 %", 21.6, 26.4), ("24 (±3) N.m", 21, 27),
        ("20 Nm (15 lbf.ft)", 20, 20), ("20 to 24 N.m [15 to 18 lb-ft]", 20, 24), ("20 Nm = 15 lbf.ft", 20, 20),
        ("20 Nm / 15 lbf.ft", 20, 20), ("20 N·m (2.0 kgf·m, 15 lbf·ft)", 20, 20),
        ("30 Nm, 60 Nm, 90 Nm", 90, 90), ("30/60/90 Nm", 90, 90), ("30 Nm then 60 Nm then 85 to 90 Nm", 85, 90),
        ("24 Nm +3/-0", 24, 27), ("24 +3/-1 Nm", 23, 27), ("24 Nm (+3 -1)", 23, 27), ("24 Nm max", 24, 24),
        ("max. 24 Nm", 24, 24), ("at most 24 Nm", 24, 24), ("24 Nm (dry)", 24, 24), ("24 Nm, lightly oiled", 24, 24),
        ("20 Nm (15 lbf.ft) with anti-seize", 20, 20), ("30-60-90 Nm", 90, 90), ("30, 60 and 90 Nm", 90, 90),
        ("2.4 daN.m", 24, 24), ("2.4 m.daN", 24, 24),
    ],
)  # fmt: skip
def test_figures_as_makers_write_them(typed: str, low: float, high: float):
    figure = read_torque(typed)
    assert isinstance(figure, TorqueFigure)
    assert (float(figure.low), float(figure.high), figure.text) == (low, high, typed)


@pytest.mark.parametrize(
    ("typed", "said", "lubrication"),
    [
        ("24 Nm (dry)", "dry", "dry"), ("24 Nm, lightly oiled", "lightly oiled", "oiled"), ("max. 24 Nm", "max.", ""),
        ("24 Nm with anti-seize", "with anti-seize", "anti-seize"), ("24 Nm dry (oiled)", "oiled, dry", ""),
        ("24 Nm", "", ""),
    ],
)  # fmt: skip
def test_what_the_maker_says_beside_it_is_kept_and_a_prepared_thread_counts(typed: str, said: str, lubrication: str):
    figure = read_torque(typed)
    assert isinstance(figure, TorqueFigure)
    assert (figure.said, figure.lubrication) == (said, lubrication)


def test_a_figure_that_says_oiled_is_judged_as_oiled_unless_another_is_chosen():
    oiled = read_torque("24 Nm (oiled)")
    assert not isinstance(oiled, NotUnderstood)
    assert lubrication_for(oiled, "not said") == "oiled"
    assert lubrication_for(oiled, "dry") == "dry"
    assert lubrication_for(AngleFigure("30 N.m + 90 deg"), "not said") == "not said"


@pytest.mark.parametrize("typed", ["24 Nm wet", "dry", "24 dry", "24 Nm dry 3", "24 Nm (see page 3)"])
def test_words_that_say_nothing_known_are_not_passed_over(typed: str):
    assert isinstance(read_torque(typed), NotUnderstood)


@pytest.mark.parametrize(
    ("typed", "stages", "percents"),
    [
        ("30 Nm, 60 Nm, 90 Nm", ["30 Nm", "60 Nm", "90 Nm"], (33, 67, 100)),
        ("30, 60, 90 N.m", ["30 N.m", "60 N.m", "90 N.m"], (33, 67, 100)),
        ("30,60,90 N.m", ["30 N.m", "60 N.m", "90 N.m"], (33, 67, 100)),
        ("7,5 N.m, 15 N.m", ["7,5 N.m", "15 N.m"], (50, 100)),
        ("Stage 1: 10 lbf.ft; stage 2: 22 lbf.ft", ["10 lbf.ft", "22 lbf.ft"], (45, 100)),
        ("1st 30 Nm, then 2nd 60 Nm", ["30 Nm", "60 Nm"], (50, 100)),
        ("30 Nm (22 lbf.ft), 60 Nm (44 lbf.ft)", ["30 Nm (22 lbf.ft)", "60 Nm (44 lbf.ft)"], (50, 100)),
        ("24 N.m", [], ()),
        ("20 Nm, 15 lbf.ft", [], ()),  # the same torque in two units, not two stages
    ],
)
def test_stages_in_a_row_are_the_passes_and_the_last_one_counts(typed: str, stages: list[str], percents: tuple[int]):
    figure = read_torque(typed)
    assert isinstance(figure, TorqueFigure)
    assert ([stage.text for stage in figure.stages], stage_percents(figure)) == (stages, percents)


def test_of_stages_the_last_one_is_judged():
    assert check("10 Nm, 20 Nm, 25 Nm", band()).words[0].startswith("The last stage, 25 N.m, is plausible")
    slip = check("8 Nm, 16 Nm, 240 Nm", band())
    assert slip.verdict == "slip"
    assert "240 kgf.cm or 24 N.m" in slip.words[1]


@pytest.mark.parametrize("typed", ["20 Nm (15 lbf.ft)", "80 lbf.ft (110 N.m)", "8 to 10 lbf ft (96 to 120 lbf in)"])
def test_two_units_that_are_the_same_torque_within_rounding_are_said_to_be(typed: str):
    figure = read_torque(typed)
    assert isinstance(figure, TorqueFigure)
    assert figures_apart(figure) == ()
    assert check(typed, None).words[0].endswith("the same torque within rounding.")


@pytest.mark.parametrize(
    ("typed", "told"),
    [
        ("20 Nm (15 lbf.in)", "20 N.m and 15 lbf.in are not the same torque: 20 N.m is 177 lbf.in. Was it 15 lbf.ft? "
         "Look at the maker's page again."),
        ("20 Nm (16 lbf.ft)", "20 N.m and 16 lbf.ft are not the same torque: 20 N.m is 14.8 lbf.ft. "
         "Look at the maker's page again."),
        ("20 Nm = 150 lbf.ft", "20 N.m and 150 lbf.ft are not the same torque: 20 N.m is 14.8 lbf.ft. "
         "Was it 15 lbf.ft or 200 N.m? Look at the maker's page again."),
    ],
)  # fmt: skip
def test_two_units_that_are_not_the_same_torque_want_a_second_look(typed: str, told: str):
    for against in (band(), None):
        answer = check(typed, against)
        assert (answer.verdict, answer.words[0], answer.words[-1]) == ("slip", told, WINS)


@given(st.integers(1, 900), st.sampled_from([LBF_FT, LBF_IN, KGF_M]), st.integers(0, 2))
def test_a_figure_converted_and_rounded_always_agrees_with_itself(newton_metres: int, unit, places: int):
    other = f"{newton_metres / float(unit.factor):.{places}f}"
    figure = read_torque(f"{newton_metres} N.m ({other} {unit.name})")
    if float(other):
        assert isinstance(figure, TorqueFigure)
        assert figures_apart(figure) == ()


@pytest.mark.parametrize(
    "typed", ["20/15 Nm", "30/60 Nm", "20 / 15 Nm", "20/20 lbf.ft", "3/5 Nm", "10 20/15 Nm", "20/15 Nm then 90 Nm"]
)
def test_two_figures_with_a_stroke_between_them_are_not_taken_for_a_fraction(typed: str):
    read = read_torque(typed)
    assert isinstance(read, NotUnderstood)
    assert read.words == (
        f"'{typed}' can mean two stages, two units or a fraction; "
        "write two stages like 30 N.m then 60 N.m, two units like 20 N.m = 15 lbf.ft, a fraction like 0.75 N.m."
    )


@pytest.mark.parametrize("typed", ["30 N.m then 60 N.m", "20 N.m = 15 lbf.ft", "0.75 N.m"])
def test_each_of_the_three_ways_that_it_names_is_understood(typed: str):
    assert isinstance(read_torque(typed), TorqueFigure)


@pytest.mark.parametrize(
    ("typed", "newton_metres"),
    [
        ("3/4 Nm", 0.75), ("1 1/2 Nm", 1.5), ("1-1/2 Nm", 1.5), ("7/16 N.m", 0.4375), ("½ Nm", 0.5),
        ("20 Nm/15 lbf.ft", 20),
    ],
)  # fmt: skip
def test_a_fraction_as_on_a_scale_is_one(typed: str, newton_metres: float):
    read = read_torque(typed)
    assert isinstance(read, TorqueFigure)
    assert float(read.low) == newton_metres


@given(st.text(max_size=130) | st.text(alphabet="0123456789 ,;.()/±+-=%Nmlbft", max_size=40))
def test_anything_typed_is_a_torque_or_a_sentence(text: str):
    read = read_torque(text)
    assert not isinstance(read, NotUnderstood) or read.words[-1] in ".?"
    assert not isinstance(read, TorqueFigure) or 0 < read.low <= read.high


@pytest.mark.parametrize(
    "typed",
    [
        "30 N.m + 90 deg", "30 Nm, 60 Nm, then 90 deg", "30 N.m + 90° + 90°", "40 lbf.ft then 1/4 turn", "Angle 120",
        "30 N.m + 90deg.", "30 N.m plus 90 degrees", "30 N.m + 90º", "30 N.m, angle: 60", "30 N.m + 60 angle",
        "20 N.m + a quarter turn", "20 N.m then half a turn", "20 N.m + ¼ turn", "20 N.m + one more turn",
        "20 N.m + three-quarters of a turn", "20 N.m + 1/8-turn (degreased)", "1 1/2 turns after it touches",
        "30 N.m + 90 ± 5 degrees", "30 N.m; tighten by an angle of 90", "30 N.m + 2 flats", "30 N.m + one flat",
    ],
)  # fmt: skip
def test_angle_tightening_passes_through_untouched(typed: str):
    assert read_torque(typed) == AngleFigure(typed)
    answer = check(typed, band())
    assert answer.verdict == "not judged"
    assert answer.words == (f"{typed}: tightened by angle, exactly as the maker writes it.", WINS)


@pytest.mark.parametrize(
    ("typed", "torque", "lubrication"),
    [
        ("24 N.m degreased", 24, "dry"), ("240 N.m (threads degreased)", 240, "dry"),
        ("Degreased: 24 N.m", 24, "dry"), ("24 N.m, clean and degreased", 24, "dry"),
    ],
)  # fmt: skip
def test_a_degreased_thread_is_a_dry_one_and_no_angle(typed: str, torque: int, lubrication: str):
    read = read_torque(typed)
    assert isinstance(read, TorqueFigure), read
    assert (read.low, read.high, read.lubrication) == (torque, torque, lubrication)


def test_a_slip_beside_such_a_word_is_caught():
    answer = check("240 N.m (threads degreased)", band())
    assert answer.verdict == "slip"
    assert "24 N.m" in " ".join(slip.words for slip in answer.slips)


@pytest.mark.parametrize(
    "typed",
    [
        "24 N.m, turn evenly", "24 Nm on angled flange", "24 Nm, right angle wrench", "24 N.m at 20 °C",
        "24 N.m, oil at 20 degrees C", "24 N.m, turn by turn", "24 N.m + angle", "24 N.m in three turns",
    ],
)  # fmt: skip
def test_words_of_turning_without_an_angle_are_said_not_to_be_understood(typed: str):
    """Taken for tightening by angle, a slip beside them would be judged by nobody."""
    read = read_torque(typed)
    assert isinstance(read, NotUnderstood), read
    assert read.words.endswith(
        "If it is tightened by angle, write the angle, like 30 N.m + 90 deg or 1/4 turn; else leave such words out."
    )


@pytest.mark.parametrize(
    ("typed", "why"),
    [
        ("24", "The unit is missing; write it like 24 N.m."),
        ("24 lb", "lb measures mass, and a torque is wanted here; write it like 24 N.m."),
        ("0 N.m", "'0 N.m' tightens nothing; write it like 24 N.m."),
        ("10 to 8 N.m", "'10 to 8 N.m' does not run from small to large; write it like 8 to 10 lbf.ft."),
        ("30 Nm +90", "'30 Nm +90': what is added has no unit. If it is an angle, write it like 30 N.m + 90 deg."),
        ("60 Nm, 30 Nm", "'60 Nm, 30 Nm' does not rise from stage to stage; write the last stage alone, the rest as a "
         "caution."),
        ("10 lbf.ft, 20 Nm, 30 Nm",
         "'10 lbf.ft, 20 Nm, 30 Nm' gives its stages in different units; write them in one."),
        ("24 N.m to 20 lbf.ft", "'24 N.m to 20 lbf.ft' runs from N.m to lbf.ft; write both ends in one unit."),
        ("1,200 to 1,400 lbf.in", "'1,200 to 1,400 lbf.in' can mean 1.200 or 1200; write the one you mean."),
        ("1,200 lbf.in", "'1,200 lbf.in' can mean 1.200 or 1200; write the one you mean."),
        ("24 Nm (25 Nm)", "'24 Nm (25 Nm)' says N.m twice; write the figure that counts alone."),
        ("24 N.m ± 30", "'24 N.m ± 30' does not run from small to large; write it like 8 to 10 lbf.ft."),
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
