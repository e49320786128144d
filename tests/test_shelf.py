"""Taking a sheet from the shelf or from a file, and what is said when that cannot be done."""

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

import checklists
import mobileapp.shelf
import mobileapp.text_file
from checklists.sheet_fault import COUNTED
from mobileapp.shelf import MOST_BYTES, SheetFault, load_sheet, shipped_sheets

ROCKER = shipped_sheets()["rocker-cover"]


def refusal(name_or_path: str | Path) -> str:
    with pytest.raises(SheetFault) as caught:
        load_sheet(name_or_path)
    assert caught.value.faults
    assert {fault.source for fault in caught.value.faults} == {str(name_or_path)}
    return str(caught.value)


def test_a_shipped_sheet_is_taken_by_its_short_name():
    assert load_sheet("rocker-cover").name == "Rocker cover off"


def test_a_sheet_of_ones_own_is_taken_by_its_path(tmp_path: Path):
    own = tmp_path / "cover of mine.toml"
    own.write_bytes(ROCKER.read_bytes())
    assert load_sheet(own) == load_sheet(str(own)) == load_sheet("rocker-cover")


def test_a_sheet_saved_on_another_system_is_read_all_the_same(tmp_path: Path):
    own = tmp_path / "rocker.toml"
    own.write_bytes(b"\xef\xbb\xbf" + ROCKER.read_bytes().replace(b"\n", b"\r\n"))
    assert load_sheet(own) == load_sheet("rocker-cover")


def test_a_spoilt_sheet_is_refused_with_every_fault(tmp_path: Path):
    own = tmp_path / "rocker.toml"
    own.write_text(ROCKER.read_text("utf-8").replace("quantity = 8", "quantity = 0"), "utf-8")
    assert refusal(own) == (
        f"{own}: 2 faults to put right before it can be used. {COUNTED}\n"
        "  closure[2].fastener[1].quantity: 0 is too few; the least is 1\n"
        "  closure[2].fastener[2].quantity: 0 is too few; the least is 1"
    )


def test_a_misspelt_name_gets_the_near_miss():
    told = refusal("rocker-covr")
    assert "there is no such file" in told
    assert "did you mean 'rocker-cover'?" in told


def test_a_file_that_is_not_there(tmp_path: Path):
    told = refusal(tmp_path / "none.toml")
    assert "there is no such file; check its spelling, or use a shipped sheet: 'inlet-manifold-inline-four'" in told


def test_a_file_taken_for_a_folder():
    assert "there is no such file" in refusal(ROCKER / "none.toml")


def test_a_folder_names_the_sheets_in_it(tmp_path: Path):
    assert "this is a folder, not a sheet; name a file that ends in .toml" in refusal(tmp_path)
    assert "name one of its files: " in refusal(ROCKER.parent)
    assert "rocker-cover.toml" in refusal(ROCKER.parent)


def test_a_file_that_is_not_utf_8(tmp_path: Path):
    own = tmp_path / "old.toml"
    own.write_bytes('name = "Kühlwasser"'.encode("latin-1"))
    assert "this file is not UTF-8 text (byte 10); save it as UTF-8" in refusal(own)


def test_a_film_is_no_sheet(tmp_path: Path):
    own = tmp_path / "film.toml"
    own.write_bytes(b"#" * (MOST_BYTES + 1))
    assert f"larger than {MOST_BYTES} bytes" in refusal(own)
    own.write_bytes(b"#" * MOST_BYTES)
    assert "name: this key is missing" in refusal(own)


@pytest.mark.skipif(not hasattr(os, "geteuid") or os.geteuid() == 0, reason="root may read everything")
def test_a_file_that_may_not_be_read(tmp_path: Path):
    own = tmp_path / "locked.toml"
    own.touch(mode=0o000)
    assert "may not be read" in refusal(own)


@pytest.mark.skipif(not Path("/proc/self/mem").exists(), reason="needs a file whose reading fails")
def test_a_disk_that_gives_an_error():
    assert "this file cannot be read (Input/output error)" in refusal("/proc/self/mem")


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="needs named pipes")
def test_a_pipe_does_not_keep_the_fitter_waiting(tmp_path: Path):
    os.mkfifo(tmp_path / "pipe")
    assert "this is a device or a pipe" in refusal(tmp_path / "pipe")


@pytest.mark.parametrize("name", ["", "a\0b", "x" * 5000])
def test_a_name_no_file_can_have(name: str):
    assert refusal(name)


def test_links_that_lead_round_in_a_ring(tmp_path: Path):
    (tmp_path / "a.toml").symlink_to(tmp_path / "b.toml")
    (tmp_path / "b.toml").symlink_to(tmp_path / "a.toml")
    assert "cannot be read" in refusal(tmp_path / "a.toml")


def test_the_sheets_are_found_wherever_the_packages_are_installed(tmp_path: Path):
    """As from a wheel: the packages elsewhere, the working folder elsewhere, nothing of the repository in reach."""
    site, elsewhere = tmp_path / "site", tmp_path / "elsewhere"
    elsewhere.mkdir()
    unwanted = shutil.ignore_patterns("__pycache__")
    shutil.copytree(Path(checklists.__file__).parent, site / "checklists", ignore=unwanted)
    (site / "mobileapp").mkdir()
    (site / "mobileapp" / "__init__.py").touch()
    for module in (mobileapp.shelf, mobileapp.text_file):
        shutil.copy(module.__file__, site / "mobileapp")
    tell = "from mobileapp.shelf import *; print([p for n, p in shipped_sheets().items() if load_sheet(n)][0])"
    done = subprocess.run(
        [sys.executable, "-c", tell],
        cwd=elsewhere, env={**os.environ, "PYTHONPATH": str(site)}, capture_output=True, text=True, check=True,
    )  # fmt: skip
    assert Path(done.stdout.strip()) == site / "checklists" / "sheets" / "inlet-manifold-inline-four.toml"
