"""Packs, backups and exports on the command line: what is told, and the exit code."""

import json
from pathlib import Path

import pytest

from mobileapp.cli import main
from mobileapp.journal import open_journal, prove


@pytest.fixture
def packed(played, tmp_path, capsys) -> Path:
    """That story as a pack."""
    target = tmp_path / "crane.zip"
    assert main(["pack", str(played), "--to", str(target)]) == 0
    assert f"{target}: 1 teardown," in capsys.readouterr().out
    return target


def test_a_pack_goes_into_another_journal(packed, tmp_path, capsys):
    other = tmp_path / "other" / "journal.sqlite"
    assert main(["unpack", str(packed), "--into", str(other)]) == 0
    assert "new entries (new)" in capsys.readouterr().out
    assert prove(other) == []
    assert main(["unpack", str(packed), "--into", str(other)]) == 0
    assert "crane: 0 new entries (known already)" in capsys.readouterr().out


def test_looking_takes_nothing_in(packed, tmp_path, capsys, monkeypatch):
    monkeypatch.setenv("COUNTBACK_HOME", str(tmp_path / "home"))
    assert main(["unpack", str(packed), "--look"]) == 0
    assert "verified, nothing is wrong" in capsys.readouterr().out
    assert not (tmp_path / "home").exists()


def test_a_pack_is_named_after_its_teardown(played, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    assert main(["pack", str(played)]) == 0
    assert (tmp_path / "crane.countback.zip").is_file()


def test_what_is_refused_is_told_in_one_sentence(packed, played, tmp_path, capsys):
    packed.write_bytes(packed.read_bytes()[:500])
    for words in (["unpack", str(packed), "--into", str(played)], ["unpack", str(packed), "--look"]):
        assert main(words) == 1
        assert "countback: crane.zip is damaged or was altered" in capsys.readouterr().err
    assert main(["pack", str(played), "--to", str(packed)]) == 2
    assert "There is a file crane.zip already" in capsys.readouterr().err
    assert main(["pack", str(played), "--to", str(packed), "--replace"]) == 0
    assert main(["pack", str(tmp_path / "nowhere.sqlite")]) == 2
    assert main(["pack", str(played), "--teardown", "ship"]) == 2
    assert "It holds: crane" in capsys.readouterr().err


def test_backup_and_restore(played, tmp_path, capsys):
    backup, other = tmp_path / "all.zip", tmp_path / "other" / "journal.sqlite"
    assert main(["backup", str(backup), "--journal", str(played)]) == 0
    assert main(["restore", str(backup), "--into", str(other)]) == 0
    assert "crane" in capsys.readouterr().out
    with open_journal(other) as restored, open_journal(played) as first:
        assert restored.rows("crane") == first.rows("crane")
    assert prove(other) == []


def test_a_backup_says_what_the_camera_brought_for_nobody(played, tmp_path, capsys):
    left = played.parent / "awaited-photos"
    left.mkdir()
    (left / "a1.jpg").write_bytes(b"half a photo")
    backup, other = tmp_path / "all.zip", tmp_path / "other" / "journal.sqlite"
    said = "1 of these photos was brought by the camera, and nobody came back for it: the app offers it.\n"
    for words in (["backup", str(backup), "--journal", str(played)], ["unpack", str(backup), "--look"],
                  ["restore", str(backup), "--into", str(other)]):  # fmt: skip
        assert main(words) == 0
        assert said in capsys.readouterr().out
    assert (other.parent / "awaited-photos" / "a1.jpg").read_bytes() == b"half a photo"


def test_export(played, tmp_path, capsys):
    assert main(["export", str(played), "--folder", str(tmp_path / "out")]) == 0
    assert capsys.readouterr().out.count("\n") == 3
    assert json.loads((tmp_path / "out" / "crane.json").read_text(encoding="utf-8"))["teardown"] == "crane"
    assert main(["export", str(played), "--folder", str(tmp_path / "one"), "--csv"]) == 0
    assert sorted(path.name for path in (tmp_path / "one").iterdir()) == ["crane-log.csv", "crane-tally.csv"]


def test_an_export_is_not_written_over_another_unasked(played, tmp_path, capsys):
    out = tmp_path / "out"
    assert main(["export", str(played), "--folder", str(out), "--csv"]) == 0
    (out / "crane-tally.csv").write_text("mine", encoding="utf-8")
    capsys.readouterr()
    assert main(["export", str(played), "--folder", str(out)]) == 2
    assert "is there already: nothing was written. Name another folder, or say --replace." in capsys.readouterr().err
    assert (out / "crane-tally.csv").read_text(encoding="utf-8") == "mine"
    assert not (out / "crane.json").exists()
    assert main(["export", str(played), "--folder", str(out), "--replace"]) == 0
    assert (out / "crane-tally.csv").read_text(encoding="utf-8") != "mine"


def test_one_phone_and_one_teardown_are_said_as_one(played, tmp_path, capsys):
    made = tmp_path / "all.zip"
    assert main(["backup", str(made), "--journal", str(played)]) == 0
    assert "1 teardown, " in capsys.readouterr().out
    assert main(["unpack", str(made), "--look"]) == 0
    assert " of 1 phone\n" in capsys.readouterr().out
