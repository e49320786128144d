"""Specification strings as people write them, and what is said about those that are not understood."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checklists.workshop.fastener import find_fastener
from checklists.workshop.fastener_spec import Spec, SpecReading, read_spec
from checklists.workshop.torque import torque_band
from mobileapp.tables import fastener_tables

TABLES = fastener_tables()


def read(text: str) -> Spec:
    reading = read_spec(text, TABLES)
    assert reading.spec, reading
    assert reading.understood, reading
    return reading.spec


def faults(text: str) -> tuple[str, ...]:
    return read_spec(text, TABLES).faults


@pytest.mark.parametrize(
    ("typed", "kind", "thread", "length", "strength"),
    [
        ("M8x25 8.8", "hex bolt", "M8x1.25", "25", "8.8"),
        ("M 8 x 25", "hex bolt", "M8x1.25", "25", ""),
        ("m8*25mm 8.8 zinc", "hex bolt", "M8x1.25", "25", "8.8"),
        ("M8x1.25x30 12.9 socket", "socket head", "M8x1.25", "30", "12.9"),
        ("M8×1,25×30", "hex bolt", "M8x1.25", "30", ""),
        ("М8х25 8,8", "hex bolt", "M8x1.25", "25", "8.8"),  # typed with Cyrillic М and х
        ("M8x1x25", "hex bolt", "M8x1", "25", ""),
        ("M5x.8x10", "hex bolt", "M5x0.8", "10", ""),  # the pitch as Americans write it
        ("M5x10x.8", "hex bolt", "M5x0.8", "10", ""),
        ("M5-.8 x 16 8.8", "hex bolt", "M5x0.8", "16", "8.8"),
        ("M4x.70 nut", "hex nut", "M4x0.7", "0", ""),
        ("M5x,8 nut", "hex nut", "M5x0.8", "0", ""),
        ("M8-1.25 x 30", "hex bolt", "M8x1.25", "30", ""),
        ("M8-6g x 25 8.8", "hex bolt", "M8x1.25", "25", "8.8"),  # tolerance classes as ISO 965-1 and
        ("M8-6H nut", "hex nut", "M8x1.25", "0", ""),  # ASME B1.1 write them
        ("M8x1-4h6h x 20", "hex bolt", "M8x1", "20", ""),
        ("5/16-18UNC-2Ax1 gr 5", "hex bolt", "5/16-18", "25.4", "gr 5"),
        ("1/4-28 UNF-2B nut", "hex nut", "1/4-28", "0", ""),
        ("M10 fine bolt x 40", "hex bolt", None, "40", ""),
        ("ISO 4014 - M12x80 - 8.8", "hex bolt", "M12x1.75", "80", "8.8"),
        ("DIN 933 M10x30 A2-70", "hex bolt", "M10x1.5", "30", "A2-70"),
        ("ISO4762 M6x20-12.9", "socket head", "M6x1", "20", "12.9"),
        ("M16x55-10.9", "hex bolt", "M16x2", "55", "10.9"),
        ("M8 stud x 60", "stud", "M8x1.25", "60", ""),
        ("M10 nut class 8", "hex nut", "M10x1.5", "0", "8"),
        ("M6 washer", "washer", "M6x1", "0", ""),
        ("1/4-28 x 1 gr 5", "hex bolt", "1/4-28", "25.4", "gr 5"),
        ('1/4" UNC x 1½" gr. 8', "hex bolt", "1/4-20", "38.1", "gr 8"),
        ("1/4-28 UNF x 1-1/4 grade 5", "hex bolt", "1/4-28", "31.75", "gr 5"),
        ("1/4-28 x 25 mm", "hex bolt", "1/4-28", "25", ""),
        (".25-20 x .75", "hex bolt", "1/4-20", "19.05", ""),
        ("5/16 UNC nut", "hex nut", "5/16-18", "0", ""),
        ("7/16 fine nut", "hex nut", "7/16-20", "0", ""),
        ("#10-24 x 1/2", "hex bolt", "No.10-24", "12.7", ""),
        ("No. 10-32 x 1/2 socket head cap screw", "socket head", "No.10-32", "12.7", ""),
        ("10-32 x 1/2", "hex bolt", "No.10-32", "12.7", ""),
        ('M8 x 1"', "hex bolt", "M8x1.25", "25.4", ""),
        ("M8 x 25 x 1.25", "hex bolt", "M8x1.25", "25", ""),
        ("M8 nut 8", "hex nut", "M8x1.25", "0", "8"),
        ("M10x1.25 nut |10|", "hex nut", "M10x1.25", "0", "10"),
        ("M8 by 25 bolt", "hex bolt", "M8x1.25", "25", ""),
        ("1/4 20 UNC x 1", "hex bolt", "1/4-20", "25.4", ""),
        ("1/4 28 x 1 gr5", "hex bolt", "1/4-28", "25.4", "gr 5"),
        ("M8-nut-8", "hex nut", "M8x1.25", "0", "8"),
        ("M8x25-8.8-socket-head", "socket head", "M8x1.25", "25", "8.8"),
        ("1/4-20-UNC-nut", "hex nut", "1/4-20", "0", ""),
        ("M8 nut 04", "hex nut", "M8x1.25", "0", "04"),
        ("M10 half nut", "hex nut", "M10x1.5", "0", ""),
        ("M10 half nuts 04", "hex nut", "M10x1.5", "0", "04"),
        ("M8x20 socket screws", "socket head", "M8x1.25", "20", ""),
        ("M8 hex nuts", "hex nut", "M8x1.25", "0", ""),
        ("M8 nut A4-80", "hex nut", "M8x1.25", "0", "A4-80"),
        ("M8x25 A2", "hex bolt", "M8x1.25", "25", "A2"),
        ("M8 x 25 A4 80", "hex bolt", "M8x1.25", "25", "A4-80"),
        ("M8 washer A2", "washer", "M8x1.25", "0", "A2"),
        ("M8x25 grade 8.8", "hex bolt", "M8x1.25", "25", "8.8"),
        ("M8 x 25 bolt", "hex bolt", "M8x1.25", "25", ""),
        ("M8 bolt, 25 mm long", "hex bolt", "M8x1.25", "25", ""),
        ("M8 bolt 25mm 8.8", "hex bolt", "M8x1.25", "25", "8.8"),
        ("M12x1.5 stud 60 long", "stud", "M12x1.5", "60", ""),
        ("1/4 in bolt 1 in long", "hex bolt", None, "25.4", ""),
        ("1/4 inch UNC bolt, 1 1/2 inch long", "hex bolt", "1/4-20", "38.1", ""),
        ("1/4-20 UNC x 3/4", "hex bolt", "1/4-20", "19.05", ""),
        ("1/4 washer USS", "washer", None, "0", ""),
        ("M6 x 30 cover bolt", "hex bolt", "M6x1", "30", ""),
    ],
)
def test_specifications_as_people_write_them(
    typed: str, kind: str, thread: str | None, length: str, strength: str
):
    spec = read(typed)
    assert (spec.kind, spec.thread and spec.thread.name, spec.length, spec.strength) == (
        kind, thread, Decimal(length), strength,
    )  # fmt: skip
    assert spec.text == typed


@pytest.mark.parametrize(("typed", "size"), [("12-24 x 1/2", "No.12"), ("6-32 x 1/2", "No.6"), ("8-32", "No.8")])
def test_a_number_size_that_is_not_held_is_named_and_not_taken_for_its_length(typed: str, size: str):
    (fault,) = read_spec(typed, TABLES).faults
    assert fault.startswith(f"{size} is not in the tables (No.10 to 3/4)")


def test_flanges_thin_nuts_and_wide_washers_are_marked():
    assert read("M8 flange nut").flange
    assert read("M6 x 25 flange bolt").flange
    assert read("M10 jam nut").thin
    assert read("M10 half nut").thin
    assert read("M10 nut ISO 4035").thin
    assert [read(f"1/4 washer{said}").series for said in ("", " USS", " SAE")] == ["", "USS", "SAE"]


@pytest.mark.parametrize(
    ("typed", "answer"),
    [
        ("M9x20", "M9 is not in the tables (M3 to M20); did you mean M8 or M10?"),
        ("M8x1.1x30", "M8x1.1 is not in the tables; did you mean M8x1.25 or M8x1?"),
        ("1/4-24 x 1", "1/4-24 is not in the tables; did you mean 1/4-20 or 1/4-28?"),
        ("1/3-20 x 1", "1/3 is not in the tables (No.10 to 3/4); did you mean 5/16 or 3/8?"),
        ("#8-32 x 1/2", "No.8 is not in the tables (No.10 to 3/4); did you mean No.10 or 1/4?"),
        ("M8x25 8.9", "'8.9' is no class or grade known here; did you mean '8.8'?"),
        ("M8x25 gr 5", "'gr 5' is an inch grade; a metric bolt has a class such as 8.8."),
        ("1/4-20 x 1 8.8", "'8.8' is a metric class; an inch bolt has a grade such as gr 5."),
        ("M8 wsher", "'wsher' is not understood; did you mean 'washer'?"),
        ("M8x25 banana", "'banana' is not understood."),
        ("M8 25", "'25' is not understood; did you mean 'x25'? A length is written after x."),
        ("8x25 8.8", "'8x25' is no thread size; did you mean 'M8x25'?"),
        ("10mm bolt", "'10mm' can be the size of the thread (M10) or of the spanner (M6 takes that): measure the "
         "thread and write it, like M10 or M6."),
        ("8 mm bolt", "'8 mm' can be the size of the thread (M8) or of the spanner (M5 takes that): measure the thread "
         "and write it, like M8 or M5."),
        ("16 mm nut 8", "'16 mm' can be the size of the thread (M16) or of the spanner (M10 takes that): measure the "
         "thread and write it, like M16 or M10."),
        ("12 mm bolt", "'12 mm' can be the size of the thread (M12) or of the spanner of a smaller one: measure the "
         "thread and write that."),
        ("13 mm nut", "'13 mm' can be the size of the spanner (M8 takes that): measure the thread and write it, like "
         "M8."),
        ("19mm bolt", "'19mm' can be the size of the spanner (M12 takes that): measure the thread and write it, like "
         "M12."),
        ("6 mm socket screw", "'6 mm' can be the size of the thread (M6) or of the key (M8 takes that): measure the "
         "thread and write it, like M6 or M8."),
        ("8 mm washer", "'8 mm' is no thread size; did you mean 'M8'?"),
        ("8 mm stud", "'8 mm' is no thread size; did you mean 'M8'?"),
        ("M8x25 109", "'109' is not understood; did you mean '10.9'?"),
        ("M8x25 8", "'8' is not understood; did you mean '8.8'?"),
        ("M8x25 class 10", "'10' is a nut's class; a bolt's has a point: did you mean '10.9'?"),
        ("M8 nut 7", "'7' is no class of a nut (4, 5, 6, 8, 9, 10, 12, 04 or 05); did you mean '6'?"),
        ("5/16 UNC nut 8", "'8' is a metric nut's class; an inch one has a grade: did you mean 'gr 8'?"),
        ("M8x25 A2-90", "'A2-90' is no class of stainless (A2-50, A2-70 or A2-80); did you mean 'A2-80'?"),
        ("M8x25 A7-70", "'A7-70' is no stainless steel known here; did you mean 'A2-70'?"),
        ("M8x25 8.8 A2", "'A2' and '8.8' are two strengths; write the one that is marked on it."),
        ("2 x M8x25 8.8", "'2' is not understood; a length is said already, and how many there are is said apart."),
        ("M8x25 x10", "'x10' is not understood; a length is said already, and how many there are is said apart."),
        ("M8x25x10 8.8", "'x10' is not understood; a length is said already, and how many there are is said apart."),
        ("M8x25 x 10 bolts",
         "'x10' is not understood; a length is said already, and how many there are is said apart."),
        ("M8x3x25", "M8x3 is not in the tables; did you mean M8x1.25 or M8x1?"),
        ("M8 nut x 20", "A hex nut has no length; 20 is not understood."),
        ("M8x0 bolt", "A length of 0 is nothing; write it like M8x25."),
        ("M8 bolt 1 mm long", "A length of 1 mm is not a fastener's; check the unit."),
        ("1/4-20 x .05", "A length of 1.27 mm is not a fastener's; check the unit."),
        ("M5x.9 nut", "M5x0.9 is not in the tables; did you mean M5x0.8?"),
        ("5/16-24 UNC bolt", "5/16-24 is UNF, not UNC; check which it is."),
        (
            "Hose clip 25 mm",
            "'Hose clip 25 mm' has no thread size that is known here; "
            "write it like M8x25 8.8, 1/4-28 x 1 gr 5 or M6 washer.",
        ),
    ],
)
def test_what_is_not_understood_is_said_with_a_near_miss(typed: str, answer: str):
    assert faults(typed) == (answer,)


@pytest.mark.parametrize(
    ("typed", "thread", "length"),
    [
        ("1/4 x 28", "1/4-28", "28"), ("3/8x24", "3/8-24", "24"), ("5/16x18", "5/16-18", "18"),
        ("#10 x 32 screw", "No.10-32", "32"), ("1/4 bolt x 20", "1/4-20", "20"), ("1/4 x 28 nut", "1/4-28", "28"),
    ],
)  # fmt: skip
def test_threads_per_inch_after_an_x_are_not_taken_for_a_length(typed: str, thread: str, length: str):
    (fault,) = faults(typed)
    size = thread.rpartition("-")[0]
    by_unit = f"write {length} in or {length} mm if it is a length"
    assert fault == f"{size} x {length} can be a thread: did you mean {thread}? Else {by_unit}."


@pytest.mark.parametrize(
    ("typed", "mm"),
    [("1/4 x 28 mm", 28), ("1/4 x 28 in", 711.2), ("1/4-28 x 20", 508), ("1/4 x 2", 50.8), ("M8x20", 20)],
)
def test_a_length_with_its_unit_or_after_its_thread_is_one(typed: str, mm: float):
    assert float(read(typed).length) == mm


@pytest.mark.parametrize("typed", ["M5x.8 bolt", "M5x0.8 bolt", "M5 bolt x .8", "M5 bolt x 0.8", "M5-.8 bolt"])
def test_a_pitch_is_never_taken_for_a_length(typed: str):
    """A head without its shank would else be what the pieces have to add up to."""
    reading = read_spec(typed, TABLES)
    assert (read(typed).length, reading.notes[-1]) == (0, "The length is not said.")
    assert read(typed).thread is TABLES.threads_of("M5")[0]


def test_what_was_understood_is_kept_beside_the_fault():
    reading = read_spec("M8x25 8.9", TABLES)
    assert not reading.understood
    assert reading.spec
    assert (reading.spec.size, reading.spec.length) == ("M8", 25)


def test_of_stainless_without_its_class_the_proof_strength_is_not_known_and_that_is_said():
    """ISO 3506: A2 and A4 name the steel; 50, 70 and 80 say how strong it is. From memory, to be confirmed."""
    said = "A2 says the steel, not how strong it is: its proof strength is not known."
    told = f"{said} The head says A2-50, A2-70 or A2-80."
    assert read_spec("M8x25 A2", TABLES).notes == ("Taken for a hex bolt.", told)
    assert read_spec("M8 x 25 bolt A2-70", TABLES).notes == read_spec("M8 washer A2", TABLES).notes == ()
    spec = read("M8 x 25 bolt A2")
    assert find_fastener(spec, TABLES).strength is None
    assert torque_band(TABLES.threads_of("M8")[0], spec.bolt_strength, "dry", TABLES) is None


def test_a_nuts_class_says_nothing_of_its_bolt():
    assert [read(text).bolt_strength for text in ("M8 nut 8", "M8 washer A2", "M8x25 8.8")] == ["", "", "8.8"]


def test_what_is_assumed_is_said():
    assert read_spec("M8x25", TABLES).notes == ("Taken for a hex bolt.",)
    assert read_spec("1/4 x 1 bolt", TABLES).notes == ("The thread is not settled: 1/4-20 or 1/4-28.",)
    assert read_spec("M8 bolt", TABLES).notes == ("The length is not said.",)
    assert read_spec("M8", TABLES).notes == ("Say what it is: bolt, socket screw, nut, washer or stud.",)
    assert read_spec("M6 sealing washer", TABLES).notes == (
        "The tables do not hold this shape (sealing): measure it.",
    )  # fmt: skip


@given(st.text(max_size=200) | st.text(alphabet='Mm8x125./-#" unfgr×х½,', max_size=30))
def test_anything_typed_gets_a_record_or_a_sentence(text: str):
    reading = read_spec(text, TABLES)
    assert isinstance(reading, SpecReading)
    assert reading.spec or reading.faults
    assert all(fault[-1] in ".?" for fault in reading.faults)


@given(
    st.sampled_from(TABLES.threads), st.integers(5, 200), st.sampled_from(["hex bolt", "socket head", "stud"])
)
def test_a_thread_written_out_is_read_back(thread, length: int, kind: str):
    unit = " mm" if thread.per_inch else ""
    spec = read(f"{thread.name} x {length}{unit} {kind}")
    assert (spec.thread, spec.length, spec.kind) == (thread, length, kind)
