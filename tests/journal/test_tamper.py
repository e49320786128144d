"""Whoever changes, deletes, swaps or inserts any single entry behind our back is found out, every time.

The triggers are dropped for the deed and put back afterwards, so that only the entries can give it away.
"""

import contextlib
import sqlite3
from itertools import combinations

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from journal_workshop import Tamper, write_two_phones

from mobileapp.journal import prove
from mobileapp.journal.canonical import NOTHING_BEFORE, Envelope, arrival_after, envelope_hash

COLUMNS = ["id", "teardown", "device", "seq", "tick", "at", "who", "kind", "body", "seen", "prev", "hash", "arrival"]
ENTRIES = 15


@pytest.fixture(scope="module")
def two_phones(tmp_path_factory):
    """Two jobs, two phones, fifteen entries, proven."""
    path = tmp_path_factory.mktemp("yard") / "journal.sqlite"
    write_two_phones(path)
    assert prove(path) == []
    return path


@pytest.fixture
def tamper(two_phones, tmp_path):
    """A copy with its triggers dropped."""
    return Tamper(two_phones, tmp_path)


def rehashed(row):
    """The row with the hash that its content should have."""
    envelope = Envelope(*[row[name] for name in Envelope._fields])
    return {**row, "hash": envelope_hash(envelope)}


def sealed(rows):
    """The rows numbered and sealed again in the order they stand in."""
    arrival, done = NOTHING_BEFORE, []
    for number, row in enumerate(rows, 1):
        arrival = arrival_after(arrival, row["hash"])
        done.append({**row, "id": number, "arrival": arrival})
    return done


def otherwise(row, column):
    """Another value of the same kind for this column."""
    value = row[column]
    if column in ("id", "seq"):
        return value + 100
    if isinstance(value, int):
        return value + 1
    if column == "body":
        return value.replace("{", '{"extra":1,', 1) if value == "{}" else value.replace(":", ": ", 1)
    if column == "seen":
        return '{"phone-z":"' + NOTHING_BEFORE + '"}'
    return value[:-1] + ("0" if value[-1] != "0" else "1")


def test_dropping_and_restoring_the_triggers_alone_changes_nothing(tamper):
    rows = tamper.rows()
    assert len(rows) == ENTRIES
    assert [row["kind"] for row in rows[-2:]] == ["work done", "counted"]
    tamper.write(sealed(rows))
    assert tamper.findings() == []


@pytest.mark.parametrize("column", COLUMNS)
@pytest.mark.parametrize("entry", range(ENTRIES))
def test_a_change_in_any_column_of_any_entry_is_found(tamper, entry, column):
    rows = tamper.rows()
    rows[entry][column] = otherwise(rows[entry], column)
    tamper.write(rows)
    assert tamper.findings()


@pytest.mark.parametrize("column", [c for c in COLUMNS if c not in ("id", "hash", "arrival")])
@pytest.mark.parametrize("entry", range(ENTRIES))
def test_a_change_with_its_hash_put_right_is_found(tamper, entry, column):
    """Even where whoever did it knows how the hash is made, and seals the file's order again."""
    rows = tamper.rows()
    rows[entry][column] = otherwise(rows[entry], column)
    rows[entry] = rehashed(rows[entry])
    tamper.write(sealed(rows))
    assert tamper.findings()


@pytest.mark.parametrize("seal", [list, sealed])
@pytest.mark.parametrize("entry", range(ENTRIES))
def test_any_entry_deleted_is_found(tamper, entry, seal):
    rows = tamper.rows()
    gone = rows.pop(entry)
    tamper.write(seal(rows))
    named = f"teardown {gone['teardown']}, device {gone['device']}"
    assert any(finding.where.startswith(named) for finding in tamper.findings())


def test_all_entries_of_a_teardown_deleted_is_found(tamper):
    tamper.write(sealed([row for row in tamper.rows() if row["teardown"] != "job-2"]))
    assert ("teardown job-2, device phone-a", "its 4 entries are gone") in tamper.findings()


@pytest.mark.parametrize(("one", "other"), list(combinations(range(ENTRIES), 2)))
def test_any_two_entries_swapped_are_found(tamper, one, other):
    """The two change places in the file, contents and all."""
    rows = tamper.rows()
    rows[one]["id"], rows[other]["id"] = rows[other]["id"], rows[one]["id"]
    tamper.write(rows)
    assert tamper.findings()


@pytest.mark.parametrize("column", ["at", "who", "body", "kind", "prev", "hash"])
@pytest.mark.parametrize("entry", range(ENTRIES - 1))
def test_a_value_swapped_with_the_next_entrys_is_found(tamper, entry, column):
    rows = tamper.rows()
    one, other = rows[entry], rows[entry + 1]
    if one[column] == other[column]:
        other = next(row for row in rows if row[column] != one[column])
    one[column], other[column] = other[column], one[column]
    tamper.write(rows)
    assert tamper.findings()


@pytest.mark.parametrize("seal", [list, sealed])
@pytest.mark.parametrize("place", range(ENTRIES + 1))
def test_an_entry_inserted_anywhere_is_found(tamper, place, seal):
    """Made up well: it links to the entry before it in its chain, and its hash is right."""
    rows = tamper.rows()
    if place:
        model = rows[place - 1]
        extra = {**model, "seq": model["seq"] + 1, "tick": model["tick"] + 1, "prev": model["hash"]}
    else:
        extra = dict(rows[0])
    for row in rows[place:]:
        row["id"] += 1
        if (row["teardown"], row["device"]) == (extra["teardown"], extra["device"]):
            row["seq"] += 1
    extra = rehashed(extra)
    tamper.write(seal([*rows[:place], {**extra, "id": place + 1}, *rows[place:]]))
    assert tamper.findings()


@pytest.mark.parametrize("kind", ["work done", "counted"])
@pytest.mark.parametrize(("teardown", "device"), [("job-1", "phone-a"), ("job-2", "phone-z"), ("job-9", "phone-a")])
def test_a_well_made_entry_at_the_tail_is_found(tamper, teardown, device, kind):
    """With its hash, its link, its tick and the file's order all in place, on an old chain or a new one."""
    rows = tamper.rows()
    chain = [r for r in rows if (r["teardown"], r["device"]) == (teardown, device)]
    ticks = [r["tick"] for r in rows if r["teardown"] == teardown]
    body = next(r["body"] for r in rows if r["kind"] == "work done") if kind == "work done" else '{"moves":[]}'
    extra = {
        **rows[-1],
        "teardown": teardown,
        "device": device,
        "seq": len(chain) + 1,
        "tick": max(ticks, default=0) + 1,
        "kind": kind,
        "body": body,
        "prev": chain[-1]["hash"] if chain else NOTHING_BEFORE,
        "seen": chain[-1]["seen"] if chain else "{}",
    }
    tamper.write(sealed([*rows, rehashed(extra)]))
    assert tamper.findings()


@given(
    entry=st.integers(0, ENTRIES - 1),
    column=st.sampled_from(COLUMNS[1:]),
    value=st.text(st.characters(exclude_categories=["Cs"])) | st.integers(-(2**63), 2**63 - 1) | st.binary(),
)
@settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_whatever_is_put_in_place_of_a_value_is_found(two_phones, tmp_path, entry, column, value):
    tamper = Tamper(two_phones, tmp_path)
    before = tamper.rows()
    conn = tamper.conn
    with contextlib.suppress(sqlite3.IntegrityError):  # the file itself may refuse it
        conn.execute(f"UPDATE event SET {column} = ? WHERE id = ?", (value, entry + 1))
    changed = tamper.rows() != before
    assert bool(tamper.findings()) == changed


@pytest.mark.parametrize(
    ("deed", "where"),
    [
        ("UPDATE head SET seq = seq - 1 WHERE device = 'phone-b'", "teardown job-1, device phone-b"),
        ("UPDATE head SET tick = tick + 1 WHERE teardown = 'job-2'", "teardown job-2, device phone-a"),
        ("DELETE FROM head WHERE device = 'phone-b'", "teardown job-1, device phone-b"),
        ("INSERT INTO head VALUES ('job-1', 'phone-c', 1, 1, 'x')", "teardown job-1, device phone-c"),
        ("UPDATE balance SET quantity = quantity + 1 WHERE teardown = 'job-1' AND line = 'rag'", "teardown job-1"),
        ("DELETE FROM balance WHERE teardown = 'job-2'", "teardown job-2"),
        ("INSERT INTO balance VALUES ('job-9', 'rag', 'stores', 1)", "teardown job-9"),
        ("UPDATE closure_state SET stage = 'signed'", "teardown job-1, closure housing"),
        ("UPDATE closure_state SET who = 'nobody' WHERE teardown = 'job-2'", "teardown job-2, closure housing"),
        ("DELETE FROM closure_state WHERE teardown = 'job-1'", "teardown job-1, closure housing"),
        ("UPDATE teardown_card SET missing = 1 WHERE teardown = 'job-1'", "card of teardown job-1"),
        ("UPDATE teardown_card SET state = 'closed' WHERE teardown = 'job-2'", "card of teardown job-2"),
        ("UPDATE teardown_card SET machine = 'dredger' WHERE teardown = 'job-2'", "card of teardown job-2"),
        ("UPDATE teardown_card SET last_at = started WHERE teardown = 'job-1'", "card of teardown job-1"),
        ("UPDATE teardown_card SET teardown = 'job-9' WHERE teardown = 'job-2'", "teardown job-9"),
        ("DELETE FROM device", "this phone"),
        ("DROP TRIGGER event_never_deleted", "the schema"),
        ("DROP VIEW tally", "the schema"),
        ("CREATE TABLE notes (x)", "the schema"),
        ("ALTER TABLE event ADD COLUMN note TEXT", "the schema"),
        ("CREATE TRIGGER helper AFTER INSERT ON event BEGIN DELETE FROM head; END", "the schema"),
    ],
)
def test_a_change_beside_the_entries_is_found(tamper, deed, where):
    tamper.findings()
    conn = sqlite3.connect(tamper.path)
    with conn:
        conn.execute(deed)
    conn.close()
    assert where in [finding.where for finding in prove(tamper.path)]


def test_the_finding_names_the_entry_and_says_what_is_wrong(tamper):
    rows = tamper.rows()
    rows[4]["who"] = "nobody"
    tamper.write(rows)
    assert tamper.findings() == [
        ("teardown job-1, device phone-a, entry 5", "its content is not what its hash was made from; it was changed")
    ]
