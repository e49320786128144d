"""Nothing anybody types makes the reading of a sheet fall over: it gives a sheet, or faults, and never both."""

import rfc8785
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from sheet_texts import SMALL

from checklists.sheet_plain import sheet_from_plain, sheet_to_plain
from checklists.sheet_reading import check_sheet, read_sheet, report
from mobileapp.shelf import shipped_sheets

TEXTS = [SMALL, *(path.read_text("utf-8") for path in shipped_sheets().values())]
ODD_VALUES = [
    "0", "-1", "1", "true", "nan", "-inf", "1e400", "1e-400", "1e99999999999999999999", "0x" + "f" * 5000, "9" * 5000,
    '""', '" "', '"port-1"', '"Port 1"', '"\\u0000"', '"\\U0010FFFF"', "[]", "[[]]", "[1, 'a', {}]", "{}", "{ a = 1 }",
    "{ shape = 'circle', mm = [] }", "{ shape = 1, mm = 'x' }", "2026-03-02", "08:15:00", "2026-03-02T08:15:00Z",
    '"""\n\n"""', "'''a''b'''", "", "=", "[" * 2000,
]  # fmt: skip

KEY_LETTERS = "abidnameo=[]{}\"' \n.,#01-_\u00e4\ud800"
#: Speed is no concern here, and a busy machine is no fault of the sheet's.
patient = settings(deadline=None, suppress_health_check=[HealthCheck.too_slow])


def check_answer(text: str) -> None:
    sheet, faults = read_sheet(text, "any.toml")
    assert (sheet is None) == bool(faults)
    assert report(faults).encode("utf-8", "strict") is not None
    for fault in faults:
        assert fault.message
        assert "\n" not in str(fault)
        assert len(str(fault)) < 2000
    if sheet is not None:
        assert check_sheet(sheet) == ()
        plain = sheet_to_plain(sheet)
        assert rfc8785.dumps(plain)
        assert sheet_from_plain(plain) == sheet


@patient
@given(st.text(st.characters()))
def test_any_text(text: str):
    check_answer(text)


@patient
@given(st.text("abid=[]{}\"'\n\\u.,#0123e-+_ :TZ\ud800", max_size=60))
def test_any_text_that_looks_a_little_like_toml(text: str):
    check_answer(text)


@patient
@given(st.sampled_from(TEXTS), st.data())
def test_a_sheet_with_lines_changed_about(text: str, data: st.DataObject):
    lines = text.splitlines()
    for _ in range(data.draw(st.integers(1, 5))):
        spoil_a_line(lines, data)
    check_answer("\n".join(lines))


def spoil_a_line(lines: list[str], data: st.DataObject) -> None:
    at = data.draw(st.integers(0, len(lines) - 1))
    key, sign, _ = lines[at].partition("=")
    how = data.draw(st.sampled_from(["value", "value", "value", "key", "drop", "twice", "swap", "borrow"]))
    other = lines[data.draw(st.integers(0, len(lines) - 1))]
    if how == "value" and sign:
        lines[at] = f"{key}= {data.draw(st.sampled_from(ODD_VALUES))}"
    elif how == "key" and sign:
        lines[at] = lines[at].replace(key.strip(), data.draw(st.text(KEY_LETTERS, min_size=1, max_size=9)), 1)
    elif how == "drop" and len(lines) > 1:
        del lines[at]
    elif how == "twice":
        lines.insert(at, lines[at])
    elif how == "borrow" and sign:
        lines[at] = f"{key}={other.partition('=')[2]}"
    else:
        lines[at] = other


@patient
@given(st.sampled_from(TEXTS), st.data())
def test_a_sheet_with_a_stretch_cut_out_or_pasted_over(text: str, data: st.DataObject):
    start = data.draw(st.integers(0, len(text)))
    end = data.draw(st.integers(start, min(len(text), start + 400)))
    check_answer(text[:start] + data.draw(st.text(KEY_LETTERS, max_size=12)) + text[end:])
