"""Tally and log as a spreadsheet reads them: names whole, times with their zone, nothing run as a formula."""

import csv
import io
import json
from datetime import datetime

import pytest
from pack_workshop import JOB

from checklists.facts import Joined, Person
from checklists.teardown import fold
from mobileapp.exports import export, to_csv


def read_csv(path):
    """As a spreadsheet would read it."""
    data = path.read_bytes()
    assert data.startswith(b"\xef\xbb\xbf")
    assert b"\r\n" in data
    return list(csv.DictReader(io.StringIO(data.decode("utf-8-sig"), newline="")))


@pytest.fixture
def files(ilse, tmp_path):
    """The exports of the job."""
    ilse.rag("stores", "bench", 2)
    return {path.name: path for path in export(ilse.journal, JOB, tmp_path / "out")}


def test_the_files_are_named_after_the_job(files):
    assert sorted(files) == ["job-1-log.csv", "job-1-tally.csv", "job-1.json"]


def test_the_tally_says_where_everything_is(ilse, files):
    rows = read_csv(files["job-1-tally.csv"])
    state = fold(ilse.journal.entries(JOB))
    assert {(row["line"], row["place"]): int(row["quantity"]) for row in rows} == {
        key: quantity for key, quantity in state.balances.items() if key[1] != "origin"
    }
    bench = next(row for row in rows if row["place"] == "bench")
    assert (bench["name"], bench["where"], bench["who"]) == ("Shop rag", "on the bench", ilse.who)
    assert datetime.fromisoformat(bench["since"]).utcoffset() is not None


def test_the_log_has_every_movement_in_order(ilse, files):
    rows = read_csv(files["job-1-log.csv"])
    entries = ilse.journal.entries(JOB)
    assert [int(row["number"]) for row in rows if row["kind"] != "started"] == list(range(2, len(entries) + 1))
    assert [row["hash"] for row in rows if row["number"] == "2"] == [ilse.journal.rows(JOB)[1].hash]
    assert all(row["at"].endswith("+01:00") and row["what"] for row in rows)
    last = rows[-1]
    assert (last["line"], last["quantity"], last["source"], last["target"]) == ("rag", "2", "stores", "bench")


def test_json_holds_the_same(files):
    plain = json.loads(files["job-1.json"].read_text(encoding="utf-8"))
    tally, log = read_csv(files["job-1-tally.csv"]), read_csv(files["job-1-log.csv"])
    as_text = [{key: "" if value is None else str(value) for key, value in row.items()} for row in plain["log"]]
    assert as_text == log
    assert [{key: str(value) for key, value in row.items()} for row in plain["tally"]] == tally
    assert plain["figures"] == {"out": 6, "in_engine": 0, "missing": 0}
    assert plain["state"] == "open"


def test_names_in_any_alphabet_come_through(ilse, tmp_path):
    ilse.do(Joined(Person("Žofie Łęcka 大和", "fitter")))
    ilse.who = "Žofie Łęcka 大和"
    ilse.rag("stores", "bench")
    (tally, log) = export(ilse.journal, JOB, tmp_path, ["csv"])
    assert read_csv(log)[-1]["who"] == "Žofie Łęcka 大和"
    assert "Žofie Łęcka 大和" in {row["who"] for row in read_csv(tally)}


@pytest.mark.parametrize(
    "text",
    ['=HYPERLINK("http://example.org")', "+1+1", "-2+3", "@SUM(A1)", " =1", "\t=1", "\r=1", "\n=1", "\x00=1", "＝1"],
)
def test_nothing_is_run_as_a_formula(text):
    (row,) = list(csv.reader(io.StringIO(to_csv(["a"], [[text]]).decode("utf-8-sig"), newline="")))[1:]
    assert row[0].startswith("'")


@pytest.mark.parametrize("text", ["10 of 10", "M8 x 30", "a=b", 'he said "so"', "one, two", "line\nbreak", "", "Ünal"])
def test_plain_text_is_left_as_it_is(text):
    (row,) = list(csv.reader(io.StringIO(to_csv(["a"], [[text]]).decode("utf-8-sig"), newline="")))[1:] or [[""]]
    assert row == [text]


def test_only_what_was_asked_for(ilse, tmp_path):
    assert [path.name for path in export(ilse.journal, JOB, tmp_path, ["json"])] == ["job-1.json"]


def test_both_phones_export_the_same(ilse, jonas, pack, tmp_path):
    from mobileapp.packs import unpack

    unpack(pack, jonas.journal, jonas.store)
    ours, theirs = (export(one.journal, JOB, tmp_path / one.device) for one in (ilse, jonas))
    assert [path.read_bytes() for path in ours] == [path.read_bytes() for path in theirs]
