"""Finding a fastener in the tables: its shape, strength and computed mass, and what is said when it is not there."""

import subprocess
import sys
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checklists.workshop.fastener import Fastener, find_fastener
from checklists.workshop.fastener_spec import read_spec
from checklists.workshop.fasteners import TABLE_NAMES, proof_load, read_tables
from mobileapp.tables import FASTENER_DATA, fastener_tables

TABLES = fastener_tables()


def found(text: str) -> Fastener:
    spec = read_spec(text, TABLES).spec
    assert spec
    return find_fastener(spec, TABLES)


def test_a_bolt_has_a_head_a_strength_and_a_mass():
    bolt = found("M8x25 8.8")
    assert bolt.hexagon
    assert bolt.strength
    assert bolt.mass
    assert bolt.spec.thread
    assert (bolt.hexagon.standard, bolt.hexagon.flats.high) == ("ISO 4014/4017", 13)
    assert proof_load(bolt.spec.thread, bolt.strength) == pytest.approx(36.6 * 580)
    assert 12 < bolt.mass.grams < 15
    assert bolt.notes == ()


def test_a_bolt_of_no_stated_standard_is_told_to_be_measured_where_the_widths_differ():
    assert found("M10x30").notes == (
        "16 mm across flats by ISO; to the older DIN standard it is 17 mm: measure it.",
    )  # fmt: skip
    assert found("M10x30 DIN 933").notes == found("M10x30 ISO 4017").notes == ()


def test_an_inch_size_is_exact_in_millimetres():
    bolt = found("1/4-28 x 1 gr 5")
    assert bolt.hexagon
    assert bolt.hexagon.flats.high == Decimal("0.438") * Decimal("25.4") == Decimal("11.1252")


@pytest.mark.parametrize(
    ("spec", "standard"),
    [
        ("M8 nut", "ISO 4032"), ("M8 nut DIN 934", "DIN 934"), ("M3 nut DIN 934", "ISO 4032"),
        ("M10 jam nut", "ISO 4035"), ("M10 nut DIN 439", "DIN 439"), ("M8 flange nut", "EN 1661"),
        ("M6x25 flange bolt", "EN 1665"), ("1/4 washer", "ASME B18.21.1 SAE"), ("1/4 washer USS", "ASME B18.21.1 USS"),
        ("M18x40 socket", "DIN 912"), ("#10-24 x 1/2 bolt", "ASME B18.6.3"), ("1/2-13 nut", "ASME B18.2.2"),
    ],
)  # fmt: skip
def test_the_row_is_that_of_the_standard_meant(spec: str, standard: str):
    fastener = found(spec)
    row = fastener.hexagon or fastener.washer or fastener.socket
    assert row
    assert row.standard == standard


@pytest.mark.parametrize(
    ("spec", "note"),
    [
        ("M18x40 flange bolt", "The tables hold no flanged hex bolt of size M18: measure it."),
        ("9/16-12 x 1 socket", "The tables hold no socket head of size 9/16: measure it."),
        ("1/4-20 jam nut", "The tables hold no thin hex nut of size 1/4: measure it."),
        ("#10-24 x 1 gr 5", "The standard gives no proof strength for gr 5 at No.10."),
    ],
)
def test_what_the_tables_do_not_hold_is_said(spec: str, note: str):
    assert found(spec).notes == (note,)


def test_a_shape_that_is_not_in_the_tables_gets_no_shape_and_no_mass():
    screw = found("M6x20 countersunk 8.8")
    assert screw.hexagon is screw.socket is screw.mass is None
    assert screw.strength


def test_a_bolt_threaded_all_along_is_lighter_and_not_saying_so_widens_the_error():
    full, part, unsaid = (found(f"M8x60{s}").mass for s in (" ISO 4017", " ISO 4014", ""))
    assert full
    assert part
    assert unsaid
    assert full.grams < unsaid.grams < part.grams
    assert unsaid.error > max(full.error, part.error)
    assert abs(unsaid.grams - full.grams) < unsaid.error * unsaid.grams


@given(st.sampled_from([f"M{d}" for d in (3, 4, 5, 6, 8, 10, 12, 14, 16, 18, 20)]), st.integers(10, 150))
def test_a_longer_bolt_is_heavier(size: str, length: int):
    for kind in ("bolt", "socket", "stud"):
        shorter, longer = (found(f"{size}x{each} {kind}").mass for each in (length, length + 1))
        assert shorter
        assert longer
        assert shorter.grams < longer.grams


def test_every_size_of_the_trade_is_held():
    metric = {f"M{d}" for d in (3, 4, 5, 6, 8, 10, 12, 14, 16, 18, 20)}
    inch = {"No.10", "1/4", "5/16", "3/8", "7/16", "1/2", "9/16", "5/8", "3/4"}
    for rows in (TABLES.threads, TABLES.heads, TABLES.nuts, TABLES.washers):
        assert {row.size for row in rows} == metric | inch
    assert {row.size for row in TABLES.sockets} == (metric | inch) - {"9/16"}
    for size in inch:
        assert {thread.series for thread in TABLES.threads_of(size)} == {"UNC", "UNF"}


@pytest.mark.parametrize("name", TABLE_NAMES)
def test_every_table_names_its_standards_and_how_they_were_read(name: str):
    head = [
        line
        for line in (FASTENER_DATA / f"{name}.csv").read_text("utf-8").splitlines()
        if line.startswith("#")
    ]
    assert any("[V2]" in line for line in head)
    assert any("from memory" in line or "reprint" in line for line in head)


def test_spans_run_from_small_to_large():
    for row in TABLES.heads + TABLES.nuts:
        assert row.height.low < row.height.high
    for washer in TABLES.washers:
        assert washer.hole.low < washer.hole.high < washer.outside.low < washer.outside.high
        assert washer.height.low < washer.height.high
    for socket in TABLES.sockets:
        assert socket.head.low < socket.plain <= socket.head.high
        assert socket.engagement < socket.height.low
        assert socket.key < socket.plain


def test_tables_are_read_from_text_so_that_the_rules_touch_no_file():
    texts = {name: (FASTENER_DATA / f"{name}.csv").read_text("utf-8") for name in TABLE_NAMES}
    assert read_tables(texts) == TABLES


def test_the_tables_are_read_only_when_asked_for():
    """Importing the reader costs no file: a child process counts what it opens."""
    tell = (
        "import sys; opened = []; sys.addaudithook(lambda e, a: opened.append(str(a[0])) if e == 'open' else None);"
        "import mobileapp.tables as t; print(sum(o.endswith('.csv') for o in opened));"
        "t.fastener_tables(); t.fastener_tables(); print(sum(o.endswith('.csv') for o in opened))"
    )
    done = subprocess.run([sys.executable, "-c", tell], capture_output=True, text=True, check=True)
    assert done.stdout.split() == ["0", str(len(TABLE_NAMES))]
